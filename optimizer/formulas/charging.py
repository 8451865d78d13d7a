"""Getting the charge back: charger current, refill time, charging voltages, float."""

import math
from typing import NamedTuple

import numpy as np

from optimizer.formulas.inverter import LOWEST_VOLTAGE_SHARE
from optimizer.model.arrays import Floats, Quantity
from optimizer.model.job import Gas

#: Nominal voltage of a cell of lead-acid [V]; what else gives off gas is counted in such cells.
LEAD_CELL_V = 2.0
#: Lowest and highest.
Range = tuple[float, float]


class _Cell(NamedTuple):
    nominal_v: float
    absorption: Range
    float_: Range
    empty_v: float
    rise_v: float
    most_v: float


#: Charging voltages of one cell at 20–25 °C [V]; then its voltage under load when all is drawn,
#: what that rises by for each share of the capacity left, and where the rise ends [V]. All from
#: memory; the maker's sheet prevails.
_LEAD = 1.75, 0.38, 1.94
_CELLS = {
    "flooded": _Cell(LEAD_CELL_V, (2.40, 2.45), (2.23, 2.27), *_LEAD),
    "tubular": _Cell(LEAD_CELL_V, (2.40, 2.45), (2.23, 2.27), *_LEAD),
    "agm": _Cell(LEAD_CELL_V, (2.40, 2.40), (2.25, 2.30), *_LEAD),
    "gel": _Cell(LEAD_CELL_V, (2.35, 2.40), (2.25, 2.30), *_LEAD),
    "lfp": _Cell(3.2, (3.45, 3.60), (3.35, 3.40), 2.80, 1.00, 3.10),
}

#: What charging voltages of lead-acid fall by for each degree above 25 °C [mV a cell]. Common
#: practice; the maker's sheet prevails.
COMPENSATION_MV: Range = (3.0, 5.0)
#: An equalising charge [V a cell]: only vented lead-acid has one, unless its maker asks for it.
#: From memory of makers' sheets, which prevail.
EQUALISING_V: Range = (2.50, 2.60)
#: Current at which a bank counts as full, at the absorption voltage [A/Ah]. Common practice; the
#: maker's sheet prevails.
TAIL_CURRENT_SHARES: dict[Gas, Range] = {
    "vented": (0.01, 0.02),
    "valve_regulated": (0.01, 0.02),
    "none": (0.02, 0.05),
}

#: Time in which a bank at its absorption voltage would be full if its current did not fall [h]:
#: lead-acid by the ampere-hour law (as many amperes as ampere-hours are missing), others about a
#: tenth of that. What is missing when it counts as full. All from memory.
ACCEPTS_WITHIN_H = {True: 1.0, False: 0.1}
COUNTS_AS_FULL = 0.01
_LONGEST_REFILL_H = 1e6  # what would take over a hundred years is never full


def cells_in_series(chemistry: str, voltage_v: float) -> int | None:
    """Return how many cells make a nominal voltage, None for a chemistry that is not known.

    Parameters
    ----------
    chemistry : str
        One of the shipped chemistries.
    voltage_v : float
        Nominal voltage of a unit or of a whole string [V].

    Returns
    -------
    int in [0, 20000], or None

    Examples
    --------
    >>> cells_in_series("agm", 12), cells_in_series("lfp", 51.2), cells_in_series("zinc", 12)
    (6, 16, None)
    """
    cell = _CELLS.get(chemistry)
    return None if cell is None else round(voltage_v / cell.nominal_v)


def charging_voltages(chemistry: str, voltage_v: float) -> tuple[Range, Range] | None:
    """Return the usual absorption and float voltages of a unit or string, None if not known.

    Parameters
    ----------
    chemistry : str
        One of the shipped chemistries.
    voltage_v : float
        Nominal voltage [V].

    Returns
    -------
    tuple of (float, float) in [0, 49000], or None
        Absorption and float at 20–25 °C [V]. Lithium iron phosphate may also stand without
        float.

    Notes
    -----
    Source: from memory of makers' sheets; the sheet of the battery bought prevails.

    Examples
    --------
    >>> charging_voltages("gel", 12)[0]
    (14.1, 14.4)
    """
    cells = cells_in_series(chemistry, voltage_v)
    if cells is None:
        return None
    cell = _CELLS[chemistry]
    return of_cells(cell.absorption, cells), of_cells(cell.float_, cells)


def cut_off_v(chemistry: str, voltage_v: float, max_dod: float) -> float | None:
    """Return the voltage under load at which a bank is cut off, None if not known [V].

    Parameters
    ----------
    chemistry : str
        One of the shipped chemistries.
    voltage_v : float
        Nominal voltage of a string [V].
    max_dod : float
        Depth of discharge at which it is to be cut off, (0, 1].

    Returns
    -------
    float in [0, 39000], or None
        A straight line in what is left, held up to the lowest voltage for which currents are
        reckoned. Voltage tells the charge roughly only. Source: from memory of makers' sheets,
        which prevail.

    Examples
    --------
    >>> cut_off_v("agm", 12, 0.5), cut_off_v("lfp", 51.2, 0.8), cut_off_v("agm", 12, 1.0)
    (11.6, 48.0, 10.8)
    """
    cells = cells_in_series(chemistry, voltage_v)
    if cells is None:
        return None
    cell = _CELLS[chemistry]
    under_load_v = min(cell.most_v, cell.empty_v + cell.rise_v * (1 - max_dod))
    return round(max(cells * under_load_v, LOWEST_VOLTAGE_SHARE * voltage_v), 1)


def of_cells(per_cell: Range, cells: int) -> Range:
    """Return a range for one cell as that of so many in series, in its unit.

    Parameters
    ----------
    per_cell : tuple of float
        Lowest and highest for one cell.
    cells : int
        In series.

    Returns
    -------
    tuple of float in [0, 100000]

    Examples
    --------
    >>> of_cells(EQUALISING_V, 12), of_cells(COMPENSATION_MV, 12)
    ((30.0, 31.2), (36.0, 60.0))
    """
    low, high = per_cell
    return round(cells * low, 6), round(cells * high, 6)


def last_part_hours(
    capacity_ah: float, current_a: float, charge_factor: float, *, gassing: bool
) -> tuple[float, float]:
    """Return what a bank takes at a falling current: share of its capacity, and time [h].

    Parameters
    ----------
    capacity_ah : float
        Of all strings together [Ah].
    current_a : float
        Charger current [A].
    charge_factor : float
        Charge put in for each charge taken out, ≥ 1.
    gassing : bool
        Whether it is lead-acid, or another kind that gasses.

    Returns
    -------
    float in [0, 1], float in [0, 9.3]
        A bank takes I = missing charge / τ at most; where that falls below the charger's current
        the rest goes in as missing · exp(−t / τ), the charge factor counted in. Source: the
        ampere-hour law for lead-acid, from memory.

    Examples
    --------
    >>> share, hours = last_part_hours(100, 10, 1.15, gassing=True)
    >>> round(share, 6), round(hours, 1)
    (0.1, 2.6)
    """
    accepts_h = ACCEPTS_WITHIN_H[gassing]
    share = min(1.0, current_a / capacity_ah * accepts_h)
    if share <= COUNTS_AS_FULL:  # so weak a charger is never held back
        return 0.0, 0.0
    return share, charge_factor * accepts_h * math.log(share / COUNTS_AS_FULL)


def charger_current_a(
    charge_ah: Quantity, hours: float, charge_factor: Quantity, load_a: float = 0.0
) -> Quantity:
    """Return the charger current that puts a charge back in a time, loads carried meanwhile [A].

    Parameters
    ----------
    charge_ah : float or ndarray
        Charge taken from the bank [Ah]; as a share of its capacity it gives a rate [1/h].
    hours : float
        Time to refill [h], > 0.
    charge_factor : float or ndarray
        Charge put in for each charge taken out, ≥ 1.
    load_a : float
        Direct current that flows to loads at the same time [A].

    Returns
    -------
    float or ndarray in [0, 1e7]
        A = L + k · Q / T. Source: IEEE Std 946 (from memory), k = 1.1 there.

    Examples
    --------
    >>> round(charger_current_a(200, 10, 1.1, load_a=10), 6)
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

    Returns
    -------
    float in [0, 1e6], or infinite

    Examples
    --------
    >>> round(refill_hours(80, 0.675, 1.2)), refill_hours(80, 5, 1.2, load_a=6)
    (142, inf)
    """
    spare_a = current_a - load_a
    if charge_ah == 0:
        return 0.0
    hours = charge_factor * charge_ah / spare_a if spare_a > 0 else math.inf
    return hours if hours <= _LONGEST_REFILL_H else math.inf


def charge_back_ah(
    charge_ah: float | Floats,
    charge_factor: float | Floats,
    string_v: float | Floats,
    charging_v: float | Floats,
    round_trip: float | Floats,
) -> Floats:
    """Return the charge that a charger must give to make good a discharge [Ah].

    Parameters
    ----------
    charge_ah : float or ndarray
        Charge taken from the bank [Ah].
    charge_factor : float or ndarray
        Charge put in for each charge taken out, ≥ 1.
    string_v, charging_v : float or ndarray
        Nominal voltage of a string, and its voltage while it is charged [V].
    round_trip : float or ndarray
        Energy efficiency, the charger included, (0, 1].

    Returns
    -------
    ndarray in [0, 1e30]
        The larger of what the charge asks for and what the energy asks for (arithmetic).

    Examples
    --------
    >>> charge_back_ah(100, 1.15, 12, 14, 0.7).round(1).item()
    122.4
    """
    by_energy = np.asarray(charge_ah) * string_v / round_trip / charging_v
    return np.maximum(np.asarray(charge_factor) * charge_ah, by_energy)


def float_wh_per_year(
    capacity_ah: float | Floats,
    float_ma_ah: float | Floats,
    float_v: float | Floats,
) -> Floats:
    """Return the energy that holds a bank on float for a year [Wh].

    Parameters
    ----------
    capacity_ah : float or ndarray
        Of all strings together [Ah].
    float_ma_ah : float or ndarray
        Current on float for each ampere-hour [mA/Ah]; it makes good self-discharge too.
    float_v : float or ndarray
        Voltage of a string on float [V].

    Returns
    -------
    ndarray in [0, 1e14]
        IEC 62485-2 reckons with 1 mA per Ah for lead.

    Examples
    --------
    >>> float_wh_per_year(100, 1.0, 13.5).round().item()
    11826.0
    """
    return np.asarray(capacity_ah) * float_ma_ah / 1000 * float_v * 8760
