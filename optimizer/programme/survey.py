"""All sites' curves: worked out on all cores or a cluster, kept as they come."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from pathlib import Path

from optimizer.comparison.parameters import what_if_parameters_of
from optimizer.comparison.processes import finished
from optimizer.errors import Fault, InputError, KeeplitError
from optimizer.inputs.programme import Unread, read_programme
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase
from optimizer.model.programme import PlannedSite
from optimizer.model.progress import Progress
from optimizer.model.result import Result
from optimizer.model.shown import shown
from optimizer.programme.curves import Asked, SiteCurve, site_curve
from optimizer.programme.store import Store, fingerprint

#: Curves at hand, by the hash of their inputs.
Known = Store | dict[str, SiteCurve]


class FailureKind(StrEnum):
    """Why a site is left out."""

    INPUT = "input"  # its files
    NOTHING_FITS = "nothing_fits"  # no design at any hour
    PROGRAM = "program"  # a fault here


@dataclass(frozen=True, slots=True, kw_only=True)
class Failure:
    """A site that is left out.

    Parameters
    ----------
    site : str
        Its name.
    kind : FailureKind
        Why.
    faults : tuple of Fault
        Of its files.
    message : str or None
        For those who mend the program, where it is at fault.
    """

    site: str
    kind: FailureKind
    faults: tuple[Fault, ...] = ()
    message: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A site and what money does there."""

    site: PlannedSite = field(metadata=shown(inline=True))
    curve: SiteCurve = field(metadata=shown(hide=True))


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Programme(Result):
    """All sites with their curves.

    Parameters
    ----------
    currency : str
        Of all money, a code of ISO 4217.
    candidates : tuple of Candidate
        The sites, in the order they were read.
    failures : tuple of Failure
        Sites that are left out.
    supposed : tuple of str
        What is supposed of every site that has such a number, as it was told.
    """

    # fields here, where answers about one site work them out
    currency: str = field()
    candidates: tuple[Candidate, ...]
    failures: tuple[Failure, ...] = ()
    supposed: tuple[str, ...] = field(default=())

    @property
    def site(self) -> str:
        """How many sites it is about."""
        return f"{len(self.candidates)} sites"


def site_curves(
    sites: str | Path | Sequence[PlannedSite | Unread],
    *,
    later: bool = False,
    scenarios: bool = False,
    what_if: Mapping[str, float | str] | None = None,
    store: str | Path | Known | None = None,
    processes: int | None = None,
    scheduler: str | None = None,
    progress: Progress | None = None,
) -> Programme:
    """Work out the curve of every site.

    Parameters
    ----------
    sites : str, Path or sequence of PlannedSite
        A table of sites, a folder of site folders, or a bundled programme such as "island".
    later : bool
        Whether designs that are seldom renewed are wanted too: needed where what is bought in
        later years is to be limited.
    scenarios : bool
        Whether other outages are simulated too: needed for regrets.
    what_if : mapping of str to float or str, optional
        Numbers supposed of every site that has them, as `Job.what_if` takes them.
    store : str, Path or dict, optional
        A file in which curves rest, or a dictionary that holds them; what it knows is not worked
        out again.
    processes : int, optional
        As many as there are cores where left out.
    scheduler : str, optional
        Address of a scheduler of Dask whose workers share the work instead.
    progress : callable, optional
        Called with sites done and all sites.

    Returns
    -------
    Programme
        Sites that fail stand among its failures and stop nobody else.

    Raises
    ------
    InputError
        The table of sites has faults, no site is left, or a number supposed is out of range.

    Examples
    --------
    >>> from optimizer import load
    >>> job = load("house").with_site(max_hours=4, generator=None)
    >>> programme = site_curves([PlannedSite(name="a", job=job)], processes=1)
    >>> [point.hours for point in programme.candidates[0].curve.points]
    [2, 3, 4]
    """
    read = read_programme(sites) if isinstance(sites, str | Path) else sites
    if isinstance(store, str | Path):
        store = Store(Path(store))
    changes = what_if or {}
    planned = supposing([one for one in read if not isinstance(one, Unread)], changes)
    told = [
        Failure(site=one.name, kind=FailureKind.INPUT, faults=one.faults)
        for one in read
        if isinstance(one, Unread)
    ]
    pairs = [(one, one.job) for one in planned if one.job is not None]
    found = _curves(
        [job for _, job in pairs],
        Asked(later=later, scenarios=scenarios),
        {} if store is None else store,
        scheduler=scheduler,
        processes=processes,
        progress=progress,
    )
    candidates = []
    for (site, _), curve in zip(pairs, found, strict=True):
        if isinstance(curve, str):
            told.append(Failure(site=site.name, kind=FailureKind.PROGRAM, message=curve))
        elif not curve.points:
            told.append(Failure(site=site.name, kind=FailureKind.NOTHING_FITS))
        else:
            candidates.append(Candidate(site=site, curve=curve))
    if not candidates:
        faults = [
            replace(fault, file=f"{one.site}: {fault.file}") for one in told for fault in one.faults
        ]
        told_of_all = Phrase("no site where anything fits"), Phrase("at least one")
        nowhere = Fault("sites", None, None, *told_of_all)
        raise InputError(faults or [nowhere])
    return Programme(
        currency=pairs[0][1].site.currency,
        candidates=tuple(candidates),
        failures=tuple(told),
        supposed=tuple(f"{key}={value}" for key, value in changes.items()),
    )


def supposing(
    planned: Sequence[PlannedSite], changes: Mapping[str, float | str]
) -> tuple[PlannedSite, ...]:
    """Return sites with other numbers, each with those that it has; what none has is a fault."""
    known: set[str] = set()
    found = []
    for one in planned:
        job = one.job
        if job is not None:
            own = {each.key for each in what_if_parameters_of(job)}
            job = job.what_if({key: changes[key] for key in changes if key in own})
            known |= own
        found.append(replace(one, job=job))
    strange = {key: value for key, value in changes.items() if key not in known}
    if strange and (jobs := [one.job for one in planned if one.job is not None]):
        jobs[0].what_if(strange)  # says what is known
    return tuple(found)


def _curves(
    jobs: Sequence[Job],
    asked: Asked,
    known: Known,
    *,
    scheduler: str | None,
    processes: int | None,
    progress: Progress | None,
) -> list[SiteCurve | str]:
    """Return the curve of each job, or what went wrong; equal jobs are worked out once."""
    keys = [fingerprint(job, asked) for job in jobs]
    once = dict(zip(keys, jobs, strict=True))
    found: dict[str, SiteCurve | str] = {}

    def tell() -> None:
        if progress is not None:
            progress(sum(key in found for key in keys), len(keys))

    tell()
    for key in once:
        if (curve := known.get(key)) is not None:
            found[key] = curve
    tell()
    missing = [key for key in once if key not in found]
    tasks = [(once[key], asked) for key in missing]
    if scheduler is None or not tasks:
        work = finished(_one, tasks, processes)
    else:
        from optimizer.programme.cluster import finished_on  # noqa: PLC0415 - an extra

        work = finished_on(scheduler, _one, tasks)
    for number, made in work:
        found[missing[number]] = made
        if isinstance(made, SiteCurve):
            known[missing[number]] = made
        tell()
    return [found[key] for key in keys]


def _one(task: tuple[Job, Asked]) -> SiteCurve | str:
    """Return a curve; what goes wrong with one site must not stop the others."""
    job, asked = task
    try:
        return site_curve(job, asked)
    except KeeplitError as error:
        return str(error)
    except Exception as error:
        return f"{type(error).__name__}: {error}"
