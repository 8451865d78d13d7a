"""The money of a design, year by year, in the lines it is paid in.

Worked out for one design by plain arithmetic, apart from the columns of the program: the two
must agree to the cent, which `optimizer.engine.verify` checks for every design.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from optimizer.engine.demand import demand_of
from optimizer.engine.events import Events
from optimizer.engine.variants import Variant, variant_of_design
from optimizer.engine.wear import energy_kwh_per_year
from optimizer.engine.works import gross, residual_of_years
from optimizer.formulas.money import drifted_price
from optimizer.formulas.tolerance import whole_years
from optimizer.formulas.wiring import cable_price
from optimizer.model.design import BankPeriod, Design
from optimizer.model.job import Job, Work


class Kind(StrEnum):
    """What a sum of money is for."""

    INVERTER = "inverter"
    WIRING = "wiring"
    BATTERY = "battery"
    WORKS = "works"
    GENERATOR = "generator"
    FUEL = "fuel"
    CONTRACT = "contract"
    STANDBY = "standby"
    UPKEEP = "upkeep"
    ENERGY = "energy"
    LOSSES = "losses"
    VALUE = "value"
    SCRAP = "scrap"


#: What is bought: a limit on later years counts these, running costs it does not.
PURCHASES = frozenset(
    {Kind.INVERTER, Kind.WIRING, Kind.BATTERY, Kind.WORKS, Kind.GENERATOR, Kind.FUEL}
)
#: What comes back.
RETURNS = frozenset({Kind.VALUE, Kind.SCRAP})
#: What a purchase is named after.
EQUIPMENT = frozenset({Kind.INVERTER, Kind.BATTERY, Kind.GENERATOR})


@dataclass(frozen=True, slots=True)
class Payment:
    """One sum of money.

    ``amount`` [currency of today, tax and markup included] is positive for what is paid and
    negative for what comes back; ``time_years`` is when it is counted, a real number: purchases
    when they are made, running costs at the end of their ``year``. ``item`` names what is bought
    or comes back, empty where the kind says it all.
    """

    year: int
    time_years: float
    kind: Kind
    item: str
    amount: float

    @property
    def counted_year(self) -> int:
        """The last whole year that has passed when it is counted, for tables by year [a]."""
        return whole_years(self.time_years)

    def present_value(self, discount_rate: float) -> float:
        """Return what the sum is worth at the start of year 0 [currency]."""
        return float(self.amount / (1 + discount_rate) ** self.time_years)


def payments(job: Job, design: Design, variant: Variant | None = None) -> tuple[Payment, ...]:
    """Return every payment of a design over the horizon, in the order of time.

    Their present values add up to the life-cycle cost, those at time 0 to the upfront cost.
    ``variant`` is the one it stands in, where that is known already.
    """
    events = (variant or variant_of_design(job, design, demand_of(job))).events
    found = [
        *_site_payments(job, design),
        *_set_payments(job, design),
        *_supply_payments(job, design),
    ]
    for bank in design.banks:
        for time_years in bank.purchase_years:
            found += bank_bought(job, bank, time_years)
        found += _yearly_payments(job, bank, events)
        found += _returns(job, bank)
    return tuple(sorted(found, key=lambda payment: (payment.time_years, payment.year)))


def life_cycle_cost(job: Job, flow: Iterable[Payment]) -> float:
    """Return the sum of all present values [currency]."""
    return sum(payment.present_value(job.site.discount_rate) for payment in flow)


def upfront_cost(flow: Iterable[Payment]) -> float:
    """Return everything that is paid at the start of year 0 [currency]."""
    return sum(payment.amount for payment in flow if payment.time_years == 0)


def later_sums(flow: Iterable[Payment]) -> dict[int, float]:
    """Return what is bought in each later year, works included [currency]."""
    bought: defaultdict[int, float] = defaultdict(float)
    for payment in flow:
        if payment.year > 0 and payment.kind in PURCHASES:
            bought[payment.year] += payment.amount
    return dict(bought)


def _works(
    job: Job, time_years: float, quantities: dict[str, float], *, first: bool
) -> Iterator[Payment]:
    """Yield what the works cost that fall due at a time; quantities by basis."""
    for work in job.catalog.works:
        due = work.applies == "both" or (work.applies == "first") == first
        quantity = quantities.get(work.basis, 0.0) if due else 0.0
        if quantity:
            yield _work(job, time_years, work, quantity)


def _work(job: Job, time_years: float, work: Work, quantity: float) -> Payment:
    amount = quantity * work.price * gross(job)
    return Payment(whole_years(time_years), time_years, Kind.WORKS, work.item, amount)


def _site_payments(job: Job, design: Design) -> Iterator[Payment]:
    vented = any(bank.battery.gas == "vented" for bank in design.banks)
    yield from _works(job, 0, {"site": 1.0, "vented_bank": 1.0 if vented else 0.0}, first=True)
    if design.wiring is not None:
        price = cable_price(design.wiring, job.site.battery_cable_m) * gross(job)
        yield Payment(0, 0, Kind.WIRING, "", design.inverter_units * price)


def _set_payments(job: Job, design: Design) -> Iterator[Payment]:
    site, inverter, units = job.site, design.inverter, design.inverter_units
    horizon, life = site.horizon_years, whole_years(design.inverter.life_years)
    price = units * inverter.price * gross(job)
    for year in range(0, horizon, life):
        yield Payment(year, year, Kind.INVERTER, inverter.inverter, price)
        yield from _works(job, year, {"inverter_unit": float(units)}, first=year == 0)
    standby = units * inverter.standby_w * 8.76 * site.tariff
    for year in range(horizon):
        yield Payment(year, year + 1, Kind.STANDBY, "", standby)
    left = residual_of_years(job, price, life)
    if left:
        yield Payment(horizon - 1, horizon, Kind.VALUE, inverter.inverter, -left)


def _supply_payments(job: Job, design: Design) -> Iterator[Payment]:
    """Yield what the contract, the generator and its fuel cost."""
    horizon, contract, generator = job.site.horizon_years, design.contract, design.generator
    rules = job.site.generator
    if contract is not None:
        for year in range(horizon):
            yield Payment(year, year + 1, Kind.CONTRACT, "", contract.cost_year)
    if generator is None or rules is None:
        return
    name = generator.generator
    price, life = generator.price * gross(job), whole_years(generator.life_years)
    for year in range(0, horizon, life):
        yield Payment(year, year, Kind.GENERATOR, name, price)
    for year in range(0, horizon, rules.fuel_keeps_years):
        yield Payment(year, year, Kind.FUEL, "", design.fuel_l * rules.fuel_price)
    if generator.upkeep_year:
        for year in range(horizon):
            yield Payment(year, year + 1, Kind.UPKEEP, name, generator.upkeep_year)
    left = residual_of_years(job, price, life)
    if left:
        yield Payment(horizon - 1, horizon, Kind.VALUE, name, -left)


def price_at(job: Job, bank: BankPeriod, time_years: float) -> float:
    """Return what the battery units of a bank cost at a time, tax and markup included."""
    battery = bank.battery
    return drifted_price(bank.units * battery.price, battery.price_drift, time_years) * gross(job)


def bank_bought(job: Job, bank: BankPeriod, time_years: float) -> Iterator[Payment]:
    """Yield what a bank costs when it is bought at a time, works included."""
    battery = bank.battery
    quantities = {
        "battery_unit": float(bank.units),
        "string": float(bank.strings),
        "parallel_string": float(bank.strings) if bank.strings > 1 else 0.0,
        "kg": bank.units * battery.mass_kg,
    }
    price, year = price_at(job, bank, time_years), whole_years(time_years)
    yield Payment(year, time_years, Kind.BATTERY, battery.battery, price)
    yield from _works(job, time_years, quantities, first=time_years == 0)


def _yearly_payments(job: Job, bank: BankPeriod, events: Events) -> Iterator[Payment]:
    upkeep = bank.units * bank.battery.upkeep_year
    used_kwh, lost_kwh = energy_kwh_per_year(job, bank, events)
    for year in range(bank.start, bank.end):
        if upkeep:
            yield Payment(year, year + 1, Kind.UPKEEP, bank.battery.battery, upkeep)
        yield Payment(year, year + 1, Kind.ENERGY, "", used_kwh * job.site.tariff)
        yield Payment(year, year + 1, Kind.LOSSES, "", lost_kwh * job.site.tariff)


def _returns(job: Job, bank: BankPeriod) -> Iterator[Payment]:
    """Yield scrap at each retirement, and the value left at the horizon on top of it."""
    battery, scrap = bank.battery, bank.units * bank.battery.scrap_value
    if scrap:
        for time_years in (*bank.purchase_years[1:], float(bank.end)):
            year = min(whole_years(time_years), bank.end - 1)
            yield Payment(year, time_years, Kind.SCRAP, battery.battery, -scrap)
    if bank.end == job.site.horizon_years:
        price = price_at(job, bank, bank.purchase_years[-1])
        unused = 1 - bank.last_age_years / bank.service_life_years
        left = job.site.residual_share * max(0.0, price - scrap) * unused
        if left:
            yield Payment(bank.end - 1, bank.end, Kind.VALUE, battery.battery, -left)
