"""The one door: questions about a job, answered with proven designs."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from optimizer.answers.questions import no_design, one_question, search_for, within
from optimizer.model.design import Curve
from optimizer.model.diagnosis import Goal, GoalKind
from optimizer.model.job import LONGEST_HOURS

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from optimizer.answers.assessment import Judgement
    from optimizer.answers.choice import Choice
    from optimizer.answers.ledger import Assumption
    from optimizer.answers.opinion import Opinion
    from optimizer.answers.outage_run import OutageRun
    from optimizer.answers.site_survey import Survey
    from optimizer.engine.solver import SolverName
    from optimizer.model.design import Design
    from optimizer.model.existing import Existing
    from optimizer.model.job import Job
    from optimizer.quote import Company, Quote

    Progress = Callable[[int, int], None]


def load(site: str | Path, catalog: str | Path | None = None) -> Job:
    """Read a site and its price list.

    Parameters
    ----------
    site : str or Path
        A site file, a folder that holds ``site.toml``, or the name of a bundled demo site.
    catalog : str or Path, optional
        Folder of the price list, instead of the one the site names.

    Raises
    ------
    InputError
        With every fault of every file.
    """
    from optimizer.inputs import load_job
    from optimizer.inputs.demo import site_file

    return load_job(site_file(site), catalog)


def frontier(
    job: Job,
    *,
    family: str | None = None,
    max_hours: int | None = None,
    solver: SolverName = "highs",
    progress: Progress | None = None,
) -> Curve:
    """Return the whole curve of cost against hours.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money hold.
    family : str, optional
        Only chemistries of this family, such as "lead" or "lithium".
    max_hours : int, optional
        Longest autonomy [h], instead of the site's.
    solver : {"highs", "cbc"}
        Which solver proves the points.
    progress : callable, optional
        Called with steps done and all steps.

    Returns
    -------
    Curve
        Without points where nothing fits at any hour.

    Examples
    --------
    >>> curve = frontier(load("house"))
    >>> all(point.life_cycle_cost > 0 for point in curve.points)
    True
    """
    from optimizer.answers.opinion import confirmed

    search = search_for(job, family, max_hours, solver)
    curve = Curve(search.job, family, tuple(search.points(progress)))
    for point in curve.points:
        confirmed(search.job, point)
    return curve


def choose(
    job: Job,
    *,
    hours: int | None = None,
    budget: float | None = None,
    lifetime_budget: float | None = None,
    family: str | None = None,
    solver: SolverName = "highs",
    progress: Progress | None = None,
) -> Choice:
    """Return one design, explained.

    Parameters
    ----------
    job : Job
        From `load`. Its own limits of money hold, except the one asked about.
    hours : int, optional
        Autonomy to carry at least cost [h]; the site's target where nothing else is asked.
    budget : float, optional
        Upfront money [currency]: the longest autonomy it buys, then the cheapest design at it.
    lifetime_budget : float, optional
        Money over the horizon [currency]: likewise.
    family : str, optional
        Only chemistries of this family.
    solver : {"highs", "cbc"}
        Which solver proves the design.
    progress : callable, optional
        Called with steps done and all steps while looking for what would help.

    Raises
    ------
    InputError
        More than one question at once, or a number out of its range.
    NoDesignError
        Nothing fits; with what stands in the way and what would open it.
    """
    from optimizer.answers.choice import explain
    from optimizer.answers.opinion import confirmed

    one_question(hours, budget, lifetime_budget)
    goal = Goal(
        GoalKind.HOURS,
        currency=job.site.currency,
        hours=job.site.target_hours if hours is None else hours,
        family=family,
    )
    if budget is not None:
        goal = replace(goal, kind=GoalKind.UPFRONT_BUDGET, hours=1, amount=budget)
        job = job.with_site(budget=budget)
    elif lifetime_budget is not None:
        goal = replace(goal, kind=GoalKind.LIFETIME_BUDGET, hours=1, amount=lifetime_budget)
        job = job.with_site(lifetime_budget=lifetime_budget)
    within(goal.hours, job.site.max_hours)
    search = search_for(job, family, None, solver)
    by_hours = goal.kind is GoalKind.HOURS
    design = search.cheapest(goal.hours) if by_hours else search.longest()
    if design is None:
        raise no_design(search, goal, progress)
    confirmed(search.job, design)
    return explain(search, goal, design)


def survey(job: Job, today: date | None = None) -> Survey:
    """Return what was understood of a job: loads, peaks, outages, old prices.

    Parameters
    ----------
    job : Job
        From `load`.
    today : date, optional
        Against which prices are old; this day where left out.
    """
    from optimizer.answers.site_survey import survey as look

    return look(job, today or date.today())


def second_opinion(
    job: Job, design: Design, *, years: int | None = None, seed: int | None = None
) -> Opinion:
    """Return what the hour-by-hour simulation says of a design.

    Parameters
    ----------
    job, design : Job, Design
        The site, and a design from `frontier`, `choose` or by hand.
    years : int, optional
        Years to simulate; as many as take a moment where not given.
    seed : int, optional
        Of the simulated years; always the same where not given.

    Examples
    --------
    >>> job = load("house")
    >>> second_opinion(job, choose(job).design).verdict.word
    'holds'
    """
    from optimizer.answers.opinion import second_opinion as simulate
    from optimizer.simulate import DEFAULT_SEED

    return simulate(job, design, years=years, seed=DEFAULT_SEED if seed is None else seed)


def outages(
    job: Job,
    design: Design | Existing | None = None,
    *,
    years: int = 10_000,
    seed: int | None = None,
    durations: str = "log",
    times_a_year: float | None = None,
    progress: Progress | None = None,
) -> OutageRun:
    """Run a design through the site's own outages, and through simulated years.

    Parameters
    ----------
    job : Job
        From `load`.
    design : Design or Existing, optional
        From `choose` or `load_design`; the cheapest that carries the target where left out.
    years, seed : int, optional
        How many years to draw, and from which seed: the same seed gives the same figures.
    durations : str
        "log", "exponential:MEAN", "lognormal:MEDIAN,SIGMA" or "weibull:SHAPE,SCALE" [h].
    times_a_year : float, optional
        Mean number of outages; the site's own where left out.
    progress : callable, optional
        Called with years done and all years.

    Raises
    ------
    InputError
        A number out of its range or a distribution that is not known.
    NoDesignError
        No design given and none carries the target.
    """
    from optimizer.answers.installed import installed
    from optimizer.answers.outage_run import run_outages
    from optimizer.model.existing import Existing
    from optimizer.simulate import DEFAULT_SEED

    if isinstance(design, Existing):
        design = installed(job, design, job.site.target_hours)
    return run_outages(
        job,
        choose(job).design if design is None else design,
        years=years,
        seed=DEFAULT_SEED if seed is None else seed,
        durations=durations,
        times_a_year=times_a_year,
        progress=progress,
    )


def load_design(
    file: str | Path, site: str | Path, catalog: str | Path | None = None, job: Job | None = None
) -> Existing:
    """Read a bank and inverter that stand already, or that somebody has quoted.

    Parameters
    ----------
    file : str or Path
        The design file (TOML).
    site : str or Path
        As for `load`: its price list is what names refer to.
    catalog : str or Path, optional
        As for `load`.
    job : Job, optional
        What `load` made of both, where it is at hand.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    from pathlib import Path

    from optimizer.inputs.demo import site_file
    from optimizer.inputs.design_file import catalog_chemistries, read_design

    offered = load(site, catalog) if job is None else job
    return read_design(Path(file), offered, catalog_chemistries(site_file(site), catalog))


def judge(job: Job, design: Design | Existing, *, hours: int | None = None) -> Judgement:
    """Judge a bank and inverter: hours new, now and at the end, what fails, what it costs.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money are left out.
    design : Design or Existing
        From `load_design`, put together by hand, or from `choose`: then its first bank, new.
    hours : int, optional
        Autonomy asked for [h]; the site's target where left out.

    Raises
    ------
    InputError
        The bank is older than it can last here, or the hours are out of range.

    Examples
    --------
    >>> job = load("house")
    >>> judge(job, choose(job).design).word
    'meets'
    """
    from optimizer.answers.assessment import judge as look
    from optimizer.answers.installed import existing_of
    from optimizer.model.existing import Existing

    if hours is not None:
        within(hours, LONGEST_HOURS)
    return look(job, design if isinstance(design, Existing) else existing_of(design), hours=hours)


def assumptions(job: Job, design: Design) -> tuple[Assumption, ...]:
    """Return every number a design rests on, with its unit, whose it is, and its source.

    Parameters
    ----------
    job, design : Job, Design
        The site, and what stands there.
    """
    from optimizer.answers.ledger import assumptions as ledger

    return ledger(job, design)


def make_quote(
    job: Job,
    *,
    hours: Sequence[int] | None = None,
    company: Company | None = None,
    day: date | None = None,
    family: str | None = None,
    appendix: bool = False,
    progress: Progress | None = None,
) -> Quote:
    """Return a quote: options from the curve, priced, with their sheets.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money hold.
    hours : sequence of int, optional
        Autonomies of the options [h]; up to three by rule where left out.
    company : Company, optional
        Sender and terms, from `optimizer.quote.read_company`.
    day : date, optional
        Day of the quote; this day where left out.
    family : str, optional
        Only chemistries of this family.
    appendix : bool
        Also work out what speaks for each family, and what would change the answer: a few
        seconds.
    progress : callable, optional
        Called with steps done and all steps while the curve is made.

    Raises
    ------
    InputError
        Hours that no design carries, or a company file that does not suit the price list.
    NoDesignError
        Nothing fits at any hour.
    """
    from optimizer.quote import build_quote

    longest = max([job.site.max_hours, *(one for one in hours or () if one <= LONGEST_HOURS)])
    curve = frontier(job, family=family, max_hours=longest, progress=progress)
    if not curve.points:
        goal = Goal(GoalKind.HOURS, currency=job.site.currency, family=family)
        raise no_design(search_for(job, family, None, "highs"), goal, progress)
    on_day = day or date.today()
    return build_quote(curve, hours=hours, company=company, day=on_day, appendix=appendix)
