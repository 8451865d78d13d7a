"""Every number a design rests on: its value and unit, whose it is, and where it comes from."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, field, fields
from enum import StrEnum
from typing import Literal, cast

from optimizer.answers.independent_simulation import STRESSES
from optimizer.engine.money_scale import cost_tolerance
from optimizer.formulas.inverter import LOWEST_VOLTAGE_SHARE
from optimizer.formulas.temperature import HOT_RATING_DEGC, RATING_DEGC
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE
from optimizer.formulas.wiring import CONTINUOUS_FACTOR, RUNS
from optimizer.inputs.battery_rows import BatteryRow
from optimizer.inputs.cells import window_text
from optimizer.inputs.columns import MONEY, Record, columns_of
from optimizer.inputs.rows import CableRow, FuseRow, InverterRow, LoadRow
from optimizer.inputs.site_keys import SECTIONS, SupplyKeys
from optimizer.inputs.voltage import CLASS_HIGH, CLASS_LOW
from optimizer.model.design import Design
from optimizer.model.job import FLOAT_LIFE_DEGC, Contract, Job, Peak
from optimizer.model.outages import Window
from optimizer.model.result import Listed
from optimizer.model.shown import shown
from optimizer.simulate import DEPTH_TOLERANCE, daily_balance

Origin = Literal["site", "catalog", "chemistry", "constant"]
Value = bool | float | str

#: Sections whose keys are told with what they name.
_ELSEWHERE = frozenset({"site", "outages"})
#: What is no number and no condition of one.
_NAMES = frozenset(
    {"name", "currency", "seasons", "tiers", "battery", "inverter", "sources", "family"}
    | {"supplier", "supplier_code", "price_date", "class_v", "length_mm", "width_mm", "height_mm"}
    | {"works_in_parallel", "phases", "max_dods"}
)


class Subject(StrEnum):
    """What a number belongs to."""

    SITE = "site"
    LOAD = "load"
    OUTAGES = "outages"
    INVERTER = "inverter"
    BATTERY = "battery"
    CABLE = "cable"
    FUSE = "fuse"
    WORK = "work"
    SCHEDULED_CUTS = "scheduled_cuts"
    CONSTANTS = "constants"


class Source(StrEnum):
    """Where a number comes from."""

    SITE_FILE = "site_file"
    DEFAULT = "default"
    LOAD_SURVEY = "load_survey"
    OUTAGE_LOG = "outage_log"
    PRICE_LIST = "price_list"
    CHEMISTRY = "chemistry"
    TYPED_IN = "typed_in"
    COMMON_PRACTICE = "common_practice"
    FROM_MEMORY = "from_memory"
    OWN_RULE = "own_rule"
    ARITHMETIC = "arithmetic"


#: Whose the numbers of a source are, where not the site's.
_ORIGINS: dict[Source, Origin] = {
    Source.PRICE_LIST: "catalog",
    Source.TYPED_IN: "catalog",
    Source.CHEMISTRY: "chemistry",
    Source.COMMON_PRACTICE: "constant",
    Source.FROM_MEMORY: "constant",
    Source.OWN_RULE: "constant",
    Source.ARITHMETIC: "constant",
}


@dataclass(frozen=True, slots=True)
class Assumption:
    """One number that a design rests on.

    Parameters
    ----------
    subject : Subject
        What it belongs to.
    of : str
        The load, the model or the work it belongs to; empty where there is one of its kind.
    name : str
        The key, the column or the constant's identifier.
    value : bool, float or str
        As the project uses it; points, windows and names of kinds as text.
    unit : str
        Its unit; empty for shares, counts and plain numbers.
    source : Source
        Where it comes from.
    detail : str
        What is known of the source besides: dates, a chemistry's own source.
    operand : float or str or None
        What tells it from others of the same name: a season, hours, the purchase it is paid at.
    """

    also = ("origin",)

    subject: Subject
    of: str
    name: str
    value: Value
    unit: str = ""
    source: Source = Source.SITE_FILE
    detail: str = ""
    operand: Value | None = None

    @property
    def origin(self) -> Origin:
        """Whose it is: the site's, the price list's, its chemistry's, or nobody's."""
        return _ORIGINS.get(self.source, "site")


@dataclass(frozen=True, slots=True, repr=False)
class Ledger(Listed[Assumption]):
    """Every number that a design rests on."""

    job: Job = field(metadata=shown(hide=True))
    rows: tuple[Assumption, ...] = field(metadata=shown("assumptions"))


def assumptions(job: Job, design: Design) -> Ledger:
    """Return every number a design rests on: site, loads, outages, equipment, constants.

    Parameters
    ----------
    job, design : Job, Design
        The site, and what stands there.
    """
    rows = (
        *_of_site(job),
        *_of_loads(job),
        *_of_outages(job),
        *_of_equipment(job, design),
        *_of_charging(job, design),
        *_constants(job),
    )
    return Ledger(job, rows)


def _unit(record: type[Record], name: str, currency: str) -> str:
    """Return the unit that stands with a column or key; empty for shares and counts."""
    column = columns_of(record).get(name)  # a chemistry's kind and a unit's class have none
    return "" if column is None else column.unit.replace(MONEY, currency)


def _value(value: object) -> Value:
    """Return a field's value as the ledger shows it."""
    if isinstance(value, bool):
        return value
    if isinstance(value, int | float):
        return float(value)
    if isinstance(value, tuple):
        if value and isinstance(value[0], tuple):
            return ";".join(f"{first:g}:{second:g}" for first, second in value)
        return ", ".join(str(one) for one in value)
    return str(value)


def _windows(windows: tuple[Window, ...]) -> str:
    return ";".join(map(window_text, windows))


def _of_site(job: Job) -> Iterator[Assumption]:
    site = job.site
    for season in site.seasons:
        months = ", ".join(map(str, season.months))
        yield Assumption(Subject.SITE, "", "months", months, operand=season.name)
    for section, model in SECTIONS.items():
        if section in _ELSEWHERE or (section == "generator" and site.generator is None):
            continue
        for key, column in columns_of(model).items():
            name = "supply_voltage_v" if model is SupplyKeys and key == "voltage_v" else key
            value = getattr(site.generator if section == "generator" else site, name)
            if key in _NAMES or value is None or value in ((), {}):
                continue
            # the default, or typed the same
            usual = not column.required and value == column.default
            source = Source.DEFAULT if usual else Source.SITE_FILE
            unit, detail = _unit(model, key, site.currency), column.source if usual else ""
            for operand, piece in _pieces(value):
                yield Assumption(Subject.SITE, "", name, piece, unit, source, detail, operand)


def _pieces(value: object) -> Iterator[tuple[Value | None, Value]]:
    """Yield a key's value, or each of several with what it is of: a name, or watts."""
    match value:
        case dict():
            yield from ((str(name), float(one)) for name, one in value.items())
        case (Contract(), *_):
            for step in cast("tuple[Contract, ...]", value):
                yield step.power_w, step.cost_year
        case (Peak(), *_):
            for one in cast("tuple[Peak, ...]", value):
                yield one.power_w, f"{one.minutes:g} min:{one.times_a_month:g}"
        case (float() as start, float() as end):
            yield None, _windows(((start, end),))
        case _:
            yield None, _value(value)


def _of_loads(job: Job) -> Iterator[Assumption]:
    kind, source = Subject.LOAD, Source.LOAD_SURVEY
    for load in job.loads:
        if load.tier not in job.site.tiers:
            continue
        for name, value in (
            ("count", float(load.count)),
            ("running_w", load.running_w),
            ("power_factor", load.power_factor),
            ("starting_w", load.starting_w),
            ("hours", _windows(load.windows)),
            ("duty", load.duty),
        ):
            unit = columns_of(LoadRow)[name].unit
            yield Assumption(kind, load.load, name, value, unit, source)
        for season, times in load.season_multipliers.items():
            yield Assumption(kind, load.load, "multiplier", times, "", source, operand=season)


def _of_outages(job: Job) -> Iterator[Assumption]:
    outages, kind = job.outages, Subject.OUTAGES
    if outages.form == "log" and outages.log_years is not None:
        hours, count = sum(outage.hours for outage in outages.log), float(len(outages.log))
        dates = f"{outages.log[0].start.date()} – {outages.log[-1].end.date()}"
        source = Source.OUTAGE_LOG
        yield Assumption(kind, "", "outages_logged", count, "", source, dates)
        yield Assumption(kind, "", "hours_logged", hours, "h", source, dates)
        yield Assumption(kind, "", "log_years", outages.log_years, "years")
    elif outages.form == "daily" and outages.days_per_year is not None:
        yield Assumption(kind, "", "daily", _windows(outages.daily), "h of the day")
        yield Assumption(kind, "", "days_per_year", outages.days_per_year, "days a year")
    else:
        for hours, times in outages.yearly:
            yield Assumption(kind, "", "times_per_year", times, "a year", operand=hours)


def _of_equipment(job: Job, design: Design) -> Iterator[Assumption]:
    catalog, run = job.catalog, design.wiring
    inverter, known = design.inverter, catalog.inverters
    yield from _row(job, InverterRow, (Subject.INVERTER, inverter.inverter), inverter, known)
    batteries = {bank.battery.battery: bank.battery for bank in design.banks}
    for name, battery in batteries.items():
        yield from _row(job, BatteryRow, (Subject.BATTERY, name), battery, catalog.batteries)
    if run is not None:
        section, rating = f"{run.cable.section_mm2:g} mm²", f"{run.fuse.rating_a:g} A"
        yield from _row(job, CableRow, (Subject.CABLE, section), run.cable, catalog.cables)
        yield from _row(job, FuseRow, (Subject.FUSE, rating), run.fuse, catalog.fuses)
    for work in job.catalog.works:
        yield Assumption(
            Subject.WORK,
            work.item,
            f"price_per_{work.basis}",
            work.price,
            job.site.currency,
            Source.PRICE_LIST,
            operand=work.applies,
        )


def _row(
    job: Job,
    record: type[Record],
    subject: tuple[Subject, str],
    row: object,
    known: Collection[object],
) -> Iterator[Assumption]:
    """Yield the numbers of a row; one that is not in the price list was typed in."""
    sources = getattr(row, "sources", {})
    own = Source.PRICE_LIST if row in known else Source.TYPED_IN
    dated = getattr(row, "price_date", None)
    for name in (one.name for one in fields(row)):  # type: ignore[arg-type] # any dataclass
        value = getattr(row, name)
        if name in _NAMES or value is None or value == ():
            continue
        source, detail = own, ""
        if name in sources:
            source, detail = Source.CHEMISTRY, sources[name]
        elif name == "price" and dated is not None:
            detail = dated.isoformat()
        unit = _unit(record, name, job.site.currency)
        yield Assumption(*subject, name, _value(value), unit, source, detail)


def _of_charging(job: Job, design: Design) -> Iterator[Assumption]:
    """Yield the voltage at which the day of scheduled cuts is balanced."""
    if not job.outages.daily:
        return
    volts = daily_balance(job, design).charge_volts
    row = all(bank.battery.absorption_v is not None for bank in design.banks)
    source = Source.PRICE_LIST if row else Source.COMMON_PRACTICE
    yield Assumption(Subject.SCHEDULED_CUTS, "", "charging_voltage", volts, "V", source)


def _constants(job: Job) -> Iterator[Assumption]:
    practice, own = Source.COMMON_PRACTICE, Source.OWN_RULE
    for name, value, unit, source, operand in (
        ("lowest_voltage_share", LOWEST_VOLTAGE_SHARE, "", practice, None),
        ("rating_degc", RATING_DEGC, "°C", practice, None),
        ("hot_rating_degc", HOT_RATING_DEGC, "°C", practice, None),
        ("float_life_degc", FLOAT_LIFE_DEGC, "°C", Source.FROM_MEMORY, None),  # EUROBAT's classes
        ("continuous_factor", CONTINUOUS_FACTOR, "", practice, None),
        ("most_cable_runs", float(max(RUNS)), "", practice, None),
        ("lowest_class_voltage_share", CLASS_LOW, "", practice, None),
        ("highest_class_voltage_share", CLASS_HIGH, "", practice, None),
        ("hours_of_year", 8760.0, "h", Source.ARITHMETIC, None),
        ("relative_tolerance", RELATIVE_TOLERANCE, "", own, None),
        ("cost_tolerance", cost_tolerance(job), "", own, None),
        ("depth_tolerance", DEPTH_TOLERANCE, "", own, None),
        *(("larger_loads", by, "", own, by) for by in STRESSES),
    ):
        yield Assumption(Subject.CONSTANTS, "", name, value, unit, source, operand=operand)
