"""The one door: questions about a job, answered with proven designs."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from optimizer.design import Curve
from optimizer.errors import Fault, InputError, NoDesignError

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from optimizer.choice import Choice
    from optimizer.curve import Search
    from optimizer.job import Job
    from optimizer.solver import SolverName
    from optimizer.site_survey import Survey

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
    from optimizer.demo import site_file
    from optimizer.inputs import load_job

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
    search = _search(job, family, max_hours, solver)
    return Curve(search.job, family, tuple(search.points(progress)))


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
    from optimizer.choice import explain

    _one_question(hours, budget, lifetime_budget)
    site = job.site
    if budget is None and lifetime_budget is None:
        wanted = site.target_hours if hours is None else hours
        _within(wanted, site.max_hours)
        search = _search(job, family, None, solver)
        question = f"{wanted} h at the least cost over {site.horizon_years} years"
        design = search.cheapest(wanted)
    else:
        wanted = 1
        if budget is not None:
            site = replace(site, budget=budget)
            money = f"{budget:,.2f} {site.currency} at the start"
        else:
            site = replace(site, lifetime_budget=lifetime_budget)
            money = f"{lifetime_budget:,.2f} {site.currency} over {site.horizon_years} years"
        search = _search(replace(job, site=site), family, None, solver)
        question = f"the longest autonomy that {money} buys"
        design = search.longest()
    if design is None:
        raise _no_design(search, question, wanted, progress)
    asked = wanted if budget is None and lifetime_budget is None else design.hours
    return explain(search, question, design, asked)


def survey(job: Job, today: date | None = None) -> Survey:
    """Return what was understood of a job: loads, peaks, outages, old prices.

    Parameters
    ----------
    job : Job
        From `load`.
    today : date, optional
        Against which prices are old; this day where left out.
    """
    from optimizer.site_survey import survey as look

    return look(job, today or date.today())


def _search(job: Job, family: str | None, max_hours: int | None, solver: SolverName) -> Search:
    from optimizer.curve import Search

    if max_hours is not None:
        _within(max_hours, 240)
        job = replace(job, site=replace(job.site, max_hours=max_hours))
    if family is not None:
        _known_family(job, family)
    return Search(job, family, solver)


def _no_design(
    search: Search, question: str, hours: int, progress: Progress | None
) -> NoDesignError:
    from optimizer.confirm import confirm_none
    from optimizer.reasons import Question, diagnose
    from optimizer.report.words import reasons_in_words

    confirm_none(search, hours)
    diagnosis = diagnose(Question(search.job, hours, search.family), progress)
    reasons = reasons_in_words(search, diagnosis)
    levers = [opening.as_dict() for opening in diagnosis.openings]
    pairs = [[one.as_dict() for one in pair] for pair in diagnosis.pairs]
    return NoDesignError(f"no design: {question}", reasons, levers=levers, pairs=pairs)


def _one_question(hours: int | None, budget: float | None, lifetime_budget: float | None) -> None:
    asked = {"--hours": hours, "--budget": budget, "--lifetime-budget": lifetime_budget}
    given = [name for name, value in asked.items() if value is not None]
    if len(given) > 1:
        raise InputError([Fault("options", None, None, " and ".join(given), "one of them")])
    for name, value in asked.items():
        if value is not None and not 0 <= value < float("inf"):
            wanted = "a finite number that is not negative"
            raise InputError([Fault("options", None, name, str(value), wanted)])


def _within(hours: int, most: int) -> None:
    if not 1 <= hours <= most:
        wanted = f"whole hours from 1 to {most}"
        raise InputError([Fault("options", None, "hours", str(hours), wanted)])


def _known_family(job: Job, family: str) -> None:
    known = tuple(dict.fromkeys(battery.family for battery in job.catalog.batteries))
    if family not in known:
        wanted = f"a family of the price list: {', '.join(known)}"
        raise InputError([Fault("options", None, "--family", family, wanted)])
