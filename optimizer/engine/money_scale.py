"""How large money is in a job: what "equal costs" means in any currency."""

import math

from optimizer.model.job import Job

#: Costs closer than this share of the job's money unit are equal: a millionth of a euro where
#: the dearest thing on the price list costs about a thousand.
_EQUAL_SHARE = 1e-9


def money_unit(job: Job) -> float:
    """Return the power of ten nearest to the dearest price on a job's list [currency].

    The solver sees money in this unit, and every tolerance on money is a share of it, so that a
    job in a currency a million times smaller has the same answers.
    """
    catalog = job.catalog
    prices = [row.price for table in (catalog.batteries, catalog.inverters) for row in table]
    prices += [row.price for row in catalog.generators]
    prices += [contract.cost_year for contract in job.site.contracts]
    largest = max(prices, default=0.0)
    return 10.0 ** round(math.log10(largest)) if largest > 0 else 1.0


def cost_tolerance(job: Job) -> float:
    """Return the difference below which two costs of a job are equal [currency]."""
    return _EQUAL_SHARE * money_unit(job)
