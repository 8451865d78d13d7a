"""How many hours are worth buying: what more of them costs against what it spares."""

from dataclasses import dataclass, field
from itertools import groupby, pairwise

from optimizer.answers.curve import Point, frontier
from optimizer.answers.independent_simulation import years_with
from optimizer.answers.nothing_done import nothing_done
from optimizer.errors import Fault, InputError
from optimizer.formulas.money import yearly_costs_factor
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase
from optimizer.model.progress import Progress, one_by_one
from optimizer.model.result import Listed
from optimizer.model.shown import shown
from optimizer.simulate import simulate_years

#: Simulated years of each design, all with the same outages: as many as hold so many outages,
#: within these limits.
_OUTAGES, _LEAST_YEARS, _MOST_YEARS = 6000, 20, 200


def enough_years(job: Job, times: int = 1) -> int:
    """Return how many years to simulate, so many times as many outages where more are wanted."""
    return years_with(job, times * _OUTAGES, _LEAST_YEARS, times * _MOST_YEARS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Worth:
    """What some hours cost and what they leave missing.

    Parameters
    ----------
    hours : int
        Autonomy [h]; 0 where nothing is bought.
    design : Point or None
        The cheapest design that carries them.
    life_cycle_cost : float
        Of the design; where nothing is bought, of the supply contract that is paid all the same
        [currency].
    kwh_unserved : float
        Energy missed in a year, by the independent simulation [kWh].
    error_kwh : float
        The simulation's own error of it [kWh].
    lost : float
        What is missed over the study period at the value of lost load, in present value
        [currency].
    """

    also = ("upfront_cost", "in_all")

    hours: int
    design: Point | None = field(metadata=shown(hide=True))
    life_cycle_cost: float
    kwh_unserved: float
    error_kwh: float
    lost: float

    @property
    def upfront_cost(self) -> float:
        """Of the design [currency]."""
        return 0.0 if self.design is None else self.design.upfront_cost

    @property
    def in_all(self) -> float:
        """Equipment and what is still missed, together [currency]."""
        return self.life_cycle_cost + self.lost


@dataclass(frozen=True, slots=True, repr=False)
class HoursWorth(Listed[Worth]):
    """Every autonomy of the curve, from none, with what it costs and what it leaves missing.

    Parameters
    ----------
    job : Job
        Its limits of money hold.
    family : str or None
        Of all banks.
    years : int
        How many were simulated, with the same outages in each row.
    rows : tuple of Worth
        Hours rising.
    """

    also = ("value_of_lost_load", "currency", "best_hours", "kwh_prices")

    job: Job = field(metadata=shown(hide=True))
    family: str | None
    years: int
    rows: tuple[Worth, ...]

    @property
    def value_of_lost_load(self) -> float:
        """What a kWh that is missing is worth [currency/kWh]."""
        return self.job.site.value_of_lost_load or 0.0

    @property
    def best(self) -> Worth:
        """What costs least in all; of equals the shortest."""
        return min(self.rows, key=lambda one: one.in_all)

    @property
    def best_hours(self) -> int:
        """The autonomy worth buying, 0 where none is [h]."""
        return self.best.hours

    @property
    def kwh_prices(self) -> tuple[float | None, ...]:
        """What each row pays for a kWh spared that the row before it misses [currency/kWh].

        The value of lost load at which the step to it begins to be worth it; None for the first
        row and where a row spares nothing more.
        """
        factor = _factor(self.job)
        found: list[float | None] = [None]
        for here, there in pairwise(self.rows):
            spared = (here.kwh_unserved - there.kwh_unserved) * factor
            more = there.life_cycle_cost - here.life_cycle_cost
            found.append(more / spared if spared > 0 else None)
        return tuple(found)

    @property
    def runs(self) -> tuple[tuple[Worth, ...], ...]:
        """The rows, neighbours together that differ in the fuel stored alone."""
        rows = groupby(self.rows, lambda one: one.design and one.design.equipment)
        return tuple(tuple(run) for _, run in rows)


def hours_worth(
    job: Job,
    *,
    family: str | None = None,
    years: int | None = None,
    progress: Progress | None = None,
) -> HoursWorth:
    """Return how many hours are worth buying at the site's value of lost load.

    Parameters
    ----------
    job : Job
        From `load`; its ``value_of_lost_load`` is what a kWh is worth that is missing.
    family : str, optional
        Only chemistries of this family.
    years : int, optional
        To simulate each design through; enough for some ten thousands of outages where left out.
    progress : callable, optional
        Called with designs done and all designs.

    Raises
    ------
    InputError
        The site puts no value on lost load.

    Notes
    -----
    An hour is worth buying as long as it costs less than what it spares. Curves are lumpy, so
    that may fail at one step and hold at a longer one: what costs least in all is the answer,
    (life-cycle cost) + (value) · (kWh missed in a mean year) · Σ 1 / (1 + d)^y over the years.

    Examples
    --------
    >>> from optimizer import load
    >>> found = hours_worth(load("house").with_site(max_hours=6, value_of_lost_load=1e4))
    >>> found.best_hours == found.rows[-1].hours
    True
    """
    value = job.site.value_of_lost_load
    if value is None:
        wanted = Phrase("value_of_lost_load under [economics], or --set lost-load=VALUE")
        found = Phrase("none")
        raise InputError([Fault("site", None, "economics.value_of_lost_load", found, wanted)])
    years = enough_years(job, 4) if years is None else years
    points = frontier(job, family=family).points
    factor, rows = _factor(job), []
    idle = nothing_done(job)
    asked = idle.unserved_kwh_per_year
    for point in one_by_one(points, progress):
        run = simulate_years(job, point, years=years, intervals=False)
        missed, asked = run.kwh_unserved, run.kwh_asked
        rows.append(
            Worth(
                hours=point.hours,
                design=point,
                life_cycle_cost=point.life_cycle_cost,
                kwh_unserved=missed.value,
                error_kwh=missed.monte_carlo,
                lost=value * missed.value * factor,
            )
        )
    nothing = Worth(
        hours=0,
        design=None,
        life_cycle_cost=idle.contract_cost,
        kwh_unserved=asked,
        error_kwh=0.0,
        lost=value * asked * factor,
    )
    return HoursWorth(job, family, years, (nothing, *rows))


def _factor(job: Job) -> float:
    """Return the present value of one unit of money at the end of each year of the study."""
    return yearly_costs_factor(job.site.discount_rate, 0, job.site.horizon_years)
