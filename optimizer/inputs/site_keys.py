"""The sections of the site file: their keys and the facts about each. Defaults stand in `Site`."""

# ruff: noqa: ANN401 - pydantic's Field is typed as Any, so what wraps it is too

from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import AfterValidator, Field, Strict

from optimizer.inputs.cells import CellError, windows
from optimizer.inputs.columns import (
    MONEY,
    NAME_CHARACTERS,
    PARAGRAPH_CHARACTERS,
    Kind,
    Record,
    declare,
    flag,
    number,
    rate,
    share,
    text,
    whole,
)
from optimizer.model.job import LONGEST_HOURS, GeneratorRules, Site
from optimizer.model.phrase import Phrase

Name = Annotated[str, Field(min_length=1, max_length=NAME_CHARACTERS, pattern=r"\S")]
Paragraph = Annotated[str, Field(min_length=1, max_length=PARAGRAPH_CHARACTERS, pattern=r"\S")]
TierHours = Annotated[int, Field(ge=1, le=LONGEST_HOURS)]
Degrees = Annotated[float, Field(ge=-40, le=60)]
Positive = Annotated[float, Field(gt=0)]
NotNegative = Annotated[float, Field(ge=0)]
#: A leap year [h]: longest outage, and most of them in a year.
YEAR_H: Final = 8784
HoursOrTimes = Annotated[float, Field(gt=0, le=YEAR_H)]


def _cut(text: str) -> str:
    windows(text.strip())
    return text


def _night(text: str) -> str:
    found = windows(text.strip())
    if len(found) != 1 or any(not hour.is_integer() for hour in found[0]):
        raise CellError
    return text


# a file's list stands for a tuple: of each the numbers that its wording names
Typed = Annotated[tuple[HoursOrTimes, HoursOrTimes], Strict(False)]
Step = Annotated[tuple[Positive, NotNegative], Strict(False)]
MostMinutes = Annotated[float, Field(gt=0, le=240)]
MostTimes = Annotated[float, Field(gt=0, le=3000)]
PeakDrawn = Annotated[tuple[Positive, MostMinutes, MostTimes], Strict(False)]


#: Where defaults come from.
_CHOICE: Final = "this project's choice"
_PRACTICE: Final = "common practice, from memory"
_NOTHING: Final = "none unless you say so"


def currency_code(help: str) -> Any:
    """Declare a currency."""
    wanted = "a currency code of ISO 4217, three capital letters, e.g. EUR"
    return declare(Kind.TEXT, wanted, help, pattern="^[A-Z]{3}$")


def names(what: str, help: str = "", **facts: Any) -> Any:
    """Declare a list of names."""
    return declare(Kind.LIST, f'a list of {what} such as ["a", "b"]', help, **facts)


class SiteKeys(Record):
    """[site]."""

    name: Name = text("the site's name")
    currency: str = currency_code("of all prices")
    loads: Name = text("the path of the loads' CSV or XLSX file")
    catalog: Name | None = text("the path of the catalog's folder")


class ResilienceKeys(Record):
    """[resilience]."""

    defaults: ClassVar[Any] = Site

    tiers: list[Name] = names(
        "tiers of the loads",
        "Loads of other tiers are left out: they wait for the grid.",
        min_length=1,
    )
    tier_hours: dict[str, TierHours] | None = declare(
        Kind.BY_NAME,
        f"a table of whole hours from 1 to {LONGEST_HOURS} by tier, such as {{ comfort = 2 }}",
        "tiers carried for the first hours of an outage, then let go",
        unit="h",
    )
    target_hours: int = whole(
        "h",
        "The longest outage to be carried, from its worst start.",
        note=Phrase("and at most {key}", key="max_hours"),
        ge=1,
        le=LONGEST_HOURS,
    )
    max_hours: int | None = whole(
        "h", "How far the curve is drawn.", ge=1, le=LONGEST_HOURS, source=_CHOICE
    )
    beyond_max_hours: bool | None = flag(
        f"Whether a budget that reaches max_hours is followed to {LONGEST_HOURS} h.",
        source=_CHOICE,
    )
    design_margin: float | None = share(
        "Added to the energy that must be carried.", ge=0, le=1, source=_PRACTICE
    )
    recharge_hours: float | None = number(
        "h",
        "After an outage the bank must be full within this.",
        ge=1,
        le=LONGEST_HOURS,
        source=_CHOICE,
    )
    load_growth: float | None = rate(
        "Each year needs this much more.", ge=-0.2, le=0.2, source="the loads as they are listed"
    )
    coincidence: float | None = share(
        "Share of the loads that ever run together.", gt=0, le=1, source="the severe case"
    )
    reference_efficiency: float | None = share(
        "Used for the depth of each outage only.", gt=0.5, le=1, source="from memory"
    )


class OutagesKeys(Record):
    """[outages]: one of three forms."""

    log: Name | None = text("the path of a CSV or XLSX file of start,end")
    log_years: float | None = number(
        "years",
        "At least from its first outage to its last.",
        note="that the log covers, at least its span",
        gt=0,
        le=200,
    )
    typed: list[Typed] | None = declare(
        Kind.LIST,
        "a list of [hours, times a year] such as [[2.5, 160], [20, 1.5]], each above 0 and at "
        f"most {YEAR_H}",
        "how long and how often",
        min_length=1,
    )
    daily: list[Annotated[str, AfterValidator(_cut)]] | None = declare(
        Kind.LIST,
        'a list of cuts such as ["6:00-8:30", "22:00-1:00"], not overlapping',
        "scheduled cuts, with days_per_year",
        unit="h of the day",
        min_length=1,
    )
    days_per_year: float | None = number(
        "days a year", "On how many days the cuts happen.", gt=0, le=366
    )


class EconomicsKeys(Record):
    """[economics]."""

    defaults: ClassVar[Any] = Site

    tariff: float = number(f"{MONEY} per kWh", "Of the grid's energy, tax included.", ge=0)
    horizon_years: int | None = whole(
        "years", "Cost is counted over these.", ge=1, le=40, source=_CHOICE
    )
    discount_rate: float | None = rate(
        "Above inflation; what money earns elsewhere.", gt=-0.05, lt=0.5, source=_PRACTICE
    )
    inflation: float | None = rate(
        "Only for sums in money of the day.",
        gt=-0.05,
        lt=0.5,
        source="what many central banks aim at",
    )
    tax_rate: float | None = share("On equipment and works.", ge=0, le=1, source=_NOTHING)
    markup: float | None = share("On the price list, before tax.", ge=0, le=1, source=_NOTHING)
    residual_share: float | None = share(
        "What unused life fetches at the end, of its price.",
        ge=0,
        le=1,
        source="straight-line, common practice",
    )
    min_service_share: float | None = share(
        "No bank is replaced before this share of its life.", ge=0, le=1, source=_CHOICE
    )
    value_of_lost_load: float | None = number(
        f"{MONEY} per kWh", "Names the cost of doing nothing; optional.", ge=0
    )


class BatteryRoomKeys(Record):
    """[battery_room]."""

    defaults: ClassVar[Any] = Site

    min_degc: float = number("°C", "Cold banks give less; some may not charge.", ge=-40, le=60)
    mean_degc: float = number(
        "°C",
        "Warm banks age faster.",
        note=Phrase("and between {low} and {high}", low="min_degc", high="max_degc"),
        ge=-40,
        le=60,
    )
    max_degc: float = number("°C", "Hot inverters give less.", ge=-40, le=60)
    monthly_degc: list[Degrees] | None = declare(
        Kind.LIST,
        "twelve °C, January first, between min_degc and max_degc, of mean mean_degc (±1)",
        "A warm summer ages a bank more than a cool winter saves.",
        unit="°C",
        min_length=12,
        max_length=12,
    )
    vented_allowed: bool | None = flag(
        "Only then are vented batteries allowed; valve-regulated lead-acid needs fresh air too.",
        source="the safe side",
    )


class WiringKeys(Record):
    """[wiring]."""

    defaults: ClassVar[Any] = Site

    battery_cable_m: float | None = number(
        "m", "From the bank to the inverter, one way.", gt=0, le=50, source=_PRACTICE
    )
    max_drop: float | None = share(
        "In the battery cable at full power.", gt=0, le=0.1, source=_PRACTICE
    )


class SupplyKeys(Record):
    """[supply]."""

    voltage_v: float | None = number(
        "V",
        "One phase of the supply.",
        ge=100,
        le=415,
        source="IEC 60038",
        default=Site.__dataclass_fields__["supply_voltage_v"].default,
    )
    service_fuse_a: float | None = number(
        "A", "Of one phase; what chargers and loads draw is held against it.", gt=0, le=1000
    )
    contracts: list[Step] | None = declare(
        Kind.LIST,
        "a list of [watts, cost a year] such as [[3000, 84], [4500, 171]], both rising",
        "Steps of the supply contract to choose from.",
        min_length=1,
    )
    peaks: list[PeakDrawn] | None = declare(
        Kind.LIST,
        "a list of [watts drawn from the supply, minutes, times a month] such as [[4300, 12, 30]]: "
        "watts above 0, minutes above 0 and at most 240, times above 0 and at most 3000",
        "What is drawn at times while the grid is there.",
    )


class GeneratorKeys(Record):
    """[generator]."""

    defaults: ClassVar[Any] = GeneratorRules

    quiet: Annotated[str, AfterValidator(_night)] | None = text(
        "one window of whole hours such as 21:00-7:00", "When the generator may not run."
    )
    start_after_h: int | None = whole(
        "h", "So long into an outage it is started.", ge=0, le=24, source=_CHOICE
    )
    fuel_price: float = number(f"{MONEY} per litre", "Of its fuel.", ge=0)
    max_stored_l: float = number("l", "Fuel that may be kept.", ge=0)
    fuel_keeps_years: int | None = whole(
        "years", "Then stored fuel is renewed.", ge=1, le=10, source=_PRACTICE
    )


class LimitsKeys(Record):
    """[limits]."""

    budget: float | None = number(MONEY, "Upfront cost, at most.", ge=0)
    lifetime_budget: float | None = number(MONEY, "Life-cycle cost, at most.", ge=0)
    later_limit: float | None = number(MONEY, "Most that any later year may cost.", ge=0)
    max_bank_kg: float | None = number("kg", "The bank may weigh this much.", gt=0)
    max_parallel: int | None = whole("strings", "In parallel, at most.", ge=1)
    voltages: list[Literal[12, 24, 48]] | None = declare(
        Kind.LIST,
        "a list of system voltages out of 12, 24 and 48",
        "Which are allowed.",
        unit="V",
        min_length=1,
    )
    exclude: list[Name] | None = names(
        "batteries, inverters or chemistries", "Batteries, inverters or chemistries not wanted."
    )


SECTIONS: Final[dict[str, type[Record]]] = {
    "site": SiteKeys,
    "resilience": ResilienceKeys,
    "outages": OutagesKeys,
    "economics": EconomicsKeys,
    "battery_room": BatteryRoomKeys,
    "wiring": WiringKeys,
    "supply": SupplyKeys,
    "generator": GeneratorKeys,
    "limits": LimitsKeys,
}
#: Sections that ask for something only where they stand.
OPTIONAL_SECTIONS: Final = frozenset({"generator"})
