"""One model for each table: its columns, their ranges, and the rules between the columns."""

# ruff: noqa: ANN401 - pydantic's Field is typed as Any, so what wraps it is too

from __future__ import annotations

# pydantic reads these at run time
from collections.abc import Iterator  # noqa: TC003
from datetime import date, datetime  # noqa: TC003
from itertools import pairwise
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field

from optimizer.inputs.columns import Broken, Record, declare, number, rate, share, text, whole
from optimizer.inputs.voltage import class_words, voltage_class

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


CyclePoints = Annotated[Points, AfterValidator(_cycle_points)]
ColdPoints = Annotated[Points, AfterValidator(_cold_points)]
Multiplier = Annotated[float, Field(ge=0, le=10)]

CYCLE_WORDS = (
    "depth:cycles points such as 0.5:1200;0.8:600, depths rising (above 0, at most 1), cycles "
    "falling (above 0)"
)
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

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        if self.starting_w is not None and self.starting_w < self.running_w:
            wanted = f"empty, or at least running_w ({self.running_w:g} W)"
            yield "starting_w", wanted


class OutageRow(Record):
    """A row of the outage log."""

    start: datetime = declare("moment", "local date and time such as 2026-01-31T17:40")
    end: datetime = declare("moment", "local date and time such as 2026-01-31T20:10")

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        if self.end <= self.start:
            yield "end", f"after start ({self.start.isoformat()})"


class Traits(Record):
    """What a battery has from its chemistry wherever its own row leaves it open."""

    peukert: float | None = number("(Peukert's exponent)", ge=1, le=1.6, default=None)
    max_dod: float | None = share(gt=0, le=1, default=None)
    float_life_years: float | None = number("years at 20 °C", gt=0, le=40, default=None)
    halving_degc: float | None = number("°C", gt=0, le=50, default=None)
    cycle_points: CyclePoints | None = declare("points", CYCLE_WORDS, None)
    end_of_life_soh: float | None = share(ge=0.5, lt=1, default=None)
    discharge_rate_max: float | None = number("per hour", gt=0, le=20, default=None)
    charge_rate_min: float | None = number("per hour", ge=0, le=5, default=None)
    charge_rate_max: float | None = number("per hour", ge=0, le=5, default=None)
    charge_factor: float | None = number("(Ah in per Ah out)", ge=1, le=2, default=None)
    round_trip: float | None = share(gt=0, le=1, default=None)
    self_discharge_month: float | None = share(ge=0, le=0.5, default=None)
    upkeep_year: float | None = number("in the site's currency, per unit", ge=0, default=None)
    scrap_value: float | None = number("in the site's currency, per unit", ge=0, default=None)
    price_drift: float | None = rate(ge=-0.3, le=0.3, default=None)
    min_charge_degc: float | None = number("°C", ge=-40, le=40, default=None)
    cold_points: ColdPoints | None = declare("points", COLD_WORDS, None)
    max_series: int | None = whole("units", ge=1, le=40, default=None)
    max_parallel: int | None = whole("strings", ge=1, le=40, default=None)

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        low, high = self.charge_rate_min, self.charge_rate_max
        if low is not None and high is not None and low > high:
            yield "charge_rate_min", f"at most charge_rate_max ({high:g} per hour)"


#: The fields that a battery takes over from its chemistry.
TRAITS: tuple[str, ...] = tuple(Traits.model_fields)


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


class WorkRow(Record):
    """A row of the works."""

    item: str = _name("work")
    basis: Literal["site", "inverter_unit", "battery_unit", "string", "kg", "vented_bank"] = (
        declare("text", "site, inverter_unit, battery_unit, string, kg or vented_bank")
    )
    price: float = _price()
    applies: Literal["first", "swap", "both"] = declare("text", "first, swap or both")

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        if self.basis in {"site", "vented_bank"} and self.applies != "first":
            yield "applies", f"first, the only time a {self.basis} work is due"


class CableRow(Record):
    """A row of the battery cables."""

    section_mm2: float = number("mm²", gt=0)
    ampacity_a: float = number("A", gt=0)
    ohm_per_km: float = number("Ω per km of one conductor", gt=0)
    price_per_m: float = _price()


class FuseRow(Record):
    """A row of the battery fuses."""

    rating_a: float = number("A", gt=0)
    price: float = _price()
    breaking_ka: float | None = number("kA", gt=0, default=None)
