"""The values along a parameter that are looked at."""

import numpy as np

from optimizer.comparison.parameters import Parameter, Shape

#: Pieces of the grid along a parameter.
GRID_PIECES = 12
#: A range whose ends are further apart than this factor has a grid of equal ratios.
_WIDE = 10.0


def is_wide(parameter: Parameter) -> bool:
    """Tell whether equal ratios suit a range better than equal steps."""
    return parameter.low > 0 and parameter.high / parameter.low > _WIDE


def grid_values(parameter: Parameter) -> list[float]:
    """Return values from end to end of a range, the base among them; whole numbers all."""
    low, high = parameter.low, parameter.high
    if parameter.shape is Shape.WHOLE:
        return [float(n) for n in range(round(low), round(high) + 1)]
    spaced = np.geomspace if is_wide(parameter) else np.linspace
    return sorted({low, *spaced(low, high, GRID_PIECES + 1)[1:-1].tolist(), parameter.base, high})
