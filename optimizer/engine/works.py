"""What labour, transport and fittings cost, by the basis they are charged on."""

import numpy as np

from optimizer.engine.banks import Banks
from optimizer.model.arrays import Floats
from optimizer.model.job import Basis, Job


def works_price(job: Job, basis: Basis, *, first: bool) -> float:
    """Return the net price per ``basis`` of the works due at the first purchase, or at a swap."""
    when = ("first", "both") if first else ("swap", "both")
    return sum(
        work.price for work in job.catalog.works if work.basis == basis and work.applies in when
    )


def gross(job: Job) -> float:
    """Return the factor from a net price to what is paid at this site, markup and tax included."""
    return (1.0 + job.site.markup) * (1.0 + job.site.tax_rate)


def residual_of_years(job: Job, price: float, life_years: int) -> float:
    """Return what comes back at the horizon of something bought every ``life_years`` [currency].

    A straight line over whole years, at today's price.
    """
    horizon = job.site.horizon_years
    last = range(0, horizon, life_years)[-1]
    return job.site.residual_share * price * (last + life_years - horizon) / life_years


def bank_works(job: Job, banks: Banks, *, first: bool) -> Floats:
    """Return the net price of the works due when each bank is bought [currency]."""
    per_unit, per_kg, per_string, per_parallel = (
        works_price(job, basis, first=first)
        for basis in ("battery_unit", "kg", "string", "parallel_string")
    )
    by_unit = banks.units * (per_unit + per_kg * banks.column("mass_kg"))
    parallel = np.where(banks.strings > 1, banks.strings, 0)
    return np.asarray(by_unit + banks.strings * per_string + parallel * per_parallel)
