"""The sections of the site file: their keys, ranges and words. Defaults stand in `Site`."""

# ruff: noqa: ANN401 - pydantic's Field is typed as Any, so what wraps it is too

from __future__ import annotations

from typing import Annotated, Any, Final, Literal

from pydantic import Field

from optimizer.inputs.columns import Record, declare, number, rate, share, text, whole
from optimizer.model.job import LONGEST_HOURS

Name = Annotated[str, Field(min_length=1, pattern=r"\S")]
TierHours = Annotated[int, Field(ge=1, le=LONGEST_HOURS)]
Degrees = Annotated[float, Field(ge=-40, le=60)]


def _names(what: str, default: Any = ...) -> Any:
    return declare("names", f'a list of {what} such as ["a", "b"]', default, min_length=1)


class SiteKeys(Record):
    """[site]."""

    name: Name = text("the site's name")
    currency: str = declare(
        "text", "a currency code of ISO 4217, three capital letters, e.g. EUR", pattern="^[A-Z]{3}$"
    )
    loads: Name = text("the path of the loads' CSV or XLSX file")
    catalog: Name | None = text("the path of the catalog's folder", default=None)


class ResilienceKeys(Record):
    """[resilience]."""

    tiers: list[Name] = _names("tiers of the loads")
    tier_hours: dict[str, TierHours] = declare(
        "table",
        "a table of whole hours from 1 to 240 by tier, such as { comfort = 2 }: carried for the "
        "first hours of an outage, then let go",
        None,
    )
    target_hours: int = whole("h, at most max_hours", ge=1, le=LONGEST_HOURS)
    max_hours: int = whole("h", ge=1, le=LONGEST_HOURS, default=None)
    design_margin: float = share(ge=0, le=1, default=None)
    recharge_hours: float = number("h", ge=1, le=LONGEST_HOURS, default=None)
    load_growth: float = rate(ge=-0.2, le=0.2, default=None)
    coincidence: float = share(gt=0, le=1, default=None)
    reference_efficiency: float = share(gt=0.5, le=1, default=None)


class OutagesKeys(Record):
    """[outages]: one of three forms."""

    log: Name | None = text("the path of a CSV or XLSX file of start,end", default=None)
    log_years: float | None = number(
        "years that the log covers, at least its span", gt=0, le=200, default=None
    )
    typed: list[list[float]] | None = declare(
        "list", "a list of [hours, times a year] such as [[2.5, 160], [20, 1.5]]", None
    )
    daily: list[str] | None = declare(
        "list", 'a list of cuts such as ["6:00-8:30", "22:00-1:00"], not overlapping', None
    )
    days_per_year: float | None = number("days a year", gt=0, le=366, default=None)


class EconomicsKeys(Record):
    """[economics]."""

    tariff: float = number("in the site's currency per kWh, tax included", ge=0)
    horizon_years: int = whole("years", ge=1, le=40, default=None)
    discount_rate: float = rate(gt=-0.05, lt=0.5, default=None)
    inflation: float = rate(gt=-0.05, lt=0.5, default=None)
    tax_rate: float = share(ge=0, le=1, default=None)
    markup: float = share(ge=0, le=1, default=None)
    residual_share: float = share(ge=0, le=1, default=None)
    min_service_share: float = share(ge=0, le=1, default=None)
    value_of_lost_load: float = number("in the site's currency per kWh", ge=0, default=None)


class BatteryRoomKeys(Record):
    """[battery_room]."""

    min_degc: float = number("°C", ge=-40, le=60)
    mean_degc: float = number("°C, between min_degc and max_degc", ge=-40, le=60)
    max_degc: float = number("°C", ge=-40, le=60)
    monthly_degc: list[Degrees] = declare(
        "list",
        "twelve °C, January first, between min_degc and max_degc, of mean mean_degc (±1)",
        None,
        min_length=12,
        max_length=12,
    )
    vented_allowed: bool = declare("flag", "true or false", None)


class WiringKeys(Record):
    """[wiring]."""

    battery_cable_m: float = number("m one way", gt=0, le=50, default=None)
    max_drop: float = share(gt=0, le=0.1, default=None)


class SupplyKeys(Record):
    """[supply]."""

    voltage_v: float = number("V, one phase", ge=100, le=415, default=None)
    contracts: list[list[float]] = declare(
        "list",
        "a list of [watts, cost a year] such as [[3000, 84], [4500, 171]], both rising",
        None,
        min_length=1,
    )
    peaks: list[list[float]] = declare(
        "list",
        "a list of [watts drawn from the supply, minutes, times a month] such as [[4300, 12, 30]]: "
        "watts above 0, minutes above 0 and at most 240, times above 0 and at most 3000",
        None,
    )


class GeneratorKeys(Record):
    """[generator]."""

    quiet: str = declare(
        "text", "one window of whole hours in which it may not run, such as 21:00-7:00", None
    )
    start_after_h: int = whole("h", ge=0, le=24, default=None)
    fuel_price: float = number("in the site's currency per litre", ge=0)
    max_stored_l: float = number("l", ge=0)
    fuel_keeps_years: int = whole("years", ge=1, le=10, default=None)


class LimitsKeys(Record):
    """[limits]."""

    budget: float = number("in the site's currency", ge=0, default=None)
    lifetime_budget: float = number("in the site's currency", ge=0, default=None)
    later_limit: float = number("in the site's currency in any later year", ge=0, default=None)
    max_bank_kg: float = number("kg", gt=0, default=None)
    max_parallel: int = whole("strings", ge=1, default=None)
    voltages: list[Literal[12, 24, 48]] = declare(
        "list", "a list of system voltages out of 12, 24 and 48", None, min_length=1
    )
    exclude: list[Name] = declare(
        "names", 'a list of batteries, inverters or chemistries such as ["a", "b"]', None
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
