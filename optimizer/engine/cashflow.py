"""The money of a design, year by year, in the lines it is paid in.

Worked out for one design by plain arithmetic, apart from the columns of the program: the two
must agree to the cent, which `optimizer.engine.verify` checks for every design.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from optimizer.engine.demand import demand_of
from optimizer.engine.works import gross
from optimizer.formulas.ageing import wear_per_year
from optimizer.formulas.rate import fixed_time_share
from optimizer.formulas.temperature import cold_share
from optimizer.formulas.tolerance import whole_years
from optimizer.formulas.wiring import cable_price

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from optimizer.model.demand import Demand
    from optimizer.model.design import BankPeriod, Design
    from optimizer.model.job import Job, Work

Kind = Literal["inverter", "wiring", "battery", "works", "standby", "upkeep", "losses", "value"]


@dataclass(frozen=True, slots=True)
class Payment:
    """One sum of money.

    ``amount`` [currency of today, tax and markup included] is positive for what is paid and
    negative for what comes back; ``time_years`` is when it is counted: purchases at the start of
    year ``year``, running costs at its end.
    """

    year: int
    time_years: int
    kind: Kind
    item: str
    amount: float

    def present_value(self, discount_rate: float) -> float:
        """Return what the sum is worth at the start of year 0 [currency]."""
        return self.amount / (1 + discount_rate) ** self.time_years


def payments(job: Job, design: Design, demand: Demand | None = None) -> tuple[Payment, ...]:
    """Return every payment of a design over the horizon, in the order of time.

    Parameters
    ----------
    job : Job
        The site and its price list.
    design : Design
        What is bought.
    demand : Demand, optional
        The site's demand, where it is known already.

    Returns
    -------
    tuple of Payment
        Their present values add up to the life-cycle cost, those at time 0 to the upfront cost.
    """
    mean_w = (demand or demand_of(job)).mean_w
    found = [*_site_payments(job, design), *_set_payments(job, design)]
    for bank in design.banks:
        found += _bank_payments(job, bank, mean_w)
    return tuple(sorted(found, key=lambda payment: (payment.time_years, payment.year)))


def life_cycle_cost(job: Job, flow: Iterable[Payment]) -> float:
    """Return the sum of all present values [currency]."""
    return sum(payment.present_value(job.site.discount_rate) for payment in flow)


def upfront_cost(flow: Iterable[Payment]) -> float:
    """Return everything that is paid at the start of year 0 [currency]."""
    return sum(payment.amount for payment in flow if payment.time_years == 0)


def later_sums(flow: Iterable[Payment]) -> dict[int, float]:
    """Return what is bought at the start of each later year, works included [currency]."""
    bought: defaultdict[int, float] = defaultdict(float)
    for payment in flow:
        if payment.year > 0 and payment.kind in {"inverter", "battery", "works"}:
            bought[payment.year] += payment.amount
    return dict(bought)


def _works(job: Job, year: int, quantities: dict[str, float], *, first: bool) -> Iterator[Payment]:
    """Yield what the works cost that fall due in a year; quantities by basis."""
    for work in job.catalog.works:
        due = work.applies == "both" or (work.applies == "first") == first
        quantity = quantities.get(work.basis, 0.0) if due else 0.0
        if quantity:
            yield _paid(job, year, "works", work, quantity)


def _paid(job: Job, year: int, kind: Kind, work: Work, quantity: float) -> Payment:
    return Payment(year, year, kind, work.item, quantity * work.price * gross(job))


def _site_payments(job: Job, design: Design) -> Iterator[Payment]:
    vented = any(bank.battery.gas == "vented" for bank in design.banks)
    yield from _works(job, 0, {"site": 1.0, "vented_bank": 1.0 if vented else 0.0}, first=True)
    price = cable_price(design.wiring, job.site.battery_cable_m) * gross(job)
    yield Payment(0, 0, "wiring", "Battery cable and fuse", price)


def _set_payments(job: Job, design: Design) -> Iterator[Payment]:
    site, inverter, units = job.site, design.inverter, design.inverter_units
    horizon, life = site.horizon_years, whole_years(design.inverter.life_years)
    price = units * inverter.price * gross(job)
    bought = range(0, horizon, life)
    for year in bought:
        yield Payment(year, year, "inverter", inverter.inverter, price)
        yield from _works(job, year, {"inverter_unit": float(units)}, first=year == 0)
    standby = units * inverter.standby_w * 8.76 * site.tariff
    for year in range(horizon):
        yield Payment(year, year + 1, "standby", "Inverter standby energy", standby)
    left = site.residual_share * price * (bought[-1] + life - horizon) / life
    if left:
        yield Payment(horizon - 1, horizon, "value", f"Value left in {inverter.inverter}", -left)


def _bank_payments(job: Job, bank: BankPeriod, mean_w: float) -> Iterator[Payment]:
    site, battery = job.site, bank.battery
    price = bank.units * battery.price * (1 + battery.price_drift) ** bank.start * gross(job)
    yield Payment(bank.start, bank.start, "battery", battery.battery, price)
    quantities = {
        "battery_unit": float(bank.units),
        "string": float(bank.strings),
        "kg": bank.units * battery.mass_kg,
    }
    yield from _works(job, bank.start, quantities, first=bank.start == 0)
    upkeep = bank.units * battery.upkeep_year
    losses = losses_kwh_per_year(job, bank, mean_w) * site.tariff
    for year in range(bank.start, bank.end):
        if upkeep:
            yield Payment(year, year + 1, "upkeep", "Battery upkeep", upkeep)
        yield Payment(year, year + 1, "losses", "Energy to recharge and to hold charge", losses)
    scrap = bank.units * battery.scrap_value
    if scrap:
        item = f"Scrap value of {battery.battery}"
        yield Payment(bank.end - 1, bank.end, "value", item, -scrap)
    if bank.end == site.horizon_years:
        used = (bank.end - bank.start) / bank.service_life_years
        left = site.residual_share * price * (1 - used)
        if left:
            item = f"Value left in {battery.battery}"
            yield Payment(bank.end - 1, bank.end, "value", item, -left)


def outage_depths(job: Job, bank: BankPeriod, mean_w: float) -> list[tuple[float, float, float]]:
    """Return for each length of outage its hours, times a year and the depth it takes.

    Depth is of the nominal capacity in the cold at the outage's own rate, when new, and no
    deeper than allowed. ``mean_w`` is the site's mean power [W].
    """
    frequency: defaultdict[float, float] = defaultdict(float)
    for hours, times in job.outages.yearly:
        frequency[hours] += times
    drawn_w, deepest = mean_w / job.site.reference_efficiency, bank.battery.max_dod
    flat_wh, battery = _cold_wh(job, bank), bank.battery
    rates = fixed_time_share(np.array(list(frequency)), battery.rate_h, battery.peukert)
    found = []
    for (hours, times), rate in zip(frequency.items(), rates.tolist(), strict=True):
        taken_wh, held_wh = hours * drawn_w, flat_wh * rate
        # a room colder than the battery's data leaves nothing to divide by
        depth = deepest if taken_wh >= deepest * held_wh else taken_wh / held_wh
        found.append((hours, times, depth))
    return found


def nominal_wh(job: Job, bank: BankPeriod, hours: float) -> float:
    """Return what a new bank holds in the cold when drawn over ``hours``, to flat [Wh]."""
    rate = fixed_time_share(hours, bank.battery.rate_h, bank.battery.peukert)
    return _cold_wh(job, bank) * float(rate)


def _cold_wh(job: Job, bank: BankPeriod) -> float:
    """Return what a new bank holds in the cold when drawn at its rated hours or slower [Wh]."""
    battery = bank.battery
    share = cold_share(battery.cold_points, job.site.min_degc) or 0.0
    return bank.units * battery.voltage_v * battery.capacity_ah * share


def losses_kwh_per_year(job: Job, bank: BankPeriod, mean_w: float) -> float:
    """Return the grid energy that makes good outages and self-discharge in a year [kWh]."""
    battery = bank.battery
    hours, times, depth = np.array(outage_depths(job, bank, mean_w)).reshape(-1, 3).T
    rate = fixed_time_share(hours, battery.rate_h, battery.peukert)
    taken_wh = float((times * depth * rate).sum()) * _cold_wh(job, bank)
    stored_wh = bank.units * battery.voltage_v * battery.capacity_ah
    kept_wh = 12 * battery.self_discharge_month * stored_wh
    return (taken_wh + kept_wh) / battery.round_trip / 1000


def cycle_wear_per_year(job: Job, bank: BankPeriod, mean_w: float) -> float:
    """Return the share of the bank's cycle life that a year's outages take [1/a]."""
    outages = np.array(outage_depths(job, bank, mean_w)).reshape(-1, 3)
    return float(wear_per_year(outages[:, 2], outages[:, 1], bank.battery.cycle_points))
