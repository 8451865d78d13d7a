"""Arrays of numbers by what they hold."""

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
#: Places in another array.
Rows = NDArray[np.intp]
#: One number, or an array of them.
Quantity = TypeVar("Quantity", float, Floats)
