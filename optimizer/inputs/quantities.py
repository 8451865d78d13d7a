"""Numbers with their unit, as people write them: 1.5 kW, 1/2 hp, 6 A, 35 kWh/month, 50 °F.

The units library is imported only when a cell carries a unit.
"""

import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Any, Final, NamedTuple

from optimizer.inputs.cells import CellError, number
from optimizer.inputs.columns import Column, Kind
from optimizer.inputs.faults import hinted
from optimizer.inputs.units import UNITS
from optimizer.model.phrase import Phrase

_QUANTITY: Final = re.compile(
    r"(?:(?P<plain>[+\-−]?\d[\d.,]*)|(?P<whole>\d+ )?(?P<parts>\d+/\d+))\s*"
    r"(?P<unit>[^\d\s.,;:/\-][^;:]*)"
)
_UNIT: Final = re.compile(r"[^\W\d_][^\W\d]{0,30}([ */·][^\W\d]{1,30}){0,3}[²³23]?|%|°\s?[A-Za-z]+")
_WHOLE_DAY: Final = ((0.0, 24.0),)
_APPARENT: Final = frozenset({"VA", "kVA", "MVA"})
_AVERAGE: Final = re.compile(r"(k?Wh)\s*(?:/|per|a)\s*(day|week|month|year)")
#: Hours in a span; a month is a twelfth of 8,760 h.
_SPANS_H: Final = {"day": 24, "week": 168, "month": 730, "year": 8760}
_TIMES: Final = frozenset({"x", "X", "×"})
#: What a conversion may leave of a rounding error is cut off [significant digits].
_DIGITS: Final = 12


class Quantity(NamedTuple):
    """A number and the unit it was written with."""

    value: float
    unit: str


def quantity(text: str, comma: bool) -> Quantity | None:
    """Return a number with its unit, or None where the text is none.

    >>> quantity("1/2 hp", comma=False), quantity("1,5 kW", comma=True), quantity("6-8", comma=True)
    (Quantity(value=0.5, unit='hp'), Quantity(value=1.5, unit='kW'), None)
    """
    found = _QUANTITY.fullmatch(text)
    if found is None:
        return None
    if found["plain"]:
        value = number(found["plain"], comma)
    else:
        try:
            value = float(Fraction(found["parts"]) + int(found["whole"] or 0))
        except (ZeroDivisionError, ValueError, OverflowError):  # nothing below the line; no end
            return None
    return Quantity(value, found["unit"].strip())


def read_in(
    given: Mapping[str, Quantity],
    columns: Mapping[str, Column],
    row: dict[str, Any],
    supply_v: float | None,
) -> dict[str, Phrase]:
    """Put quantities into a row as its columns' bare numbers; return what each wrong one lacks.

    An energy over a time is an average: its load then runs around the clock, at duty 1.
    """
    wrong: dict[str, Phrase] = {}
    for name, column in columns.items():  # in our order: the starting watts need the running
        if name not in given:
            continue
        if name == "starting_w" and given[name].unit in _TIMES and "running_w" not in row:
            row[name] = None  # the running watts are at fault, not how often they are taken
            continue
        try:
            row[name] = in_column(given[name], column, row, supply_v)
        except CellError as problem:
            if problem.hint:  # a unit, but of something else
                wrong[name] = hinted(column.wanted, problem.hint)
            continue
        if name == "running_w" and average_hours(given[name].unit):
            row["duty"] = 1.0
            if row.setdefault("hours", _WHOLE_DAY) != _WHOLE_DAY:
                wrong["hours"] = Phrase("0:00-24:00, or blank: the watts are an average of the day")
    return wrong


def in_column(
    given: Quantity, column: Column, row: Mapping[str, Any], supply_v: float | None = None
) -> float:
    """Return a quantity as a column's bare number; CellError where its unit is another."""
    value, unit = given.value, given.unit
    special = _SPECIAL.get(column.name)
    if special is not None:
        factor = special(unit, row, supply_v)
        if factor is not None:
            return _tidy(value * factor)
    if column.kind in {Kind.SHARE, Kind.RATE} and unit == "%":
        return _tidy(value / 100)
    ours = UNITS.get(column.unit)  # a column of another unit takes bare numbers
    if (unit in _APPARENT) == (column.unit == "VA") and ours is not None and ours.library:
        converted = _converted(value, unit, ours.library, difference=column.unit == "K")
        if converted is not None:
            return _tidy(converted)
    raise CellError(
        Phrase(
            "{theirs} does not belong to {column}, which is in {ours}",
            theirs=repr(unit),
            column=column.name,
            ours=column.unit.format(currency="money") or "plain numbers",
        )
    )


def _tidy(value: float) -> float:
    return float(f"{value:.{_DIGITS}g}")


def _converted(value: float, unit: str, ours: str, *, difference: bool) -> float | None:
    """Return a value in our unit; None for another quantity, CellError for no unit at all."""
    from pint.errors import DimensionalityError  # noqa: PLC0415 - start-up time

    registry = _registry()
    if not _UNIT.fullmatch(unit):  # the library would work out any sum that is written there
        raise CellError
    written = re.sub(r"(?<=[a-z])([23])$", r"**\1", unit).replace(" per ", "/")
    try:
        theirs = registry.parse_units(written)
    except Exception:  # a parser fed with anything raises anything
        raise CellError from None
    if difference:
        theirs = registry.parse_units(str(theirs).replace("degree_", "delta_degree_"))
    try:
        return float(registry.Quantity(value, theirs).to(ours).magnitude)
    except DimensionalityError:
        return None


@lru_cache
def _registry() -> Any:  # noqa: ANN401 - the library is untyped here
    from pint import UnitRegistry  # noqa: PLC0415 - start-up time

    return UnitRegistry()


def average_hours(unit: str) -> int | None:
    """Return the hours over which an energy is spread, or None where it is none.

    >>> average_hours("kWh/month"), average_hours("kWh")
    (730, None)
    """
    found = _AVERAGE.fullmatch(unit)
    return None if found is None else _SPANS_H[found[2]]


def _power(unit: str, row: Mapping[str, Any], supply_v: float | None) -> float | None:
    """Return watts for one of a unit of apparent power, of current at the supply, of energy."""
    if (hours := average_hours(unit)) is not None:
        return (1000 if unit.startswith("k") else 1) / hours
    if unit in _APPARENT:
        factor = _converted(1, unit, "volt_ampere", difference=False)
    elif supply_v is not None:
        amperes = _converted(1, unit, "ampere", difference=False)
        factor = None if amperes is None else amperes * supply_v
    else:
        return None
    power_factor = row.get("power_factor")
    if factor is None or power_factor is None:
        return None
    return factor * float(power_factor)


def _start(unit: str, row: Mapping[str, Any], supply_v: float | None) -> float | None:
    if unit in _TIMES:
        running_w = row.get("running_w")
        return None if running_w is None else float(running_w)
    return None if average_hours(unit) else _power(unit, row, supply_v)


def _charge(unit: str, row: Mapping[str, Any], supply_v: float | None) -> float | None:
    """Return ampere-hours for one of a unit of energy, over the nominal voltage."""
    del supply_v
    energy_wh = _converted(1, unit, "watt_hour", difference=False)
    voltage_v = row.get("voltage_v")
    return None if energy_wh is None or not voltage_v else energy_wh / float(voltage_v)


_SPECIAL: Final[dict[str, Callable[[str, Mapping[str, Any], float | None], float | None]]] = {
    "running_w": _power,
    "starting_w": _start,
    "capacity_ah": _charge,
}
