"""The curve of one site: what money at the start buys, and what that does in its outages.

Plain figures and names only, so that a curve travels between processes and rests in a store; the
whole design of a point is worked out again when it is asked for.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from optimizer.answers.nothing_done import nothing_done
from optimizer.comparison.budgets import rounded_up
from optimizer.comparison.first_purchases import FirstPurchase, first_purchase
from optimizer.comparison.hours_worth import enough_years
from optimizer.engine import cashflow
from optimizer.engine.cashflow import PURCHASES, RETURNS
from optimizer.engine.curve import Search
from optimizer.engine.upfront import least_upfront
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.model.limits import without_budgets
from optimizer.model.scaled import oftener, with_longer_outages
from optimizer.model.shown import shown
from optimizer.simulate import SimulatedYears, simulate_years

#: Sums of money of a year: the year, from 0, and what is paid [currency of today].
ByYear = tuple[tuple[int, float], ...]


class Scenario(StrEnum):
    """How outages may be other than the site says."""

    LONGER = "longer"
    OFTENER = "oftener"


#: By how much.
FACTORS = {Scenario.LONGER: 1.5, Scenario.OFTENER: 2.0}


@dataclass(frozen=True, slots=True)
class World:
    """Outages as they may be: a scenario, everywhere or in one group; neither is as now."""

    scenario: Scenario | None = None
    group: str | None = None

    def at(self, group: str) -> Scenario | None:
        """Return the scenario that holds at the sites of a group."""
        return self.scenario if self.group in {None, group} else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Service:
    """What is carried of the outages.

    Parameters
    ----------
    share_carried : float
        Of the outages, throughout.
    kwh_unserved : float
        Energy missed in a year [kWh].
    """

    share_carried: float
    kwh_unserved: float


#: What is told of a purchase.
_BOUGHT = (
    *("battery", "family", "series", "strings", "voltage_v"),
    *("inverter", "inverter_units", "generator"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SitePoint:
    """One design of a site's curve.

    Parameters
    ----------
    hours : int
        Autonomy [h].
    upfront_cost, life_cycle_cost : float
        Paid at the start, rounded up to the smallest unit of the currency, and over the study
        period in present value [currency].
    service : Service
        By the independent simulation, in the site's own outages.
    scenarios : tuple of (Scenario, Service)
        Likewise under other outages, where these were asked for.
    bought_later, running : tuple of (int, float)
        What is bought after the start, and what running costs, by year [currency of today].
    bought : FirstPurchase or None
        At the start; None where nothing is.
    """

    hours: int
    upfront_cost: float
    life_cycle_cost: float
    service: Service
    scenarios: tuple[tuple[Scenario, Service], ...] = ()
    bought_later: ByYear = ()
    running: ByYear = ()
    bought: FirstPurchase | None = field(default=None, metadata=shown(take=_BOUGHT))

    def served(self, scenario: Scenario | None = None) -> Service:
        """Return what is carried under a scenario, under the site's own outages without."""
        return self.service if scenario is None else dict(self.scenarios)[scenario]


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteCurve:
    """All points of a site, upfront cost rising.

    ``nothing`` is a site without equipment: no hours, no cost.
    """

    nothing: SitePoint
    points: tuple[SitePoint, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is worked out of each site.

    Where what is bought ``later`` is limited, designs of the least upfront cost alone would not
    do: those of the least life-cycle cost and those that are never renewed stand beside them.
    With ``scenarios`` other outages are simulated too.
    """

    later: bool = False
    scenarios: bool = False


def site_curve(job: Job, asked: Asked) -> SiteCurve:
    """Return the curve of a site, whose budgets are lifted; its limit on later years holds.

    It has every non-dominated pair of upfront cost and hours, each the design that costs least
    over the study period among those; no points where nothing fits.
    """
    job = without_budgets(job)
    designs = list(least_upfront(Search(job)))
    if asked.later:
        designs += Search(job).points()
        designs += least_upfront(Search(job.with_site(later_limit=0.0)))
    worlds: dict[Scenario | None, Job] = {None: job}
    if asked.scenarios:
        worlds[Scenario.LONGER] = with_longer_outages(job, FACTORS[Scenario.LONGER])
        worlds[Scenario.OFTENER] = oftener(job, FACTORS[Scenario.OFTENER])
    runs = [
        {
            name: simulate_years(world, design, years=enough_years(world), intervals=False)
            for name, world in worlds.items()
        }
        for design in designs
    ]
    if runs:  # what is asked for while the grid is away is the same with every design
        missed = {name: run.kwh_asked for name, run in runs[0].items()}
    else:
        missed = {one: nothing_done(at).unserved_kwh_per_year for one, at in worlds.items()}
    points = {_point(job, *pair): None for pair in zip(designs, runs, strict=True)}
    return SiteCurve(
        nothing=_nothing(missed),
        points=tuple(sorted(points, key=lambda one: (one.upfront_cost, -one.hours))),
    )


def _point(job: Job, design: Design, runs: Mapping[Scenario | None, SimulatedYears]) -> SitePoint:
    """Return the figures of a design."""
    flow = cashflow.payments(job, design)
    running: defaultdict[int, float] = defaultdict(float)
    for payment in flow:
        if payment.kind not in PURCHASES | RETURNS:
            running[payment.year] += payment.amount
    return SitePoint(
        hours=design.hours,
        upfront_cost=rounded_up(job, design.upfront_cost),
        life_cycle_cost=design.life_cycle_cost,
        service=_service(runs[None]),
        scenarios=tuple((one, _service(run)) for one, run in runs.items() if one is not None),
        bought_later=tuple(sorted(cashflow.later_sums(flow).items())),
        running=tuple(sorted(running.items())),
        bought=first_purchase(design),
    )


def _nothing(missed: Mapping[Scenario | None, float]) -> SitePoint:
    """Return a site without equipment, which misses all that is asked for."""
    served = {one: Service(share_carried=0.0, kwh_unserved=kwh) for one, kwh in missed.items()}
    return SitePoint(
        hours=0,
        upfront_cost=0.0,
        life_cycle_cost=0.0,
        service=served[None],
        scenarios=tuple((one, found) for one, found in served.items() if one is not None),
    )


def _service(run: SimulatedYears) -> Service:
    share = 1.0 if run.share_carried is None else run.share_carried.value
    return Service(share_carried=share, kwh_unserved=run.kwh_unserved.value)
