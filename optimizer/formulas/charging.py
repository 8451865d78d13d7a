"""Getting the charge back: charger current, refill time, the day of scheduled cuts, voltages."""

from __future__ import annotations

import math
from dataclasses import dataclass

from optimizer.formulas.tolerance import at_least


@dataclass(frozen=True, slots=True)
class VoltageRange:
    """Lowest and highest usual charging voltage [V]."""

    low_v: float
    high_v: float


@dataclass(frozen=True, slots=True)
class _Cell:
    nominal_v: float
    absorption: tuple[float, float]
    float_: tuple[float, float]


#: Charging voltages of one cell at 20–25 °C [V] (from memory; the maker's sheet prevails).
_CELLS = {
    "flooded": _Cell(2.0, (2.40, 2.45), (2.23, 2.27)),
    "tubular": _Cell(2.0, (2.40, 2.45), (2.23, 2.27)),
    "agm": _Cell(2.0, (2.40, 2.40), (2.25, 2.30)),
    "gel": _Cell(2.0, (2.35, 2.40), (2.25, 2.30)),
    "lfp": _Cell(3.2, (3.45, 3.60), (3.35, 3.40)),
}


def cells_in_series(chemistry: str, voltage_v: float) -> int | None:
    """Return how many cells make a nominal voltage, None for a chemistry that is not known.

    Parameters
    ----------
    chemistry : str
        One of the shipped chemistries.
    voltage_v : float
        Nominal voltage of a unit or of a whole string [V].

    Examples
    --------
    >>> cells_in_series("agm", 12), cells_in_series("lfp", 51.2), cells_in_series("zinc", 12)
    (6, 16, None)
    """
    cell = _CELLS.get(chemistry)
    return None if cell is None else round(voltage_v / cell.nominal_v)


def charging_voltages(chemistry: str, voltage_v: float) -> tuple[VoltageRange, VoltageRange] | None:
    """Return the usual absorption and float voltages of a unit or string, None if not known.

    Parameters
    ----------
    chemistry : str
        One of the shipped chemistries.
    voltage_v : float
        Nominal voltage [V].

    Returns
    -------
    tuple of VoltageRange or None
        Absorption and float at 20–25 °C [V]. Lithium iron phosphate may also stand without
        float.

    Notes
    -----
    Source: from memory of makers' sheets; the sheet of the battery bought prevails.

    Examples
    --------
    >>> charging_voltages("gel", 12)[0]
    VoltageRange(low_v=14.1, high_v=14.4)
    """
    cells = cells_in_series(chemistry, voltage_v)
    if cells is None:
        return None
    cell = _CELLS[chemistry]
    absorption, floating = (
        VoltageRange(*(round(cells * volts, 6) for volts in span))
        for span in (cell.absorption, cell.float_)
    )
    return absorption, floating


def charger_current_a(
    charge_ah: float, hours: float, charge_factor: float = 1.1, load_a: float = 0.0
) -> float:
    """Return the charger current that puts a charge back in a time, loads carried meanwhile [A].

    Parameters
    ----------
    charge_ah : float
        Charge taken from the bank [Ah].
    hours : float
        Time to refill [h], > 0.
    charge_factor : float
        Charge put in for each charge taken out, ≥ 1.
    load_a : float
        Direct current that flows to loads at the same time [A].

    Notes
    -----
    A = L + k · Q / T. Source: IEEE Std 946 (from memory), k = 1.1 there.

    Examples
    --------
    >>> round(charger_current_a(200, 10, load_a=10), 6)
    32.0
    """
    return load_a + charge_factor * charge_ah / hours


def refill_hours(
    charge_ah: float, current_a: float, charge_factor: float, load_a: float = 0.0
) -> float:
    """Return the time in which a charger puts a charge back [h], infinite where it never does.

    Parameters
    ----------
    charge_ah : float
        Charge taken from the bank [Ah].
    current_a : float
        Charger current [A].
    charge_factor : float
        Charge put in for each charge taken out, ≥ 1.
    load_a : float
        Direct current that flows to loads at the same time [A].

    Examples
    --------
    >>> round(refill_hours(80, 0.675, 1.2)), refill_hours(80, 5, 1.2, load_a=6)
    (142, inf)
    """
    spare_a = current_a - load_a
    if charge_ah == 0:
        return 0.0
    return charge_factor * charge_ah / spare_a if spare_a > 0 else math.inf


@dataclass(frozen=True, slots=True)
class DayBalance:
    """What scheduled cuts take in a day and what has to come back between them.

    ``drawn_wh`` from the bank and ``back_wh`` into it [Wh], ``power_w`` over the hours with grid
    [W], ``needed_a`` at the charging voltage and ``missing_a`` of it [A].
    """

    drawn_wh: float
    back_wh: float
    power_w: float
    needed_a: float
    missing_a: float

    @property
    def closes(self) -> bool:
        """Whether the day's charge comes back within the day."""
        return self.missing_a == 0


def day_balance(
    drawn_wh: float, round_trip: float, hours_on: float, charging_v: float, charger_a: float
) -> DayBalance:
    """Balance the energy of a day with scheduled cuts.

    Parameters
    ----------
    drawn_wh : float
        Energy the cuts take from the bank in a day [Wh].
    round_trip : float
        Energy efficiency of charging and discharging, (0, 1].
    hours_on : float
        Hours of the day with grid [h]; with none, nothing comes back.
    charging_v : float
        Mean voltage while charging [V].
    charger_a : float
        What the charger gives [A].

    Examples
    --------
    >>> day = day_balance(4000, 0.8, 12, 14, 15)
    >>> round(day.power_w), round(day.needed_a, 1), round(day.missing_a, 1), day.closes
    (417, 29.8, 14.8, False)
    """
    back_wh = drawn_wh / round_trip
    if back_wh == 0:
        return DayBalance(drawn_wh, 0.0, 0.0, 0.0, 0.0)
    power_w = back_wh / hours_on if hours_on > 0 else math.inf
    needed_a = power_w / charging_v
    missing_a = 0.0 if at_least(charger_a, needed_a) else needed_a - charger_a
    return DayBalance(drawn_wh, back_wh, power_w, needed_a, missing_a)
