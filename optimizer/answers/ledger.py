"""Every number a design rests on: its value and unit, whose it is, and where it comes from."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, fields
from typing import Literal, cast

from optimizer.answers.independent_simulation import STRESSES
from optimizer.formulas.inverter import LOWEST_VOLTAGE_SHARE
from optimizer.formulas.temperature import FLOAT_LIFE_DEGC, HOT_RATING_DEGC, RATING_DEGC
from optimizer.formulas.tolerance import COST_TOLERANCE, RELATIVE_TOLERANCE
from optimizer.formulas.wiring import CONTINUOUS_FACTOR, RUNS
from optimizer.inputs.battery_rows import BatteryRow
from optimizer.inputs.columns import MONEY, Record, columns_of
from optimizer.inputs.rows import CableRow, FuseRow, InverterRow, LoadRow
from optimizer.inputs.site_keys import SECTIONS, SupplyKeys
from optimizer.inputs.voltage import CLASS_HIGH, CLASS_LOW
from optimizer.model.design import Design
from optimizer.model.job import Contract, Job, Peak, Window
from optimizer.simulate import DEPTH_TOLERANCE, daily_balance

Origin = Literal["site", "catalog", "chemistry", "constant"]
Value = float | str

_DAY_MIN = 1440
#: Sections whose keys are told with what they name.
_ELSEWHERE = frozenset({"site", "outages"})
#: What is no number and no condition of one.
_NAMES = frozenset(
    {"name", "currency", "seasons", "tiers", "battery", "inverter", "sources", "family"}
    | {"supplier", "supplier_code", "price_date", "class_v", "length_mm", "width_mm", "height_mm"}
    | {"works_in_parallel", "phases", "max_dods"}
)


@dataclass(frozen=True, slots=True)
class Assumption:
    """One number that a design rests on.

    Parameters
    ----------
    subject : str
        What it belongs to: the site, a load, a model, a formula.
    name : str
        The key, the column or the constant's meaning.
    value : float or str
        As the project uses it; points, windows and names of kinds as text.
    unit : str
        Its unit; empty for shares, counts and plain numbers.
    origin : {"site", "catalog", "chemistry", "constant"}
        Whose it is.
    source : str
        Where it comes from, in words.
    """

    subject: str
    name: str
    value: Value
    unit: str
    origin: Origin
    source: str


def assumptions(job: Job, design: Design) -> tuple[Assumption, ...]:
    """Return every number a design rests on: site, loads, outages, equipment, constants.

    Parameters
    ----------
    job, design : Job, Design
        The site, and what stands there.
    """
    return (
        *_of_site(job),
        *_of_loads(job),
        *_of_outages(job),
        *_of_equipment(job, design),
        *_of_charging(job, design),
        *_constants(),
    )


def _unit(record: type[Record], name: str, currency: str) -> str:
    """Return the unit that stands with a column or key; empty for shares and counts."""
    column = columns_of(record).get(name)  # a chemistry's kind and a unit's class have none
    return "" if column is None else column.unit.replace(MONEY, currency)


def _value(value: object) -> Value:
    """Return a field's value as the ledger shows it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return float(value)
    if isinstance(value, tuple):
        if value and isinstance(value[0], tuple):
            return ";".join(f"{first:g}:{second:g}" for first, second in value)
        return ", ".join(str(one) for one in value)
    return str(value)


def _windows(windows: tuple[Window, ...]) -> str:
    def clock(hours: float) -> str:
        minutes = round(hours * 60)
        if minutes > _DAY_MIN:
            minutes -= _DAY_MIN
        return f"{minutes // 60}:{minutes % 60:02d}"

    return ";".join(f"{clock(start)}-{clock(end)}" for start, end in windows)


def _of_site(job: Job) -> Iterator[Assumption]:
    site = job.site
    for season in site.seasons:
        months = ", ".join(map(str, season.months))
        yield Assumption("Site", f"months of {season.name}", months, "", "site", "site file")
    for section, model in SECTIONS.items():
        if section in _ELSEWHERE or (section == "generator" and site.generator is None):
            continue
        for key, column in columns_of(model).items():
            name = "supply_voltage_v" if model is SupplyKeys and key == "voltage_v" else key
            value = getattr(site.generator if section == "generator" else site, name)
            if key in _NAMES or value is None or value in ((), {}):
                continue
            usual = not column.required and value == column.default
            source = "the default, or typed the same" if usual else "site file"
            unit = _unit(model, key, site.currency)
            for piece, shown in _pieces(name, value):
                yield Assumption("Site", piece, shown, unit, "site", source)


def _pieces(key: str, value: object) -> Iterator[tuple[str, Value]]:
    """Yield a key's value, or each of several under its own name."""
    match value:
        case dict():
            yield from ((f"{key} of {name}", float(one)) for name, one in value.items())
        case (Contract(), *_):
            for step in cast("tuple[Contract, ...]", value):
                yield f"contract of {step.power_w:g} W", step.cost_year
        case (Peak(), *_):
            for one in cast("tuple[Peak, ...]", value):
                yield f"peak of {one.power_w:g} W", f"{one.minutes:g} min:{one.times_a_month:g}"
        case (float() as start, float() as end):
            yield key, _windows(((start, end),))
        case _:
            yield key, _value(value)


def _of_loads(job: Job) -> Iterator[Assumption]:
    source = "load survey"
    for load in job.loads:
        if load.tier not in job.site.tiers:
            continue
        subject = f"Load {load.load}"
        for name, value in (
            ("count", float(load.count)),
            ("running_w", load.running_w),
            ("power_factor", load.power_factor),
            ("starting_w", load.starting_w),
            ("hours", _windows(load.windows)),
            ("duty", load.duty),
        ):
            unit = columns_of(LoadRow)[name].unit
            yield Assumption(subject, name, value, unit, "site", source)
        for season, times in load.season_multipliers.items():
            yield Assumption(subject, f"multiplier in {season}", times, "", "site", source)


def _of_outages(job: Job) -> Iterator[Assumption]:
    outages = job.outages
    if outages.form == "log" and outages.log_years is not None:
        hours = sum(outage.hours for outage in outages.log)
        first, last = outages.log[0].start.date(), outages.log[-1].end.date()
        source = f"outage log, {first} to {last}"
        yield Assumption("Outages", "outages logged", float(len(outages.log)), "", "site", source)
        yield Assumption("Outages", "hours logged", hours, "h", "site", source)
        yield Assumption("Outages", "log_years", outages.log_years, "years", "site", "site file")
        return
    if outages.form == "daily" and outages.days_per_year is not None:
        cuts = _windows(outages.daily)
        yield Assumption("Outages", "daily", cuts, "h of the day", "site", "site file")
        days = outages.days_per_year
        yield Assumption("Outages", "days_per_year", days, "days a year", "site", "site file")
        return
    for hours, times in outages.yearly:
        yield Assumption("Outages", f"of {hours:g} h", times, "a year", "site", "site file")


def _of_equipment(job: Job, design: Design) -> Iterator[Assumption]:
    catalog, run = job.catalog, design.wiring
    known = catalog.inverters
    inverter = design.inverter
    yield from _row(job, InverterRow, f"Inverter {inverter.inverter}", inverter, known)
    batteries = {bank.battery.battery: bank.battery for bank in design.banks}
    for battery in batteries.values():
        yield from _row(job, BatteryRow, f"Battery {battery.battery}", battery, catalog.batteries)
    yield from _row(
        job, CableRow, f"Cable {run.cable.section_mm2:g} mm²", run.cable, catalog.cables
    )
    yield from _row(job, FuseRow, f"Fuse {run.fuse.rating_a:g} A", run.fuse, catalog.fuses)
    for work in job.catalog.works:
        name = f"price per {work.basis}, {work.applies}"
        unit = job.site.currency
        yield Assumption(f"Work {work.item}", name, work.price, unit, "catalog", "price list")


def _row(
    job: Job, record: type[Record], subject: str, row: object, known: Collection[object]
) -> Iterator[Assumption]:
    """Yield the numbers of a row; one that is not in the price list was typed in."""
    sources = getattr(row, "sources", {})
    own = "price list" if row in known else "typed in"
    dated = getattr(row, "price_date", None)
    for field in fields(row):  # type: ignore[arg-type]
        value = getattr(row, field.name)
        if field.name in _NAMES or value is None:
            continue
        source = sources.get(field.name, own)
        if field.name == "price" and dated is not None:
            source += f", price of {dated.isoformat()}"
        origin: Origin = "chemistry" if field.name in sources else "catalog"
        unit = _unit(record, field.name, job.site.currency)
        yield Assumption(subject, field.name, _value(value), unit, origin, source)


def _of_charging(job: Job, design: Design) -> Iterator[Assumption]:
    """Yield the voltage at which the day of scheduled cuts is balanced."""
    if not job.outages.daily:
        return
    volts = daily_balance(job, design).charge_volts
    row = all(bank.battery.absorption_v is not None for bank in design.banks)
    origin: Origin = "catalog" if row else "constant"
    source = "price list: absorption_v" if row else "common practice: 14 V for each 12 V"
    name = "charging voltage in the balance of a day"
    yield Assumption("Scheduled cuts", name, volts, "V", origin, source)


def _constants() -> Iterator[Assumption]:
    practice, memory, own = "common practice", "from memory", "this project's rule"
    for name, value, unit, source in (
        ("battery voltage at its lowest, of the system's", LOWEST_VOLTAGE_SHARE, "", practice),
        ("temperature of ratings", RATING_DEGC, "°C", practice),
        ("temperature of the second inverter rating", HOT_RATING_DEGC, "°C", practice),
        ("temperature of float life", FLOAT_LIFE_DEGC, "°C", f"EUROBAT's classes, {memory}"),
        ("continuous current that cable and fuse carry, times", CONTINUOUS_FACTOR, "", practice),
        ("most cable runs in parallel", float(max(RUNS)), "", practice),
        ("lowest voltage of a class, of its nominal", CLASS_LOW, "", practice),
        ("highest voltage of a class, of its nominal", CLASS_HIGH, "", practice),
        ("hours of a year", 8760.0, "h", "arithmetic: 365 days"),
        ("tolerance of every comparison, relative", RELATIVE_TOLERANCE, "", own),
        ("costs that are equal, apart by less than", COST_TOLERANCE, "currency", own),
        ("tolerance on depth in the simulation, relative", DEPTH_TOLERANCE, "", own),
        *((f"larger loads tried: {by:.0%} of the survey", by, "", own) for by in STRESSES),
    ):
        yield Assumption("Constants", name, value, unit, "constant", source)
