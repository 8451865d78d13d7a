"""The worksheet by which lead-acid banks are sized by hand: a rough answer beside the program's.

Factors multiply (depth, cold, ageing, margin), so the sheet shows at a glance what each adds;
the program knows the rate, the year and the load's shape, which the sheet does not.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

#: Electrolyte temperature [°C] and capacity factor for lead-acid, 25 °C base (IEEE Std 485,
#: table 1, from memory; the rows at 4.4, 10 and 15.6 °C agree with a published worksheet).
COLD_FACTORS = (
    (-3.9, 1.52),
    (-1.1, 1.43),
    (1.7, 1.35),
    (4.4, 1.30),
    (7.2, 1.25),
    (10.0, 1.19),
    (12.8, 1.15),
    (15.6, 1.11),
    (18.3, 1.08),
    (21.1, 1.04),
    (25.0, 1.00),
)


def cold_factor(temperature_degc: float) -> float:
    """Return by how much more lead-acid capacity the cold asks for.

    Parameters
    ----------
    temperature_degc : float
        Lowest electrolyte temperature [°C], ≥ −3.9.

    Returns
    -------
    float
        ≥ 1; straight lines between the table's rows, no credit above 25 °C, not a number below
        the first row, where nothing is known.

    Notes
    -----
    Source: IEEE Std 485, table 1 (from memory).

    Examples
    --------
    >>> cold_factor(10), cold_factor(40)
    (1.19, 1.0)
    """
    degc = [row[0] for row in COLD_FACTORS]
    factors = [row[1] for row in COLD_FACTORS]
    return float(np.interp(temperature_degc, degc, factors, left=math.nan))


def ageing_factor(end_of_life_soh: float) -> float:
    """Return by how much larger a new bank must be to do its work at the end of its life.

    Parameters
    ----------
    end_of_life_soh : float
        State of health at which it is replaced, (0, 1].

    Notes
    -----
    Source: IEEE Std 485 and UFC 3-520-01, appendix E: 1.25 for 80 %.

    Examples
    --------
    >>> ageing_factor(0.8)
    1.25
    """
    return 1.0 / end_of_life_soh


def battery_power_w(apparent_va: float, power_factor: float, efficiency: float) -> float:
    """Return the power from the battery behind a load given in volt-amperes [W].

    Parameters
    ----------
    apparent_va : float
        Apparent power of the load [VA].
    power_factor : float
        Its power factor, (0, 1].
    efficiency : float
        Efficiency of the inverter, (0, 1].

    Examples
    --------
    >>> round(battery_power_w(7500, 0.8, 0.92))
    6522
    """
    return apparent_va * power_factor / efficiency


def charge_ah(energy_wh: float, efficiency: float, voltage_v: float) -> float:
    """Return the charge that an energy takes from the bank, rate effects left out [Ah].

    Parameters
    ----------
    energy_wh : float
        Energy delivered to the loads [Wh].
    efficiency : float
        From the bank to the loads, (0, 1].
    voltage_v : float
        Voltage of the bank [V].

    Examples
    --------
    >>> round(charge_ah(4800, 0.90, 48), 1)
    111.1
    """
    return energy_wh / efficiency / voltage_v


def worksheet_ah(
    charge_ah: float,
    *,
    max_dod: float = 1.0,
    cold: float = 1.0,
    ageing: float = 1.0,
    margin: float = 1.0,
) -> float:
    """Return the rated capacity that a worksheet asks for [Ah].

    Parameters
    ----------
    charge_ah : float
        Charge to be drawn [Ah].
    max_dod : float
        Depth of discharge allowed, (0, 1].
    cold, ageing, margin : float
        Factors ≥ 1 that multiply.

    Notes
    -----
    Source: the order of IEEE Std 1013 (from memory).

    Examples
    --------
    >>> round(worksheet_ah(166.67, max_dod=0.5, cold=1.19), 1)
    396.7
    """
    return charge_ah / max_dod * cold * ageing * margin


def bank_layout(
    capacity_ah: float, voltage_v: float, unit_ah: float, unit_v: float
) -> tuple[int, int]:
    """Return units in series and strings in parallel that reach a capacity.

    Parameters
    ----------
    capacity_ah : float
        Capacity wanted [Ah].
    voltage_v : float
        Voltage of the bank [V].
    unit_ah, unit_v : float
        Capacity [Ah] and voltage [V] of one unit.

    Examples
    --------
    >>> bank_layout(396.7, 48, 100, 12)
    (4, 4)
    """
    # a hair above a whole number of strings is rounding, not a string more
    return round(voltage_v / unit_v), math.ceil(capacity_ah / unit_ah * (1 - 1e-9))


def section_sizes_ah(
    currents_a: Sequence[float],
    minutes: Sequence[float],
    hours_factor: Callable[[float], float],
) -> tuple[float, ...]:
    """Return the capacity that each section of a stepped load asks for [Ah].

    Parameters
    ----------
    currents_a : sequence of float
        Current of each period [A].
    minutes : sequence of float
        Length of each period [min].
    hours_factor : callable
        Takes a time [min]; returns the rated ampere-hours for each ampere drawn that long [h],
        from the maker's table.

    Returns
    -------
    tuple of float
        Section s ends with period s; the largest of all counts, and one may come before the
        last.

    Notes
    -----
    F_s = Σ (A_p − A_(p−1)) · K(time from the start of period p to the end of section s).
    Source: IEEE Std 485, clause 6 (E. A. Hoxie's method).

    Examples
    --------
    >>> section_sizes_ah([50, 20], [60, 240], {60: 1.67, 300: 5.95, 240: 5.00}.get)
    (83.5, 147.5)
    """
    steps_a = np.diff(currents_a, prepend=0.0).tolist()
    sizes = []
    for section in range(1, len(minutes) + 1):
        left = [sum(minutes[period:section]) for period in range(section)]
        sizes.append(
            sum(step * hours_factor(time) for step, time in zip(steps_a, left, strict=False))
        )
    return tuple(sizes)
