"""What has been read from the files: the site, its loads and outages, and the price list.

Plain frozen data. Everything here has been checked by ``optimizer.inputs``; later stages rely on
it. Units stand in the names; shares are 0…1; money is in the site's currency.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import ClassVar, Literal, Self

from optimizer.model.outages import Outages, Window
from optimizer.model.part import ListedPart
from optimizer.model.supposed import Supposing
from optimizer.model.warning import JobWarning

Gas = Literal["vented", "valve_regulated", "none"]
Basis = Literal[
    "site", "inverter_unit", "battery_unit", "string", "parallel_string", "kg", "vented_bank"
]
Applies = Literal["first", "swap", "both"]

#: Longest autonomy and longest refill that a site may ask for [h]: ten days.
LONGEST_HOURS = 240

#: Temperature for which a float life holds where nobody states one [°C]: EUROBAT's classes (from
#: memory).
FLOAT_LIFE_DEGC = 20.0

#: Highest conductor temperature of a cable that states none [°C]: PVC insulation, IEC 60364-5-52.
CONDUCTOR_DEGC = 70.0


@dataclass(frozen=True, slots=True)
class Season:
    """A part of the year with its own loads: its name and its months (1…12)."""

    name: str
    months: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """One row of the load survey; watts are of one unit, windows in hours of the day.

    ``only_with`` names another load without which this one serves nothing.
    """

    load: str
    tier: str
    count: int
    running_w: float
    power_factor: float
    starting_w: float
    windows: tuple[Window, ...]
    duty: float
    season_multipliers: Mapping[str, float]
    critical: bool = False
    never_off: bool = False
    only_with: str | None = None

    @property
    def stays_on(self) -> bool:
        """Whether nobody is ever to be told to switch it off."""
        return self.critical or self.never_off


@dataclass(frozen=True, slots=True, kw_only=True)
class Contract:
    """A step of the supply contract: what it lets through, and what it costs a year."""

    power_w: float
    cost_year: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Peak:
    """What the site draws from the supply at times, the grid being there."""

    power_w: float
    minutes: float
    times_a_month: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GeneratorRules:
    """When a generator may run here, and its fuel.

    ``quiet`` is the window of whole hours in which it may not run; it runs from
    ``start_after_h`` [h] into an outage. Stored fuel is renewed after ``fuel_keeps_years``.
    """

    fuel_price: float
    max_stored_l: float
    quiet: Window | None = None
    start_after_h: int = 1
    fuel_keeps_years: int = 1

    @property
    def quiet_hours(self) -> int:
        """Hours of a day in which it may not run [h]."""
        return 0 if self.quiet is None else round(self.quiet[1] - self.quiet[0])

    @property
    def night_hours(self) -> int:
        """Hours that the bank carries between two refills, the start counted [h]."""
        return self.start_after_h + self.quiet_hours


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """The place, what it asks for, and the money; one field for each key of the site file."""

    name: str
    currency: str
    seasons: tuple[Season, ...]
    tiers: tuple[str, ...]
    target_hours: int
    tariff: float
    min_degc: float
    mean_degc: float
    max_degc: float
    max_hours: int = 48
    beyond_max_hours: bool = True
    design_margin: float = 0.10
    recharge_hours: float = 24.0
    load_growth: float = 0.0
    coincidence: float = 1.0
    reference_efficiency: float = 0.88
    horizon_years: int = 10
    discount_rate: float = 0.03
    inflation: float = 0.02
    tax_rate: float = 0.0
    markup: float = 0.0
    residual_share: float = 1.0
    min_service_share: float = 0.5
    value_of_lost_load: float | None = None
    vented_allowed: bool = False
    battery_cable_m: float = 2.0
    max_drop: float = 0.02
    budget: float | None = None
    lifetime_budget: float | None = None
    later_limit: float | None = None
    max_bank_kg: float | None = None
    max_parallel: int | None = None
    voltages: tuple[int, ...] = (12, 24, 48)
    exclude: tuple[str, ...] = ()
    tier_hours: Mapping[str, int] = field(default_factory=dict)
    monthly_degc: tuple[float, ...] | None = None
    supply_voltage_v: float = 230.0
    service_fuse_a: float | None = None
    contracts: tuple[Contract, ...] = ()
    peaks: tuple[Peak, ...] = ()
    generator: GeneratorRules | None = None

    @property
    def room_degc(self) -> tuple[float, ...]:
        """The battery room's temperatures in equal parts of the year [°C]."""
        return self.monthly_degc or (self.mean_degc,)


@dataclass(frozen=True, slots=True, kw_only=True)
class Battery:
    """One battery model, with what its row left open filled in from its chemistry.

    ``class_v`` is the nominal class (2, 3, 6, 8, 12, 24 or 48 V) by which units are put in
    series. ``max_dod`` is the depth this bank is drawn to; ``max_dods`` are all depths that its
    row lists, each a choice of its own (`at_each_depth`). ``surge_rate_max`` [1/h] holds for the
    seconds of a start. ``built_into`` names the inverter in the same box. ``sources`` tells for
    each field filled from elsewhere where it came from.
    """

    battery: str
    chemistry: str
    family: str
    gas: Gas
    voltage_v: float
    class_v: int
    capacity_ah: float
    rate_h: float
    price: float
    mass_kg: float
    peukert: float
    max_dod: float
    float_life_years: float
    halving_degc: float
    cycle_points: tuple[tuple[float, float], ...]
    end_of_life_soh: float
    discharge_rate_max: float
    charge_rate_min: float
    charge_rate_max: float
    charge_factor: float
    round_trip: float
    self_discharge_month: float
    upkeep_year: float
    scrap_value: float
    price_drift: float
    min_charge_degc: float
    cold_points: tuple[tuple[float, float], ...]
    max_series: int
    max_parallel: int
    length_mm: float | None = None
    width_mm: float | None = None
    height_mm: float | None = None
    absorption_v: float | None = None
    float_v: float | None = None
    short_circuit_a: float | None = None
    warranty_years: float | None = None
    supplier: str | None = None
    supplier_code: str | None = None
    price_date: date | None = None
    sources: Mapping[str, str] = field(default_factory=dict)
    max_dods: tuple[float, ...] = ()
    surge_rate_max: float | None = None
    float_life_degc: float = FLOAT_LIFE_DEGC
    float_ma_ah: float | None = None
    built_into: str | None = None

    @property
    def charging_v(self) -> float:
        """Voltage of a unit while it is charged, 14 V for each 12 V where not given [V]."""
        return self.class_v * 14 / 12 if self.absorption_v is None else self.absorption_v

    @property
    def floating_v(self) -> float:
        """Voltage of a unit on float, 13.5 V for each 12 V where not given [V]."""
        return self.class_v * 13.5 / 12 if self.float_v is None else self.float_v

    def at_each_depth(self) -> tuple[Self, ...]:
        """Return the battery once for each depth it may be drawn to, shallowest first."""
        return tuple(
            self if depth == self.max_dod else replace(self, max_dod=depth)
            for depth in self.max_dods
        ) or (self,)

    @property
    def start_rate_max(self) -> float:
        """Discharge allowed for the seconds of a start, per hour of capacity [1/h]."""
        rate = self.surge_rate_max
        return self.discharge_rate_max if rate is None else rate


@dataclass(frozen=True, slots=True, kw_only=True)
class Inverter:
    """One inverter-charger model; ratings at 25 °C unless the name says 40."""

    inverter: str
    system_v: int
    power_w: float
    power_w_40c: float
    power_va: float
    surge_w: float
    efficiency: float
    no_load_w: float
    standby_w: float
    charger_a: float
    transfer_ms: float
    mass_kg: float
    max_units: int
    life_years: float
    price: float
    phases: int | None = None
    works_in_parallel: bool | None = None
    pass_through_a: float | None = None
    warranty_years: float | None = None
    supplier: str | None = None
    supplier_code: str | None = None
    price_date: date | None = None


@dataclass(frozen=True, slots=True)
class Work:
    """Labour, transport or fittings charged per ``basis``, at the first purchase or at swaps."""

    item: str
    basis: Basis
    price: float
    applies: Applies


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable:
    """A battery cable on offer; ampacity at 30 °C, resistance per kilometre of one conductor.

    ``conductor_degc`` is the highest temperature that its insulation bears.
    """

    section_mm2: float
    ampacity_a: float
    ohm_per_km: float
    price_per_m: float
    conductor_degc: float = CONDUCTOR_DEGC


@dataclass(frozen=True, slots=True, kw_only=True)
class Fuse:
    """A battery fuse on offer; ``rated_v`` of direct current, None where not stated."""

    rating_a: float
    price: float
    breaking_ka: float | None = None
    rated_v: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Generator:
    """A generator on offer; fuel in litres an hour at full power and at none."""

    generator: str
    power_w: float
    power_va: float
    surge_w: float
    litres_h_full: float
    litres_h_idle: float
    price: float
    life_years: float
    upkeep_year: float = 0.0
    mass_kg: float | None = None
    warranty_years: float | None = None
    supplier: str | None = None
    supplier_code: str | None = None
    price_date: date | None = None


@dataclass(frozen=True, slots=True)
class Catalog:
    """The price list, each table in its file's order."""

    batteries: tuple[Battery, ...]
    inverters: tuple[Inverter, ...]
    works: tuple[Work, ...]
    cables: tuple[Cable, ...]
    fuses: tuple[Fuse, ...]
    generators: tuple[Generator, ...] = ()
    parts: tuple[ListedPart, ...] = ()

    @property
    def families(self) -> tuple[str, ...]:
        """The families of the batteries, in the table's order."""
        return tuple(dict.fromkeys(battery.family for battery in self.batteries))


@dataclass(frozen=True, slots=True)
class Job(Supposing):
    """A whole question: the site, what it must carry, what the grid does, what is on offer."""

    site: Site
    loads: tuple[Load, ...]
    outages: Outages
    catalog: Catalog
    warnings: tuple[JobWarning, ...] = ()

    also: ClassVar = ("critical_loads",)

    @property
    def critical_loads(self) -> tuple[str, ...]:
        """Loads that health or safety hangs on, carried or not: they need a second source."""
        return tuple(load.load for load in self.loads if load.critical)

    def with_site(self, **changes: object) -> Self:
        """Return the job with other values of the site; its loads and prices stay."""
        return replace(self, site=replace(self.site, **changes))  # type: ignore[arg-type] # by name
