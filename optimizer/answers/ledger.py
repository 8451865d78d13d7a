"""Every number a design rests on: its value and unit, whose it is, and where it comes from."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import MISSING, dataclass, fields
from typing import Literal

from optimizer.answers.independent_simulation import STRESSES
from optimizer.formulas.inverter import LOWEST_VOLTAGE_SHARE
from optimizer.formulas.temperature import FLOAT_LIFE_DEGC, HOT_RATING_DEGC, RATING_DEGC
from optimizer.formulas.tolerance import COST_TOLERANCE, RELATIVE_TOLERANCE
from optimizer.formulas.wiring import CONTINUOUS_FACTOR, RUNS
from optimizer.inputs.voltage import CLASS_HIGH, CLASS_LOW
from optimizer.model.design import Design
from optimizer.model.job import Job, Site, Window
from optimizer.simulate import DEPTH_TOLERANCE, daily_balance

Origin = Literal["site", "catalog", "chemistry", "constant"]
Value = float | str

#: Units of the columns and keys whose names do not end in one.
_UNITS = {
    "peukert": "",
    "voltage_v": "V",
    "class_v": "V",
    "system_v": "V",
    "rate_h": "h",
    "target_hours": "h",
    "max_hours": "h",
    "recharge_hours": "h",
    "load_growth": "1/a",
    "discount_rate": "1/a",
    "inflation": "1/a",
    "price_drift": "1/a",
    "horizon_years": "a",
    "float_life_years": "a at 20 °C",
    "halving_degc": "K",
    "cycle_points": "depth:cycles",
    "cold_points": "°C:share",
    "discharge_rate_max": "1/h",
    "charge_rate_min": "1/h",
    "charge_rate_max": "1/h",
    "charge_factor": "Ah/Ah",
    "self_discharge_month": "1/month",
    "price_per_m": "{currency}/m",
    "tariff": "{currency}/kWh",
    "value_of_lost_load": "{currency}/kWh",
    "budget": "{currency}",
    "lifetime_budget": "{currency}",
    "price": "{currency}",
    "upkeep_year": "{currency}/a",
    "scrap_value": "{currency}",
    "ohm_per_km": "Ω/km",
    "section_mm2": "mm²",
    "power_w_40c": "W",
    "battery_cable_m": "m",
    "max_units": "units",
    "max_series": "units",
    "max_parallel": "strings",
    "voltages": "V",
    "capacity_ah": "Ah",
}
_ENDINGS = {
    "_years": "a",
    "_degc": "°C",
    "_kg": "kg",
    "_va": "VA",
    "_w": "W",
    "_a": "A",
    "_v": "V",
    "_h": "h",
    "_ms": "ms",
    "_mm": "mm",
    "_ka": "kA",
}
_DAY_MIN = 1440
#: What is no number and no condition of one.
_NAMES = frozenset(
    {"name", "currency", "seasons", "tiers", "battery", "inverter", "sources", "family"}
    | {"supplier", "supplier_code", "price_date", "class_v", "length_mm", "width_mm", "height_mm"}
    | {"works_in_parallel", "phases"}
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


def _unit(name: str, currency: str) -> str:
    if name in _UNITS:
        return _UNITS[name].format(currency=currency)
    return next((unit for ending, unit in _ENDINGS.items() if name.endswith(ending)), "")


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
    for field in fields(Site):
        value = getattr(site, field.name)
        if field.name in _NAMES or value is None or value == ():
            continue
        usual = field.default is not MISSING and value == field.default
        source = "the default, or typed the same" if usual else "site file"
        unit = _unit(field.name, site.currency)
        yield Assumption("Site", field.name, _value(value), unit, "site", source)


def _of_loads(job: Job) -> Iterator[Assumption]:
    source = "load survey"
    for load in job.loads:
        if load.tier not in job.site.tiers:
            continue
        subject = f"Load {load.load}"
        for name, value, unit in (
            ("count", float(load.count), ""),
            ("running_w", load.running_w, "W"),
            ("power_factor", load.power_factor, ""),
            ("starting_w", load.starting_w, "W"),
            ("hours", _windows(load.windows), "h of the day"),
            ("duty", load.duty, ""),
        ):
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
        yield Assumption("Outages", "log_years", outages.log_years, "a", "site", "site file")
        return
    if outages.form == "daily" and outages.days_per_year is not None:
        cuts = _windows(outages.daily)
        yield Assumption("Outages", "daily", cuts, "h of the day", "site", "site file")
        days = outages.days_per_year
        yield Assumption("Outages", "days_per_year", days, "1/a", "site", "site file")
        return
    for hours, times in outages.yearly:
        yield Assumption("Outages", f"of {hours:g} h", times, "1/a", "site", "site file")


def _of_equipment(job: Job, design: Design) -> Iterator[Assumption]:
    catalog, run = job.catalog, design.wiring
    known = catalog.inverters
    yield from _row(job, f"Inverter {design.inverter.inverter}", design.inverter, known)
    batteries = {bank.battery.battery: bank.battery for bank in design.banks}
    for battery in batteries.values():
        yield from _row(job, f"Battery {battery.battery}", battery, catalog.batteries)
    yield from _row(job, f"Cable {run.cable.section_mm2:g} mm²", run.cable, catalog.cables)
    yield from _row(job, f"Fuse {run.fuse.rating_a:g} A", run.fuse, catalog.fuses)
    for work in job.catalog.works:
        name = f"price per {work.basis}, {work.applies}"
        unit = job.site.currency
        yield Assumption(f"Work {work.item}", name, work.price, unit, "catalog", "price list")


def _row(job: Job, subject: str, row: object, known: Collection[object]) -> Iterator[Assumption]:
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
        unit = _unit(field.name, job.site.currency)
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
