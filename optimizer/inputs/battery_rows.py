"""Columns of batteries and chemistries, their facts, and the rules between them."""

# ruff: noqa: ANN401 - pydantic's Field is typed as Any, so what wraps it is too

from collections.abc import Iterator
from datetime import date
from itertools import pairwise
from typing import Annotated, Any, Final

from pydantic import AfterValidator

from optimizer.inputs.columns import (
    MONEY,
    Broken,
    Kind,
    Record,
    choice,
    declare,
    number,
    rate,
    share,
    text,
    whole,
)
from optimizer.inputs.faults import at_most
from optimizer.inputs.voltage import class_words, voltage_class
from optimizer.model.job import Gas
from optimizer.model.phrase import Phrase

Points = tuple[tuple[float, float], ...]


def _rising(values: tuple[float, ...]) -> bool:
    return all(low < high for low, high in pairwise(values))


def _depths(values: tuple[float, ...]) -> tuple[float, ...]:
    if not (_rising(values) and values[0] > 0 and values[-1] <= 1):
        raise ValueError
    return values


def _cycle_points(points: Points) -> Points:
    depths, cycles = zip(*points, strict=True)
    in_range = depths[0] > 0 and depths[-1] <= 1 and cycles[-1] >= 1
    if not (in_range and _rising(depths) and _rising(cycles[::-1])):
        raise ValueError
    return points


def _cold_points(points: Points) -> Points:
    degrees, shares = zip(*points, strict=True)
    if not (_rising(degrees) and _rising(shares) and shares[0] > 0 and shares[-1] <= 1):
        raise ValueError
    return points


Depths = Annotated[tuple[float, ...], AfterValidator(_depths)]
CyclePoints = Annotated[Points, AfterValidator(_cycle_points)]
ColdPoints = Annotated[Points, AfterValidator(_cold_points)]


def name_of(what: str) -> Any:
    """Declare the name by which a row is known."""
    return text(f"the name of the {what}", "unique in the table")


def price() -> Any:
    """Declare a price."""
    return number(MONEY, "net of the site's markup and tax", ge=0)


class Bought(Record):
    """Where a row's thing is bought."""

    warranty_years: float | None = number("years", "the maker's warranty", ge=0)
    supplier: str | None = text("a supplier's name")
    supplier_code: str | None = text("the supplier's code")
    price_date: date | None = declare(
        Kind.DAY, "a date such as 2026-01-31", "when the price was asked"
    )


class Traits(Record):
    """What a battery has from its chemistry wherever its own row leaves it open."""

    peukert: float | None = number("", "Peukert's exponent: loss at high currents", ge=1, le=1.6)
    max_dod: Depths | None = declare(
        Kind.DEPTHS,
        "a share above 0, at most 1, or several to choose from such as 0.5;0.8, rising",
        "depth of discharge the bank may be drawn to",
    )
    float_life_years: float | None = number("years", "life on float, without cycles", gt=0, le=40)
    float_life_degc: float | None = number(
        "°C", "temperature for which that life is stated", ge=15, le=30, default=20
    )
    halving_degc: float | None = number("K", "warmer by this, it ages twice as fast", gt=0, le=50)
    cycle_points: CyclePoints | None = declare(
        Kind.POINTS,
        "depth:cycles points such as 0.5:1200;0.8:600, depths rising (above 0, at most 1), cycles "
        "falling (1 or more)",
        "cycles it lasts by their depth",
        unit="depth:cycles",
    )
    end_of_life_soh: float | None = share("capacity left when it is worn out", ge=0.5, lt=1)
    discharge_rate_max: float | None = number(
        "per hour", "current allowed for hours, of the capacity", gt=0, le=20
    )
    surge_rate_max: float | None = number(
        "per hour",
        "current allowed for the seconds of a start; blank: no more than for hours",
        note=Phrase("for the seconds of a start, and at least {key}", key="discharge_rate_max"),
        least="discharge_rate_max",
        gt=0,
        le=100,
    )
    charge_rate_min: float | None = number("per hour", "least charging current", ge=0, le=5)
    charge_rate_max: float | None = number("per hour", "highest charging current", ge=0, le=5)
    charge_factor: float | None = number("Ah/Ah", "charge put in for charge taken", ge=1, le=2)
    round_trip: float | None = share("energy out for energy in, the charger included", gt=0, le=1)
    self_discharge_month: float | None = share("charge lost in a month at rest", ge=0, le=0.5)
    float_ma_ah: float | None = number(
        "mA per Ah", "current held on float; blank: from the self-discharge", ge=0, le=20
    )
    upkeep_year: float | None = number(f"{MONEY} per year", "upkeep of one unit", ge=0)
    scrap_value: float | None = number(MONEY, "what a worn unit fetches", ge=0)
    price_drift: float | None = rate("change of its price in real terms", ge=-0.5, le=0.5)
    min_charge_degc: float | None = number("°C", "coldest it may be charged", ge=-40, le=40)
    cold_points: ColdPoints | None = declare(
        Kind.POINTS,
        "degC:share points such as 0:0.71;10:0.84;25:1, temperatures rising, shares rising (above "
        "0, at most 1)",
        "capacity it gives in the cold",
        unit="°C:share",
    )
    max_series: int | None = whole("units", "in series, at most", ge=1, le=40)
    max_parallel: int | None = whole("strings", "in parallel, at most", ge=1, le=40)

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        yield from super().broken()
        low, high = self.charge_rate_min, self.charge_rate_max
        if low is not None and high is not None and low > high:
            yield "charge_rate_min", at_most("charge_rate_max", high, "per hour")


#: The fields that a battery takes over from its chemistry.
TRAITS: Final = tuple(Traits.model_fields)
#: Those that neither needs to say: the model has a rule of its own without them.
OPEN_TRAITS: Final = frozenset({"float_life_degc", "surge_rate_max", "float_ma_ah"})


class ChemistryRow(Traits):
    """A row of the chemistries: what holds for every battery of one kind."""

    chemistry: str = name_of("chemistry")
    family: str | None = text("a word such as lead or lithium", "by which chemistries are compared")
    gas: Gas | None = choice(Gas, "whether it gives off gas as it charges", kind=Kind.GAS)


class BatteryRow(Traits, Bought):
    """A row of the batteries."""

    battery: str = name_of("battery")
    chemistry: str = text("the name of a chemistry")
    voltage_v: float = number("V", "nominal", gt=0)
    capacity_ah: float = number("Ah", "rated capacity", gt=0)
    rate_h: float = number("h", "hours of the rated discharge", gt=0)
    price: float = price()
    mass_kg: float = number("kg", "of one unit", gt=0)
    length_mm: float | None = number("mm", "of one unit", gt=0)
    width_mm: float | None = number("mm", "of one unit", gt=0)
    height_mm: float | None = number("mm", "of one unit", gt=0)
    absorption_v: float | None = number("V", "charging voltage of one unit", gt=0)
    float_v: float | None = number("V", "voltage of one unit held on float", gt=0)
    short_circuit_a: float | None = number("A", "into a short circuit", gt=0)
    built_into: str | None = text("the name of the inverter in the same box")

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks, and a voltage of no class."""
        yield from super().broken()
        if voltage_class(self.voltage_v) is None:
            yield "voltage_v", class_words(self.voltage_v)
