"""Money at the start against the rest: the least of it for each autonomy, and what more saves."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache

from optimizer.engine.curve import Search
from optimizer.engine.trade import TradePoint, nondominated
from optimizer.formulas.rounding import minor_units
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.progress import Progress


def careless_of_later(job: Job) -> Job:
    """Return the job of one to whom money of later years is worth nothing.

    So the life-cycle cost is the upfront cost; the rate is as high as powers of it can be.
    """
    return job.with_site(discount_rate=10.0 ** min(30.0, 300 / job.site.horizon_years))


def least_upfront(
    search: Search, progress: Progress | None = None, known: Sequence[Design] = ()
) -> Iterator[Design]:
    """Yield the designs that no other carries longer than for the same upfront cost, both rising.

    Of all designs of these hours and this upfront cost each has the least life-cycle cost. A
    limit on the life-cycle cost is lifted. ``known`` as in `Search.points`.
    """
    job = search.job.with_site(lifetime_budget=None)
    free = replace(search, job=job)
    held = {one.hours: one for one in known if search.allows(one)}
    for design in replace(search, job=careless_of_later(job)).points(progress):
        best = held.get(design.hours)
        if best is not None and best.upfront_cost <= design.upfront_cost + search.tolerance:
            yield best
            continue
        limited = free.within(design.upfront_cost)
        yield limited.best_of(limited.options(design.hours))  # nothing longer is within the limit


def now_or_later(search: Search, hours: int) -> Iterator[Design]:
    """Yield every design that carries ``hours`` and that none matches at the start and in all.

    From the least life-cycle cost on, which rises while the upfront cost falls. Each is the
    answer to the least life-cycle cost under a limit on the upfront cost, so each is proven.
    """
    budget = search.job.site.budget
    ceiling = math.inf if budget is None else budget

    @cache
    def under(limit: float) -> Design | None:
        return (search if math.isinf(limit) else search.within(limit)).cheapest(hours)

    dearest = under(ceiling)
    if dearest is None:
        return
    # sums are one that differ by less than half the smallest coin, or than a budget may be passed
    coin = max(
        10.0 ** -minor_units(search.job.site.currency) / 2,
        4 * RELATIVE_TOLERANCE * dearest.upfront_cost,
    )

    def cheapest(limit: float) -> TradePoint[Design] | None:
        found = under(limit)
        while found is not None:  # of equal life-cycle costs the least upfront cost
            less = under(found.upfront_cost - coin)
            if less is None or less.life_cycle_cost > found.life_cycle_cost + search.tolerance:
                break
            found = less
        if found is None:
            return None
        return TradePoint(found.life_cycle_cost, min(found.upfront_cost, limit), found)

    for point in nondominated(cheapest, ceiling=ceiling, step=coin):
        yield point.solution
