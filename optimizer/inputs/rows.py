"""Columns of every table but the batteries: their facts, and the rules between them."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from optimizer.inputs.battery_rows import Bought, name_of, price
from optimizer.inputs.columns import (
    MONEY,
    Broken,
    Kind,
    Record,
    choice,
    declare,
    flag,
    number,
    share,
    text,
    whole,
)
from optimizer.inputs.faults import hinted
from optimizer.model.job import (
    CONDUCTOR_DEGC,
    Applies,
    Basis,
    Cable,
    Fuse,
    Generator,
    Inverter,
    Load,
    Work,
)
from optimizer.model.part import UNRATED_KINDS, ListedKind, ListedPart, PartKind
from optimizer.model.phrase import Phrase

Multiplier = Annotated[float, Field(ge=0, le=10)]


class LoadRow(Record):
    """A row of the load survey."""

    load: str = name_of("load")
    tier: str = text("the tier of the load, e.g. essential")
    count: int = whole("pieces", "how many of them", ge=1, le=10_000)
    running_w: float = number("W", "power of one while it runs", gt=0, le=1_000_000)
    power_factor: float = share(
        "real over apparent power: 1 for heaters, 0.6 to 0.9 for motors", gt=0, le=1
    )
    starting_w: float | None = number(
        "W", "power of one as it starts; blank where it starts gently", least="running_w", gt=0
    )
    hours: tuple[tuple[float, float], ...] = declare(
        Kind.WINDOWS,
        "windows of the day such as 22:00-6:00;6:30-8:00, not overlapping",
        "when it may run",
        unit="h of the day",
    )
    duty: float = share("share of those hours in which it runs", gt=0, le=1)
    seasons: dict[str, Multiplier] | None = declare(
        Kind.MULTIPLIERS,
        "season:multiplier pairs such as winter:1.2;summer:0.6, multipliers from 0 to 10",
        "more or less by season; 1 where none is named",
    )
    critical: bool | None = flag("health or safety hangs on it", default=False)
    never_off: bool | None = flag("nobody would switch it off", default=False)
    only_with: str | None = text(
        "the name of another load", "without which this one serves nothing", alias="with"
    )

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        yield from super().broken()
        if self.only_with is not None and self.only_with == self.load:
            yield "with", Phrase("another load, without which this one serves nothing")

    def made(self) -> Load:
        """Return the load."""
        values = dict(self) | {"starting_w": self.starting_w or self.running_w}
        values |= {"critical": bool(self.critical), "never_off": bool(self.never_off)}
        windows, multipliers = values.pop("hours"), values.pop("seasons") or {}
        return Load(windows=windows, season_multipliers=multipliers, **values)


def clocks_back(early: datetime, late: datetime) -> Phrase | None:
    """Return what to do where a time could be right, had clocks gone back an hour, or None."""
    if early.tzinfo is not None or late - early > timedelta(hours=1):
        return None
    return Phrase("where clocks went back in between, with offsets: 2026-10-25T02:20+01:00")


class OutageRow(Record):
    """A row of the outage log."""

    start: datetime = declare(
        Kind.MOMENT,
        "local date and time such as 2026-01-31T17:40",
        "local; with an offset from UTC in every row, or in none",
    )
    end: datetime = declare(Kind.MOMENT, "local date and time such as 2026-01-31T20:10", "likewise")

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        if (self.end.tzinfo is None) != (self.start.tzinfo is None):
            yield "end", Phrase("an offset from UTC in both times, or in neither")
        elif self.end <= self.start:
            after = Phrase("after start ({start})", start=self.start.isoformat())
            yield "end", hinted(after, clocks_back(self.end, self.start))


class InverterRow(Bought):
    """A row of the inverter-chargers: price, how it is combined, what it gives and takes."""

    makes: ClassVar = Inverter
    left_open: ClassVar = {"power_w_40c": "power_w", "power_va": "power_w"}

    inverter: str = name_of("inverter-charger")
    price: float = price()
    life_years: float = number("years", "service life", ge=1, le=40)
    system_v: Literal[12, 24, 48] = declare(Kind.WHOLE, "12, 24 or 48 V", "battery side", unit="V")
    max_units: int = whole("units", "at work together, at most", ge=1, le=20)
    surge_w: float = number("W", "for seconds", least="power_w", gt=0)
    power_va: float | None = number("VA", "at 25 °C; blank: as power_w", gt=0)
    power_w: float = number("W", "continuous at 25 °C", gt=0)
    power_w_40c: float | None = number("W", "continuous at 40 °C; blank: as at 25 °C", gt=0)
    efficiency: float = share("of the inverter, its own draw apart", gt=0.5, lt=1)
    no_load_w: float = number("W", "drawn from the bank while it runs", ge=0)
    standby_w: float = number("W", "drawn from the grid all year", ge=0)
    charger_a: float = number("A", "charging current", ge=0)
    pass_through_a: float | None = number("A", "continuous, of the transfer switch", gt=0)
    transfer_ms: float = number("ms", "until it carries the loads", ge=0)
    works_in_parallel: bool | None = flag("adds to a limited supply", default=False)
    phases: int | None = whole("phases", "of the supply", ge=1, le=3)
    mass_kg: float = number("kg", "of one unit", ge=0)


class WorkRow(Record):
    """A row of the works."""

    makes: ClassVar = Work

    item: str = name_of("work")
    basis: Basis = choice(Basis, "what it is counted by")
    price: float = price()
    applies: Applies = choice(Applies, "at the first purchase, at later ones")

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        if self.basis in {"site", "vented_bank"} and self.applies != "first":
            only = Phrase("first, the only time a {basis} work is due", basis=self.basis)
            yield "applies", only


class CableRow(Record):
    """A row of the battery cables."""

    makes: ClassVar = Cable
    left_open: ClassVar = {"conductor_degc": CONDUCTOR_DEGC}

    section_mm2: float = number("mm²", "of one conductor", gt=0)
    ampacity_a: float = number("A", "continuous at 30 °C", gt=0)
    ohm_per_km: float = number("Ω/km", "of one conductor", gt=0)
    price_per_m: float = number(f"{MONEY} per m", "of one conductor", ge=0)
    conductor_degc: float | None = number(
        "°C", "highest its insulation bears", gt=60, le=200, default=CONDUCTOR_DEGC
    )


class FuseRow(Record):
    """A row of the battery fuses."""

    makes: ClassVar = Fuse

    rating_a: float = number("A", "rated current", gt=0)
    price: float = price()
    breaking_ka: float | None = number("kA", "breaking capacity", gt=0)
    rated_v: float | None = number("V", "of direct current; blank: not stated", gt=0)


class PartRow(Bought):
    """A row of the other parts of the circuit: isolators, busbars, breakers and the like."""

    kind: ListedKind = choice(ListedKind, "what it is")
    rating_a: float | None = number(
        "A", "rated current; blank for pre_charge and surge_protection", gt=0
    )
    price: float = price()
    rated_v: float | None = number("V", "of direct current; blank: not stated", gt=0)

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        if self.rating_a is None and PartKind(self.kind) not in UNRATED_KINDS:
            yield "rating_a", Phrase("a rated current, which a {kind} is chosen by", kind=self.kind)

    def made(self) -> ListedPart:
        """Return the part."""
        return ListedPart(**dict(self) | {"kind": PartKind(self.kind)})


class GeneratorRow(Bought):
    """A row of the generators."""

    makes: ClassVar = Generator
    left_open: ClassVar = {"power_va": "power_w", "surge_w": "power_w", "upkeep_year": 0.0}

    generator: str = name_of("generator")
    power_w: float = number("W", "continuous", gt=0)
    power_va: float | None = number("VA", "blank: as power_w", gt=0)
    surge_w: float | None = number("W", "for seconds; blank: as power_w", least="power_w", gt=0)
    litres_h_full: float = number("l per hour", "at full power", gt=0)
    litres_h_idle: float = number(
        "l per hour", "without load", note=Phrase("and below {key}", key="litres_h_full"), ge=0
    )
    price: float = price()
    life_years: float = number("years", "service life", ge=1, le=40)
    upkeep_year: float | None = number(f"{MONEY} per year", "upkeep", ge=0, default=0)
    mass_kg: float | None = number("kg", "without fuel", ge=0)

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the row breaks."""
        yield from super().broken()
        if self.litres_h_idle >= self.litres_h_full:
            full = f"{self.litres_h_full:g}"
            yield "litres_h_idle", Phrase("below litres_h_full ({full} l per hour)", full=full)
