"""How two quantities are compared: in favour of the design, within a relative 1e-9."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

#: Relative tolerance of every "provided ≥ required": rounding must not refuse a design that
#: meets a requirement exactly.
RELATIVE_TOLERANCE = 1e-9


def at_least(
    provided: float | NDArray[np.float64], required: float | NDArray[np.float64]
) -> bool | NDArray[np.bool_]:
    """Tell whether ``provided`` reaches ``required``, both of one unit and not negative.

    >>> at_least(1.0 - 1e-12, 1.0), at_least(0.999, 1.0)
    (True, False)
    """
    return provided >= required * (1 - RELATIVE_TOLERANCE)


def whole_years(years: float) -> int:
    """Return the whole years in ``years`` [a], a hair below a whole number counted as whole.

    >>> whole_years(7.999999999999), whole_years(7.99)
    (8, 7)

    Returns
    -------
    int in [0, 200]
    """
    return math.floor(years * (1 + RELATIVE_TOLERANCE))
