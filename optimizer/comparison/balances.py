"""What has been paid by each time from the start to the end of the study period."""

from collections import defaultdict
from dataclasses import dataclass

from optimizer.engine.cashflow import EQUIPMENT, RETURNS, Payment
from optimizer.model.job import Job


@dataclass(frozen=True, slots=True)
class Balance:
    """What has been paid by a time, without the residual value at the end [currency].

    ``real`` in money of today, ``nominal`` in the money of each year, ``present`` discounted;
    ``bought`` names equipment paid at that time.
    """

    time_years: int
    real: float
    nominal: float
    present: float
    bought: tuple[str, ...]


def balances(job: Job, flow: tuple[Payment, ...]) -> tuple[Balance, ...]:
    """Return what has been paid by each time from the start to the end of the study period."""
    site = job.site
    real = nominal = present = 0.0
    found = []
    by_time: defaultdict[int, list[Payment]] = defaultdict(list)
    for payment in flow:
        if payment.kind not in RETURNS or payment.time_years < site.horizon_years:
            by_time[payment.counted_year].append(payment)
    for time_years in range(site.horizon_years + 1):
        for payment in by_time[time_years]:
            real += payment.amount
            nominal += payment.amount * (1 + site.inflation) ** payment.time_years
            present += payment.present_value(site.discount_rate)
        bought = tuple(one.item for one in by_time[time_years] if one.kind in EQUIPMENT)
        found.append(Balance(time_years, real, nominal, present, bought))
    return tuple(found)
