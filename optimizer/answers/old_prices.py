"""Prices that may no longer hold: those dated more than a year ago."""

from dataclasses import dataclass
from datetime import date, timedelta

from optimizer.model.job import Job

#: A price older than this is named.
PRICE_AGE = timedelta(days=365)


@dataclass(frozen=True, slots=True)
class OldPrice:
    """A price whose date is more than a year ago."""

    table: str
    name: str
    price_date: date


def old_prices(job: Job, today: date) -> tuple[OldPrice, ...]:
    """Return the batteries and inverters whose price is dated more than a year before today."""
    dated = [
        *(("batteries", item.battery, item.price_date) for item in job.catalog.batteries),
        *(("inverters", item.inverter, item.price_date) for item in job.catalog.inverters),
    ]
    return tuple(
        OldPrice(table, name, day)
        for table, name, day in dated
        if day is not None and today - day > PRICE_AGE
    )
