"""A design through the outages as they come: the site's own log, then many simulated years."""

from collections.abc import Sequence
from dataclasses import astuple, dataclass, field, fields

from optimizer import simulate
from optimizer.answers.choice import choose
from optimizer.answers.installed import installed
from optimizer.answers.nothing_done import NothingDone, nothing_done
from optimizer.errors import Fault, InputError, wrong_option
from optimizer.inputs.built import checked
from optimizer.inputs.built_bank import checked_bank
from optimizer.model.design import Design
from optimizer.model.existing import Existing
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase
from optimizer.model.progress import Progress
from optimizer.model.result import Result
from optimizer.model.shown import shown

Law = simulate.Exponential | simulate.Lognormal | simulate.Weibull

#: Distributions by name, and what their numbers are called.
_LAWS: dict[str, tuple[type[Law], str]] = {
    "exponential": (simulate.Exponential, "exponential:MEAN"),
    "lognormal": (simulate.Lognormal, "lognormal:MEDIAN,SIGMA"),
    "weibull": (simulate.Weibull, "weibull:SHAPE,SCALE"),
}

#: More than an outage an hour, and more years than the intervals could ever need.
_MOST_TIMES, _MOST_YEARS = 8784, 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class OutageRun(Result):
    """What a design carries.

    Parameters
    ----------
    job : Job
        The site.
    design : Design
        What was run.
    replay : Replay or None
        The site's own log; None without one.
    simulated_years : SimulatedYears
        Many years of outages drawn at random.
    balance : DailyBalance or None
        The hardest of the scheduled cuts; None without such cuts.
    nothing_done : NothingDone
        What the site's own outages leave unserved where nothing stands.
    durations : str
        Where the durations of the simulated years come from: the site's "log", its "typed" rows,
        its "daily" cuts, or a distribution with its numbers as `durations_of` reads it.
    """

    job: Job = field(metadata=shown(hide=True))
    design: Design = field(metadata=shown(hide=True))
    replay: simulate.Replay | None = field(metadata=shown("log"))
    simulated_years: simulate.SimulatedYears
    balance: simulate.DailyBalance | None = field(metadata=shown("scheduled_cuts"))
    nothing_done: NothingDone
    durations: str

    @property
    def worst(self) -> simulate.Trace:
        """The hardest outage of the hours planned, followed hour by hour."""
        found = simulate.verdict(self.job, self.design)
        where = found.year, found.season, found.start_hour
        return simulate.trace(self.job, self.design, *where)


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
        How many years to simulate, and from which seed: the same seed gives the same figures.
    durations : str
        "log" for the site's own, "exponential:MEAN", "lognormal:MEDIAN,SIGMA" or
        "weibull:SHAPE,SCALE" [h]; a name without numbers is fitted to the site's log.
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
    if design is None:
        design = choose(job).design
    elif isinstance(design, Existing):
        design = installed(checked(job), checked_bank(design), job.site.target_hours)
    seed = simulate.DEFAULT_SEED if seed is None else seed
    often = times_a_year or 0.0
    faults = [
        Fault("options", None, name, shown, wanted)
        for name, shown, wrong, wanted in (
            ("--years", f"{years}", years > _MOST_YEARS, _at_most(_MOST_YEARS)),
            ("--times-a-year", f"{often:g}", often > _MOST_TIMES, _at_most(_MOST_TIMES)),
            ("--seed", f"{seed}", seed < 0, Phrase("a whole number of 0 or more")),
        )
        if wrong
    ]
    if faults:
        raise InputError(faults)
    law = durations_of(durations, [outage.hours for outage in job.outages.log])
    return OutageRun(
        job=job,
        design=design,
        replay=simulate.replay_log(job, design) if job.outages.log else None,
        simulated_years=simulate.simulate_years(
            job,
            design,
            years=years,
            seed=seed,
            durations=law,
            times_a_year=times_a_year,
            progress=progress,
        ),
        balance=simulate.daily_balance(job, design) if job.outages.daily else None,
        nothing_done=nothing_done(job),
        durations=job.outages.form if law is None else _stated(law),
    )


def durations_of(text: str, logged_hours: Sequence[float] = ()) -> Law | None:
    """Return the distribution that a text names, None for the site's own durations.

    A name alone is fitted to the logged durations [h].

    >>> durations_of("weibull:0.7,2")
    Weibull(shape=0.7, scale_hours=2.0)
    >>> durations_of("exponential", [1.0, 2.0, 6.0])
    Exponential(mean_hours=3.0)
    >>> durations_of("log") is None
    True
    """
    name, _, numbers = text.strip().partition(":")
    if name == "log" and not numbers:
        return None
    laws = ", ".join(form for _, form in _LAWS.values())
    wanted = Phrase("log, or one of {laws}, in hours", laws=laws)
    wrong = wrong_option("--durations", repr(text), wanted)
    if name in _LAWS and not numbers and logged_hours:
        return _LAWS[name][0].fitted(logged_hours)
    try:
        values = [float(number) for number in numbers.split(",")]
    except ValueError:
        raise wrong from None
    if name not in _LAWS or len(values) != len(fields(_LAWS[name][0])):
        raise wrong
    return _LAWS[name][0](*values)


def _at_most(number: int) -> Phrase:
    return Phrase("at most {number}", number=f"{number:,}")


def _stated(law: Law) -> str:
    """Return a distribution as `durations_of` reads it, to four digits."""
    name = next(name for name, (kind, _) in _LAWS.items() if isinstance(law, kind))
    return f"{name}:" + ",".join(f"{number:.4g}" for number in astuple(law))
