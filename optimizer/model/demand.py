"""What a site asks of any equipment."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class Demand:
    """What the site asks of any equipment.

    ``profiles`` [W] has one row a season and 24 columns; powers in W and VA.
    """

    profiles: NDArray[np.float64]
    peak_w: float
    peak_va: float
    surge_w: float
    mean_w: float
