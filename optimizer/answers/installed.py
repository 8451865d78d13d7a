"""What stands already or was quoted, as a design: how long it lasts, refill, money to lay aside.

The strings of one bank are of one age. New strings beside old lead-acid ones age as the old ones
do: a bank that is mixed is taken at the age of its oldest string.
"""

import math
from dataclasses import dataclass, field, replace

from optimizer.engine import cashflow
from optimizer.engine.demand import demand_of
from optimizer.engine.generators import litres_stored
from optimizer.engine.inverter_sets import wiring_of
from optimizer.engine.variants import covering_step, variant_of, variant_of_design
from optimizer.engine.wear import calendar_life_years, cycle_wear_per_year, discharges
from optimizer.engine.works import gross, works_price
from optimizer.formulas.ageing import service_life_years
from optimizer.formulas.charging import charger_current_a, last_part_hours, refill_hours
from optimizer.formulas.money import yearly_saving
from optimizer.formulas.tolerance import whole_years
from optimizer.formulas.wiring import RUNS
from optimizer.model.demand import Demand
from optimizer.model.design import BankPeriod, CableRun, Design
from optimizer.model.existing import Existing
from optimizer.model.job import Battery, Job
from optimizer.model.shown import Unbounded, shown


@dataclass(frozen=True, slots=True)
class DeepestOutage:
    """The outage that takes most of a bank: its length [h], and the share of the bank it takes."""

    hours: float
    times_a_year: float
    depth: float


@dataclass(frozen=True, slots=True)
class ServiceLife:
    """How long the bank lasts here, and what wears it.

    Parameters
    ----------
    years : float
        Service life [a].
    calendar_years : float
        What it would be without any outage [a].
    cycle_years : float
        What it would be if only outages wore it [a]; infinite where none does.
    age_years : float
        Age today [a]: of a bank that holds as much, where its capacity was measured. Past the
        service life it ages on in the same straight line.
    warranty_years : float or None
        The maker's [a]; None where not known.
    deepest : DeepestOutage or None
        The outage that takes most; None without outages.
    """

    also = ("left_years", "calendar_share", "cycle_share")

    years: float
    calendar_years: float
    cycle_years: Unbounded
    age_years: float
    warranty_years: float | None
    deepest: DeepestOutage | None = field(metadata=shown("deepest_outage"))

    @property
    def calendar_share(self) -> float:
        """Share of the wear that comes with time alone."""
        return self.years / self.calendar_years

    @property
    def cycle_share(self) -> float:
        """Share of the wear that comes with outages."""
        return self.years / self.cycle_years

    @property
    def left_years(self) -> float:
        """Years of service left [a]."""
        return max(0.0, self.years - self.age_years)


@dataclass(frozen=True, slots=True)
class Recharge:
    """From the lowest allowed state of charge to full.

    Parameters
    ----------
    hours : float
        With the chargers there are [h]; infinite where they give no current.
    charger_a : float
        Their current [A], no more than the bank may take.
    required_hours, needed_a : float
        What the site requires [h], and the current that takes [A].
    last_share, last_hours : float
        What is taken at a falling current, of the capacity, and the time for it [h].
    full_hours : float
        All of it: at full current to there, then falling [h].
    """

    hours: Unbounded
    charger_a: float
    required_hours: float
    needed_a: float
    last_share: float
    last_hours: Unbounded
    full_hours: Unbounded


@dataclass(frozen=True, slots=True)
class SetAside:
    """Money to lay aside at each year's end for a replacement [currency of today]."""

    item: str
    price: float
    years: int
    yearly: float


def existing_of(design: Design) -> Existing:
    """Return a design of the program as one to be assessed: its first bank, new."""
    bank = design.banks[0]
    return Existing(
        design.inverter,
        design.inverter_units,
        bank.battery,
        bank.strings,
        design.voltage_v,
        contract=design.contract,
        generator=design.generator,
        fuel_l=None if design.generator is None else design.fuel_l,
    )


def installed(job: Job, existing: Existing, hours: int) -> Design:
    """Return what stands there, from today to the end of the bank's life or of the horizon.

    Broken years of age count as the year that is running; ``hours`` are asked of it [h].
    """
    life = service_life(job, existing, demand_of(job))
    begun = whole_years(life.age_years)
    left = min(max(1, whole_years(life.years) - begun), job.site.horizon_years)
    period = replace(bank_of(existing), start=-begun, end=left, service_life_years=life.years)
    return design_of(job, existing, hours, (period,))


def bank_of(existing: Existing) -> BankPeriod:
    """Return the bank, new, for one year; its service life is still to be worked out."""
    battery = existing.battery
    return BankPeriod(battery, existing.series, existing.strings, 0, 1, battery.float_life_years)


def design_of(job: Job, existing: Existing, hours: int, banks: tuple[BankPeriod, ...]) -> Design:
    """Return the design with cable and fuse of the price list, and its money where it is new."""
    inverter = existing.inverter
    wiring = None if existing.battery.built_into else wiring_of(job, inverter)
    if wiring is None and not existing.battery.built_into:
        # the thickest there is: the checks then say what it lacks
        cable = max(job.catalog.cables, key=lambda cable: cable.section_mm2)
        wiring = CableRun(cable, max(RUNS), max(job.catalog.fuses, key=lambda fuse: fuse.rating_a))
    design = Design(
        hours,
        0.0,
        0.0,
        existing.voltage_v,
        inverter,
        existing.units,
        wiring,
        banks,
        # what nobody says to help the supply is not asked to
        existing.contract or covering_step(job),
        existing.generator,
        charge_at_start=existing.charge_at_start,
    )
    design = replace(design, fuel_l=_fuel_l(job, existing, design))
    flow = cashflow.payments(job, design) if banks[0].start == 0 else ()
    return replace(
        design,
        life_cycle_cost=cashflow.life_cycle_cost(job, flow),
        upfront_cost=cashflow.upfront_cost(flow),
    )


def _fuel_l(job: Job, existing: Existing, design: Design) -> float:
    """Return the fuel stored: as told, else what the hours take, no more than may be stored."""
    rules = job.site.generator
    if design.generator is None or rules is None:
        return 0.0
    if existing.fuel_l is not None:
        return existing.fuel_l
    idle_w = design.inverter_units * design.inverter.no_load_w
    variant = variant_of_design(job, design, demand_of(job))
    needed_l = litres_stored(variant, design.hours, design.inverter.efficiency, idle_w)
    return min(rules.max_stored_l, float(needed_l))


def within_points(job: Job, battery: Battery) -> Battery:
    """Return the battery with its coldest share held down to the room's lowest temperature."""
    degc, share = battery.cold_points[0]
    if job.site.min_degc >= degc:
        return battery
    return replace(battery, cold_points=((job.site.min_degc, share), (degc, share)))


def service_life(job: Job, existing: Existing, demand: Demand) -> ServiceLife:
    """Return how long the bank lasts here, and how old it is; it may be past its life."""
    battery = existing.battery
    bank = replace(bank_of(existing), battery=within_points(job, battery))
    contract = existing.contract or covering_step(job)
    events = variant_of(job, demand, contract, existing.generator).events
    calendar = calendar_life_years(job, battery)
    wear = cycle_wear_per_year(job, bank, events)
    years = float(service_life_years(calendar, wear))
    depths = [(one.hours, one.times_a_year, one.depth) for one in discharges(job, bank, events)]
    deepest = max(depths, key=lambda one: (one[2], one[0]), default=None)
    return ServiceLife(
        years,
        calendar,
        1 / wear if wear > 0 else math.inf,
        existing.age_here_years(years),
        battery.warranty_years,
        None if deepest is None else DeepestOutage(*deepest),
    )


def recharge_of(job: Job, existing: Existing) -> Recharge:
    """Return how long the chargers take to fill the bank, and what the site asks."""
    battery, site = existing.battery, job.site
    capacity_ah = existing.strings * battery.capacity_ah
    charge_ah = battery.max_dod * capacity_ah
    offered_a = existing.units * existing.inverter.charger_a
    current_a = min(offered_a, battery.charge_rate_max * capacity_ah)
    factor, gassing = battery.charge_factor, battery.gas != "none"
    last_share, last_hours = last_part_hours(capacity_ah, current_a, factor, gassing=gassing)
    last_share = min(last_share, battery.max_dod)
    first_ah = charge_ah - last_share * capacity_ah
    return Recharge(
        hours=refill_hours(charge_ah, current_a, factor),
        charger_a=current_a,
        required_hours=site.recharge_hours,
        needed_a=charger_current_a(charge_ah, site.recharge_hours, factor),
        last_share=last_share,
        last_hours=last_hours,
        full_hours=refill_hours(first_ah, current_a, factor) + last_hours,
    )


def set_aside_of(job: Job, existing: Existing, life: ServiceLife) -> list[SetAside]:
    """Return what to lay aside for bank, inverters and generator, all as old as the bank."""
    inverter, factor, rate = existing.inverter, gross(job), job.site.discount_rate
    left = max(1, whole_years(life.left_years))
    bank = cashflow.bank_bought(job, bank_of(existing), left)
    swap = inverter.price + works_price(job, "inverter_unit", first=False)
    swap *= existing.units * factor
    bought = [
        (existing.battery.battery, sum(one.amount for one in bank), left),
        (inverter.inverter, swap, _until(existing, inverter.life_years)),
    ]
    if existing.generator is not None:
        one = existing.generator
        bought.append((one.generator, one.price * factor, _until(existing, one.life_years)))
    return [
        SetAside(item, price, years, yearly_saving(price, rate, years))
        for item, price, years in bought
    ]


def _until(existing: Existing, life_years: float) -> int:
    """Return the years until a part is worn that is as old as the bank."""
    whole = whole_years(life_years)
    return max(1, whole - whole_years(existing.age_years) % whole)
