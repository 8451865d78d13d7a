"""A number in a supplier's unit → the bare number of one of our columns."""

import re
from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache
from typing import Any, Final

from optimizer.formulas.rounding import exact
from optimizer.formulas.wiring import awg_section_mm2
from optimizer.inputs.cells import CellError
from optimizer.inputs.columns import Column, Kind
from optimizer.inputs.quantities import Quantity, in_column
from optimizer.inputs.units import AWG, UNITS
from optimizer.suppliers.vocabulary import unit_of

_FOOT_M: Final = 0.3048  # international foot, exact
#: Lengths that money and resistance are told for, by our column's name: what one is in ours.
_PER_LENGTH: Final = {
    "price_per_m": {
        "per m": 1.0,
        "per ft": 1 / _FOOT_M,
        "per 100 m": 0.01,
        "per 100 ft": 0.01 / _FOOT_M,
        "per km": 0.001,
    },
    "ohm_per_km": {
        "per km": 1.0,
        "per 1000 ft": 1 / _FOOT_M,
        "per m": 1000.0,
        "mΩ per m": 1.0,
        "mΩ per km": 0.001,
    },
}
#: How lists write them: an amount for a length, one or a hundred or a thousand of it.
_LENGTH: Final = re.compile(
    r"(?P<milli>m(?=Ω|Ω|ohm))?(?:[ΩΩ]|ohms?)?\s*(?:/|\bper\b|\bpro\b|\bpar\b|\bpor\b|\bal\b)\s*"
    r"(?P<many>1[.,]?000|100)?\s*(?P<unit>km|m|ft|foot|kft)\b",
    re.IGNORECASE,
)
#: Digits that a converted value keeps.
_DIGITS: Final = 6
_SHARES: Final = frozenset({Kind.SHARE, Kind.RATE, Kind.DEPTHS})


def units_for(column: Column) -> tuple[str, ...]:
    """Return the units to choose from for a column, its own first; none where it has none."""
    if column.kind in _SHARES:
        return ("1", "%")
    others = UNITS[column.unit].others if column.unit in UNITS else ()
    return tuple(_PER_LENGTH.get(column.name, ())) or (others and (column.unit, *others))


def per_length(text: str, column: Column) -> tuple[str | None, str]:
    """Return the length that a price or a resistance is told for, and the text without it.

    >>> from optimizer.inputs.columns import columns_of
    >>> from optimizer.inputs.rows import CableRow
    >>> cable = columns_of(CableRow)
    >>> per_length("0.0795 Ω/1000 ft", cable["ohm_per_km"])
    ('per 1000 ft', '0.0795 ')
    >>> per_length("Price per 100 m", cable["price_per_m"]), per_length("80 A", cable["ampacity_a"])
    (('per 100 m', 'Price'), (None, '80 A'))
    """
    found = _LENGTH.search(text) if column.name in _PER_LENGTH else None
    if found is None:
        return None, text
    unit = {"foot": "ft", "kft": "1000 ft"}.get(found["unit"].lower(), found["unit"])
    many = f"{found['many'].replace('.', '').replace(',', '')} " if found["many"] else ""
    milli = "mΩ " if found["milli"] else ""
    return f"{milli}per {many}{unit}", text[: found.start()] + text[found.end() :]


@lru_cache(maxsize=4096)  # words of a list may be anything, without end
def _factor(unit: str, column: Column) -> float | None:
    """Return what one of a unit is in a column's own, or None where it is of something else."""
    try:
        return _in_our_unit(1, unit, column, {"voltage_v": 1.0})
    except CellError:
        return None


def converts(unit: str, column: Column) -> bool:
    """Tell whether a unit can be turned into a column's own."""
    return _factor(unit, column) is not None


def in_our_unit(amount: Decimal, unit: str, column: Column, row: Mapping[str, Any]) -> Decimal:
    """Return an amount in a column's own unit; CellError for no unit, or one of something else.

    ``row`` holds bare numbers of its other columns: an energy becomes a charge by the voltage.
    """
    if unit == column.unit:
        return amount
    value = float(amount)
    is_straight = column.name != "capacity_ah" and column.unit != "°C" and unit != AWG
    factor = _factor(unit, column) if is_straight else None
    made = _in_our_unit(value, unit, column, row) if factor is None else value * factor
    return amount if made == value else exact(float(f"{made:.{_DIGITS}g}"))


def _in_our_unit(value: float, unit: str, column: Column, row: Mapping[str, Any]) -> float:
    lengths = _PER_LENGTH.get(column.name, {})
    if unit in lengths:
        return value * lengths[unit]
    if unit == AWG and column.unit == "mm²":
        return awg_section_mm2(f"{value:.0f}")
    if column.kind in _SHARES and unit in {"1", "%"}:
        return value if unit == "1" else value / 100
    return in_column(Quantity(value, unit_of(unit) or unit), column, row)
