"""Checks on what code builds: its numbers against the facts that files are read by."""

import math
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from numbers import Real
from typing import Final, TypeVar

from optimizer.errors import Fault, InputError
from optimizer.inputs.columns import Record, columns_of
from optimizer.inputs.price_tables import TABLES, PriceTable
from optimizer.inputs.rows import LoadRow
from optimizer.inputs.site_keys import SECTIONS, YEAR_H
from optimizer.model.job import Battery, Catalog, Job, Load
from optimizer.model.outages import Outages
from optimizer.model.phrase import Phrase

Part = TypeVar("Part")

#: Keys whose field is called otherwise.
_FIELDS: Final[Mapping[str, str]] = {
    "supply.voltage_v": "supply_voltage_v",
    "design.voltage": "voltage_v",
}
_LOADS: Final = PriceTable(LoadRow, "load")
_POSITIVE: Final = Phrase("a finite number above 0")
#: Price lists and loads that were found right lately: jobs share them.
_LATELY: Final[deque[object]] = deque(maxlen=32)


def checked(job: Job) -> Job:
    """Return the job; InputError with every number of it that is out of its range.

    >>> from optimizer import load
    >>> checked(load("house").with_site(discount_rate=-2.0))
    Traceback (most recent call last):
    ...
    optimizer.errors.InputError: site, economics.discount_rate: found -2.0; wanted a number above \
    -0.05 and below 0.5 a year, e.g. 0.03 for 3 %
    """
    faults: list[Fault] = []
    for section, model in SECTIONS.items():
        faults += faults_of_keys("site", section, model, job.site)
    faults += _new_faults(job.loads, _of_loads)
    faults += _new_faults(job.outages, _of_outages)
    faults += _new_faults(job.catalog, _of_prices)
    if faults:
        raise InputError(faults)
    return job


def found_right(job: Job) -> Job:
    """Return a job whose rows were read by the same facts: they are not looked at once more."""
    _LATELY.extend((job.loads, job.outages, job.catalog))
    return job


def _new_faults(part: Part, found_in: Callable[[Part], Iterator[Fault]]) -> list[Fault]:
    """Return what is wrong with a part of a job, nothing where it was found right lately."""
    if any(part is known for known in _LATELY):
        return []
    faults = list(found_in(part))
    if not faults:
        _LATELY.append(part)
    return faults


def _of_loads(loads: tuple[Load, ...]) -> Iterator[Fault]:
    yield from faults_of_rows("loads", loads)
    for one in loads:
        if not all(0 <= start < end <= 48 for start, end in one.windows):  # noqa: PLR2004 - over midnight
            wanted = Phrase("windows in hours of the day, each ending after it starts")
            yield Fault("loads", None, f"{one.load}.windows", repr(one.windows), wanted)
        for season, times in one.season_multipliers.items():
            if not (math.isfinite(times) and times >= 0):
                wanted = Phrase("a finite number that is not negative")
                yield Fault("loads", None, f"{one.load}.{season}", repr(times), wanted)


def _of_outages(outages: Outages) -> Iterator[Fault]:
    for hours, times in outages.yearly:
        for name, value in (("hours", hours), ("times_a_year", times)):
            if not 0 < value <= YEAR_H:
                wanted = Phrase("above 0 and at most {most}", most=str(YEAR_H))
                yield Fault("outages", None, name, repr(value), wanted)


def _of_prices(catalog: Catalog) -> Iterator[Fault]:
    for table in TABLES:
        yield from faults_of_rows(table, getattr(catalog, table))
    for one in catalog.batteries:
        yield from _of_battery(one)


def faults_of_rows(table: str, rows: Iterable[object]) -> Iterator[Fault]:
    """Yield the faults of rows of a table."""
    kind = TABLES.get(table, _LOADS)
    for row in rows:
        yield from faults_of_keys(table, str(getattr(row, kind.key)), kind.model, row)


def _of_battery(battery: Battery) -> Iterator[Fault]:
    """Yield what is wrong with the pairs of numbers of a battery, and with its depths."""
    shares = {"max_dod": [battery.max_dod, *battery.max_dods]}
    shares["cycle_points"] = [depth for depth, _ in battery.cycle_points]
    for name, values in shares.items():
        if not all(0 < value <= 1 for value in values):
            wanted = Phrase("shares above 0, at most 1")
            yield Fault("batteries", None, f"{battery.battery}.{name}", repr(values), wanted)
    numbers = [count for _, count in battery.cycle_points]
    numbers += [share for _, share in battery.cold_points]
    if not all(math.isfinite(value) and value > 0 for value in numbers):
        column = f"{battery.battery}.cycle_points, cold_points"
        yield Fault("batteries", None, column, repr(numbers), _POSITIVE)


def faults_of_keys(table: str, of: str, model: type[Record], row: object) -> Iterator[Fault]:
    """Yield a fault for each number of a row, or section, that is out of its column's range."""
    for column in columns_of(model).values():
        if not column.kind.is_numeric:
            continue
        value = getattr(row, _FIELDS.get(f"{of}.{column.name}", column.name), None)
        if value is not None and not (isinstance(value, Real) and column.allows(float(value))):
            yield Fault(table, None, f"{of}.{column.name}", repr(value), column.wanted)
