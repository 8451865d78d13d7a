"""A design through the outages as they come: the site's own log, then many drawn years."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from optimizer.errors import Fault, InputError
from optimizer.model.design import Design
from optimizer.simulate import (
    DEFAULT_SEED,
    DailyBalance,
    Exponential,
    Lognormal,
    Replay,
    Weibull,
    YearsResult,
    daily_balance,
    draw_years,
    replay_log,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from optimizer.model.job import Job
    from optimizer.simulate import Durations

#: Distributions by name: how many numbers each takes, and what makes it.
_LAWS: dict[str, tuple[int, str, Callable[..., Durations]]] = {
    "exponential": (1, "exponential:MEAN", Exponential),
    "lognormal": (2, "lognormal:MEDIAN,SIGMA", Lognormal),
    "weibull": (2, "weibull:SHAPE,SCALE", Weibull),
}


#: More than an outage an hour, and more years than the intervals could ever need.
_MOST_TIMES, _MOST_YEARS = 8784, 1_000_000


@dataclass(frozen=True, slots=True)
class OutageRun:
    """What a design carries.

    Parameters
    ----------
    design : Design
        What was run.
    replay : Replay or None
        The site's own log; None without one.
    drawn : YearsResult
        The drawn years.
    balance : DailyBalance or None
        The hardest day of scheduled cuts; None without such cuts.
    durations : str
        Where the drawn durations come from, in words.
    """

    design: Design
    replay: Replay | None
    drawn: YearsResult
    balance: DailyBalance | None
    durations: str


def run_outages(
    job: Job,
    design: Design,
    *,
    years: int = 10_000,
    seed: int = DEFAULT_SEED,
    durations: str = "log",
    times_a_year: float | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> OutageRun:
    """Run a design through the site's own outages and through drawn years.

    Parameters
    ----------
    job, design : Job, Design
        The site, and what stands there.
    years : int
        How many to draw, [2, ∞).
    seed : int
        Of the random numbers: the same seed gives the same result.
    durations : str
        "log" for the site's own, "exponential:MEAN", "lognormal:MEDIAN,SIGMA" or
        "weibull:SHAPE,SCALE" [h].
    times_a_year : float, optional
        Mean number of outages; the site's own where not given.
    progress : callable, optional
        Called with years done and all years.

    Raises
    ------
    InputError
        A number out of its range, or a distribution that is not known.
    """
    often = times_a_year or 0.0
    faults = [
        Fault("options", None, name, shown, wanted)
        for name, shown, wrong, wanted in (
            ("--years", f"{years}", years > _MOST_YEARS, f"at most {_MOST_YEARS:,}"),
            ("--times-a-year", f"{often:g}", often > _MOST_TIMES, f"at most {_MOST_TIMES:,}"),
            ("--seed", f"{seed}", seed < 0, "a whole number of 0 or more"),
        )
        if wrong
    ]
    if faults:
        raise InputError(faults)
    law = durations_of(durations)
    drawn = draw_years(job, design, years, seed, law, times_a_year=times_a_year, progress=progress)
    own = {"log": "the site's log", "typed": "the site's rows", "daily": "the site's schedule"}
    return OutageRun(
        design,
        replay_log(job, design) if job.outages.log else None,
        drawn,
        daily_balance(job, design) if job.outages.daily else None,
        own[job.outages.form] if law is None else durations,
    )


def durations_of(text: str) -> Durations | None:
    """Return the distribution that a text names, None for the site's own durations.

    Examples
    --------
    >>> durations_of("weibull:0.7,2")
    Weibull(shape=0.7, scale_hours=2.0)
    >>> durations_of("log") is None
    True
    """
    name, _, numbers = text.strip().partition(":")
    if name == "log" and not numbers:
        return None
    wanted = "log, " + " or ".join(form for _, form, _ in _LAWS.values()) + ", hours"
    fault = Fault("options", None, "--durations", repr(text), wanted)
    try:
        values = [float(number) for number in numbers.split(",")]
    except ValueError:
        raise InputError([fault]) from None
    if name not in _LAWS or len(values) != _LAWS[name][0]:
        raise InputError([fault])
    return _LAWS[name][2](*values)
