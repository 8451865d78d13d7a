"""What each load and each tier costs at some hours: solved again without it, or with it."""

from collections.abc import Collection
from dataclasses import dataclass, field, replace

from optimizer.answers.questions import asked_hours, nothing_carries, search_for
from optimizer.engine.curve import Search
from optimizer.engine.upfront import careless_of_later
from optimizer.model.job import Job
from optimizer.model.limits import without_limits
from optimizer.model.needs import groups
from optimizer.model.progress import Progress, one_by_one
from optimizer.model.result import Listed
from optimizer.model.shown import shown


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadCost:
    """What one load costs, or all loads of a tier.

    Parameters
    ----------
    tier : str
        Of the load, or the tier itself.
    loads : tuple of str
        The load with those that serve only together with it; what goes with the tier.
    is_tier : bool
        Whether it is the tier.
    carried : bool
        Whether it is carried as the site stands.
    stays_on : bool
        Whether health, safety or its owner's word forbids to leave it out.
    life_cycle_cost_with, life_cycle_cost_without : float or None
        The least life-cycle cost of the hours with it and without it [currency]; None where
        nothing carries them.
    upfront_cost_with, upfront_cost_without : float or None
        Likewise the least upfront cost, be it of another design.
    """

    also = ("life_cycle_cost", "upfront_cost")

    tier: str
    loads: tuple[str, ...]
    is_tier: bool
    carried: bool
    stays_on: bool
    life_cycle_cost_with: float | None
    life_cycle_cost_without: float | None
    upfront_cost_with: float | None
    upfront_cost_without: float | None

    @property
    def life_cycle_cost(self) -> float | None:
        """By how much it raises the least life-cycle cost [currency]."""
        return _more(self.life_cycle_cost_with, self.life_cycle_cost_without)

    @property
    def upfront_cost(self) -> float | None:
        """By how much it raises the least upfront cost [currency]."""
        return _more(self.upfront_cost_with, self.upfront_cost_without)


def _more(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else one - other


@dataclass(frozen=True, slots=True, repr=False)
class LoadCosts(Listed[LoadCost]):
    """What each tier costs, then each load, in the order of the loads file."""

    job: Job = field(metadata=shown(hide=True))
    family: str | None
    hours: int
    rows: tuple[LoadCost, ...]


def load_costs(
    job: Job,
    hours: int | None = None,
    *,
    family: str | None = None,
    progress: Progress | None = None,
) -> LoadCosts:
    """Return what each tier and each load costs, upfront and over the study period.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money are lifted: a limit would hide the cost.
    hours : int, optional
        Autonomy to carry [h]; the site's target where left out.
    family : str, optional
        Only chemistries of this family.
    progress : callable, optional
        Called with questions done and all questions.

    Raises
    ------
    NoDesignError
        Nothing carries the hours, whatever is left out.

    Examples
    --------
    >>> from optimizer import load
    >>> costs = load_costs(load("house"), 12)
    >>> all(one.life_cycle_cost >= 0 for one in costs if one.carried)
    True
    """
    job, hours = asked_hours(job, hours)
    open_job = search_for(without_limits(job), family).job
    site, everything = job.site, groups(job.loads)
    carrying = max(site.tiers, key=lambda tier: site.tier_hours.get(tier, float("inf")))

    def least(names: Collection[str]) -> tuple[float | None, float | None]:
        """Return the least costs of carrying some loads."""
        # one whose tier is not carried stands with a tier that is
        loads = tuple(
            load if load.tier in site.tiers else replace(load, tier=carrying)
            for load in job.loads
            if load.load in names
        )
        if not loads:
            return 0.0, 0.0
        carrying_them = replace(open_job, loads=loads)
        cheapest = Search(carrying_them, family).cheapest(hours)
        least_upfront = Search(careless_of_later(carrying_them), family).cheapest(hours)
        return (
            None if cheapest is None else cheapest.life_cycle_cost,
            None if least_upfront is None else least_upfront.upfront_cost,
        )

    own = {load.load for load in job.loads if load.tier in site.tiers}
    base = least(own)

    def cost(tier: str, loads: tuple[str, ...], is_tier: bool, stays_on: bool) -> LoadCost:
        carried = not own.isdisjoint(loads)
        if carried:
            with_it, without = base, least(own - {*loads})
        else:
            with_it, without = least(own | {*loads}), base
        return LoadCost(
            tier=tier,
            loads=loads,
            is_tier=is_tier,
            carried=carried,
            stays_on=stays_on,
            life_cycle_cost_with=with_it[0],
            life_cycle_cost_without=without[0],
            upfront_cost_with=with_it[1],
            upfront_cost_without=without[1],
        )

    asked = []
    for tier in dict.fromkeys(load.tier for load in job.loads):
        within = [group for group in everything if any(load.tier == tier for load in group)]
        going = [group for group in within if not any(load.stays_on for load in group)]
        if names := tuple(load.load for group in going for load in group):
            asked.append((tier, names, True, len(going) < len(within)))
    for group in everything:
        names = tuple(load.load for load in group)
        asked.append((group[0].tier, names, False, any(load.stays_on for load in group)))
    rows = [cost(*one) for one in one_by_one(asked, progress)]
    if all(one.life_cycle_cost_without is None for one in rows):
        raise nothing_carries(open_job, hours, progress)
    return LoadCosts(job, family, hours, tuple(rows))
