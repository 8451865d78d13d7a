"""One model for each table: its columns, their ranges, and the rules between the columns."""

# ruff: noqa: ANN401 - pydantic's Field is typed as Any, so what wraps it is too

from __future__ import annotations

# pydantic reads these at run time
from collections.abc import Iterator  # noqa: TC003
from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import Annotated, Any, Literal, get_args

from pydantic import AfterValidator, Field

from optimizer.inputs.columns import Broken, Record, declare, number, rate, share, text, whole
from optimizer.inputs.voltage import class_words, voltage_class
from optimizer.model.job import CONDUCTOR_DEGC, Basis, Cable, Fuse, Generator, Inverter, Load, Work

Points = tuple[tuple[float, float], ...]


def _rising(values: list[float]) -> bool:
    return all(low < high for low, high in pairwise(values))


def _cycle_points(points: Points) -> Points:
    depths, cycles = [p[0] for p in points], [p[1] for p in points]
    in_range = depths[0] > 0 and depths[-1] <= 1 and cycles[-1] > 0
    if not (in_range and _rising(depths) and _rising(cycles[::-1])):
        raise ValueError
    return points


def _cold_points(points: Points) -> Points:
    degrees, shares = [p[0] for p in points], [p[1] for p in points]
    if not (_rising(degrees) and _rising(shares) and shares[0] > 0 and shares[-1] <= 1):
        raise ValueError
    return points


def _depths(values: tuple[float, ...]) -> tuple[float, ...]:
    if not (_rising(list(values)) and values[0] > 0 and values[-1] <= 1):
        raise ValueError
    return values


Depths = Annotated[tuple[float, ...], AfterValidator(_depths)]
CyclePoints = Annotated[Points, AfterValidator(_cycle_points)]
ColdPoints = Annotated[Points, AfterValidator(_cold_points)]
Multiplier = Annotated[float, Field(ge=0, le=10)]

CYCLE_WORDS = (
    "depth:cycles points such as 0.5:1200;0.8:600, depths rising (above 0, at most 1), cycles "
    "falling (above 0)"
)
DEPTH_WORDS = "a share above 0, at most 1, or several to choose from such as 0.5;0.8, rising"
COLD_WORDS = (
    "degC:share points such as 0:0.71;10:0.84;25:1, temperatures rising, shares rising (above 0, "
    "at most 1)"
)


def _price() -> Any:
    return number("in the site's currency", ge=0)


def _day() -> Any:
    return declare("day", "a date such as 2026-01-31", None)


def _name(what: str) -> Any:
    return text(f"the name of the {what}")


def _maybe(what: str) -> Any:
    return text(what, default=None)


def _filled(row: Record, **instead: Any) -> dict[str, Any]:
    """Return the row's values, each that is left open as said here."""
    values = dict(row)
    return values | {name: value for name, value in instead.items() if values[name] is None}


class LoadRow(Record):
    """A row of the load survey."""

    load: str = _name("load")
    tier: str = text("the tier of the load, e.g. essential")
    count: int = whole("pieces", ge=1, le=10_000)
    running_w: float = number("W", gt=0, le=1_000_000)
    power_factor: float = share(gt=0, le=1)
    starting_w: float | None = number("W, at least running_w", gt=0, default=None)
    hours: tuple[tuple[float, float], ...] = declare(
        "windows", "windows of the day such as 22:00-6:00;6:30-8:00, not overlapping"
    )
    duty: float = share(gt=0, le=1)
    seasons: dict[str, Multiplier] | None = declare(
        "multipliers",
        "season:multiplier pairs such as winter:1.2;summer:0.6, multipliers from 0 to 10",
        None,
    )
    critical: bool | None = declare("flag", "true or false", None)
    never_off: bool | None = declare("flag", "true or false", None)
    only_with: str | None = declare("text", "the name of another load", None, alias="with")

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        if self.only_with is not None and self.only_with == self.load:
            yield "with", "another load, without which this one serves nothing"
        if self.starting_w is not None and self.starting_w < self.running_w:
            wanted = f"empty, or at least running_w ({self.running_w:g} W)"
            yield "starting_w", wanted

    def made(self) -> Load:
        """Return the load."""
        values = _filled(self, starting_w=self.running_w, critical=False, never_off=False)
        windows, multipliers = values.pop("hours"), values.pop("seasons") or {}
        return Load(windows=windows, season_multipliers=multipliers, **values)


def clocks_back(early: datetime, late: datetime) -> str:
    """Return what to do where a time could be right, had clocks gone back an hour, or nothing."""
    if early.tzinfo is not None or late - early > timedelta(hours=1):
        return ""
    return "; where clocks went back in between, with offsets: 2026-10-25T02:20+01:00"


class OutageRow(Record):
    """A row of the outage log."""

    start: datetime = declare("moment", "local date and time such as 2026-01-31T17:40")
    end: datetime = declare("moment", "local date and time such as 2026-01-31T20:10")

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        if (self.end.tzinfo is None) != (self.start.tzinfo is None):
            yield "end", "an offset from UTC in both times, or in neither"
        elif self.end <= self.start:
            hint = clocks_back(self.end, self.start)
            yield "end", f"after start ({self.start.isoformat()})" + hint


class Traits(Record):
    """What a battery has from its chemistry wherever its own row leaves it open."""

    peukert: float | None = number("(Peukert's exponent)", ge=1, le=1.6, default=None)
    max_dod: Depths | None = declare("depths", DEPTH_WORDS, None)
    float_life_years: float | None = number("years on float", gt=0, le=40, default=None)
    float_life_degc: float | None = number(
        "°C, at which the float life holds", ge=15, le=30, default=None
    )
    halving_degc: float | None = number("°C", gt=0, le=50, default=None)
    cycle_points: CyclePoints | None = declare("points", CYCLE_WORDS, None)
    end_of_life_soh: float | None = share(ge=0.5, lt=1, default=None)
    discharge_rate_max: float | None = number("per hour", gt=0, le=20, default=None)
    surge_rate_max: float | None = number(
        "per hour for the seconds of a start, at least discharge_rate_max",
        gt=0,
        le=100,
        default=None,
    )
    charge_rate_min: float | None = number("per hour", ge=0, le=5, default=None)
    charge_rate_max: float | None = number("per hour", ge=0, le=5, default=None)
    charge_factor: float | None = number("(Ah in per Ah out)", ge=1, le=2, default=None)
    round_trip: float | None = share(gt=0, le=1, default=None)
    self_discharge_month: float | None = share(ge=0, le=0.5, default=None)
    float_ma_ah: float | None = number("mA per Ah held on float", ge=0, le=20, default=None)
    upkeep_year: float | None = number("in the site's currency, per unit", ge=0, default=None)
    scrap_value: float | None = number("in the site's currency, per unit", ge=0, default=None)
    price_drift: float | None = rate(ge=-0.5, le=0.5, default=None)
    min_charge_degc: float | None = number("°C", ge=-40, le=40, default=None)
    cold_points: ColdPoints | None = declare("points", COLD_WORDS, None)
    max_series: int | None = whole("units", ge=1, le=40, default=None)
    max_parallel: int | None = whole("strings", ge=1, le=40, default=None)

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        low, high = self.charge_rate_min, self.charge_rate_max
        if low is not None and high is not None and low > high:
            yield "charge_rate_min", f"at most charge_rate_max ({high:g} per hour)"
        steady, start = self.discharge_rate_max, self.surge_rate_max
        if steady is not None and start is not None and start < steady:
            yield "surge_rate_max", f"at least discharge_rate_max ({steady:g} per hour)"


#: The fields that a battery takes over from its chemistry.
TRAITS: tuple[str, ...] = tuple(Traits.model_fields)
#: Those that neither needs to say: the model has a rule of its own without them.
OPEN_TRAITS = frozenset({"float_life_degc", "surge_rate_max", "float_ma_ah"})


class ChemistryRow(Traits):
    """A row of the chemistries: what holds for every battery of one kind."""

    chemistry: str = _name("chemistry")
    family: str | None = _maybe("a word such as lead or lithium")
    gas: Literal["vented", "valve_regulated", "none"] | None = declare(
        "gas", "vented, valve_regulated or none", None
    )


class BatteryRow(Traits):
    """A row of the batteries."""

    battery: str = _name("battery")
    chemistry: str = text("the name of a chemistry")
    voltage_v: float = number("V", gt=0)
    capacity_ah: float = number("Ah", gt=0)
    rate_h: float = number("h, the hours of the rated capacity", gt=0)
    price: float = _price()
    mass_kg: float = number("kg", gt=0)
    length_mm: float | None = number("mm", gt=0, default=None)
    width_mm: float | None = number("mm", gt=0, default=None)
    height_mm: float | None = number("mm", gt=0, default=None)
    absorption_v: float | None = number("V per unit", gt=0, default=None)
    float_v: float | None = number("V per unit", gt=0, default=None)
    short_circuit_a: float | None = number("A", gt=0, default=None)
    built_into: str | None = _maybe("the name of the inverter in the same box")
    warranty_years: float | None = number("years", ge=0, default=None)
    supplier: str | None = _maybe("a supplier's name")
    supplier_code: str | None = _maybe("the supplier's code")
    price_date: date | None = _day()

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks, and a voltage of no class."""
        yield from super().broken()
        if voltage_class(self.voltage_v) is None:
            yield "voltage_v", class_words(self.voltage_v)


class InverterRow(Record):
    """A row of the inverter-chargers."""

    inverter: str = _name("inverter-charger")
    system_v: Literal[12, 24, 48] = declare("whole", "12, 24 or 48 V")
    power_w: float = number("W at 25 °C", gt=0)
    power_w_40c: float | None = number("W at 40 °C", gt=0, default=None)
    power_va: float | None = number("VA at 25 °C", gt=0, default=None)
    surge_w: float = number("W, at least power_w", gt=0)
    efficiency: float = share(gt=0.5, lt=1)
    no_load_w: float = number("W", ge=0)
    standby_w: float = number("W", ge=0)
    charger_a: float = number("A", ge=0)
    transfer_ms: float = number("ms", ge=0)
    mass_kg: float = number("kg", ge=0)
    max_units: int = whole("units", ge=1, le=20)
    life_years: float = number("years", ge=1, le=40)
    price: float = _price()
    pass_through_a: float | None = number(
        "A, continuous, of the transfer switch", gt=0, default=None
    )
    phases: int | None = whole("phases", ge=1, le=3, default=None)
    works_in_parallel: bool | None = declare("flag", "true or false", None)
    warranty_years: float | None = number("years", ge=0, default=None)
    supplier: str | None = _maybe("a supplier's name")
    supplier_code: str | None = _maybe("the supplier's code")
    price_date: date | None = _day()

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        if self.surge_w < self.power_w:
            yield "surge_w", f"at least power_w ({self.power_w:g} W)"

    def made(self) -> Inverter:
        """Return the inverter-charger, ratings left open filled in."""
        return Inverter(**_filled(self, power_w_40c=self.power_w, power_va=self.power_w))


class WorkRow(Record):
    """A row of the works."""

    item: str = _name("work")
    basis: Basis = declare("text", ", ".join(get_args(Basis)[:-1]) + " or vented_bank")
    price: float = _price()
    applies: Literal["first", "swap", "both"] = declare("text", "first, swap or both")

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        if self.basis in {"site", "vented_bank"} and self.applies != "first":
            yield "applies", f"first, the only time a {self.basis} work is due"

    def made(self) -> Work:
        """Return the work."""
        return Work(**dict(self))


class CableRow(Record):
    """A row of the battery cables."""

    section_mm2: float = number("mm²", gt=0)
    ampacity_a: float = number("A", gt=0)
    ohm_per_km: float = number("Ω per km of one conductor", gt=0)
    price_per_m: float = _price()
    conductor_degc: float | None = number(
        "°C, the highest its insulation bears", gt=60, le=200, default=None
    )

    def made(self) -> Cable:
        """Return the cable; the usual insulation where the row states none."""
        return Cable(**_filled(self, conductor_degc=CONDUCTOR_DEGC))


class FuseRow(Record):
    """A row of the battery fuses."""

    rating_a: float = number("A", gt=0)
    price: float = _price()
    breaking_ka: float | None = number("kA", gt=0, default=None)
    rated_v: float | None = number("V of direct current", gt=0, default=None)

    def made(self) -> Fuse:
        """Return the fuse."""
        return Fuse(**dict(self))


class GeneratorRow(Record):
    """A row of the generators."""

    generator: str = _name("generator")
    power_w: float = number("W", gt=0)
    power_va: float | None = number("VA", gt=0, default=None)
    surge_w: float | None = number("W, at least power_w", gt=0, default=None)
    litres_h_full: float = number("l per hour at full power, more than at none", gt=0)
    litres_h_idle: float = number("l per hour without load", ge=0)
    price: float = _price()
    life_years: float = number("years", ge=1, le=40)
    upkeep_year: float | None = number("in the site's currency", ge=0, default=None)
    mass_kg: float | None = number("kg", ge=0, default=None)
    warranty_years: float | None = number("years", ge=0, default=None)
    supplier: str | None = _maybe("a supplier's name")
    supplier_code: str | None = _maybe("the supplier's code")
    price_date: date | None = _day()

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        if self.surge_w is not None and self.surge_w < self.power_w:
            yield "surge_w", f"at least power_w ({self.power_w:g} W)"
        if self.litres_h_idle >= self.litres_h_full:
            yield "litres_h_idle", f"below litres_h_full ({self.litres_h_full:g} l per hour)"

    def made(self) -> Generator:
        """Return the generator, ratings left open filled in."""
        power_w = self.power_w
        return Generator(**_filled(self, power_va=power_w, surge_w=power_w, upkeep_year=0.0))
