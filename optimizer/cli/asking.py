"""The site that a command asks about, with what-ifs: the job that its options make."""

import re
from collections.abc import Callable, Sequence
from functools import wraps

import optimizer
from optimizer.cli import options
from optimizer.cli.show import Screen, Told
from optimizer.errors import FaultKind, wrong_option
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase
from optimizer.model.result import Result


def job_options(command: Callable[..., None]) -> Callable[..., None]:
    """Let a command take a site, a price list and what-ifs; it is given the job they make.

    Where it takes `options.against` it is given the job to hold it against too, None without.
    """

    @wraps(command)
    def asked(
        site: str,
        catalog: str | None,
        changes: Sequence[str],
        held_against: Sequence[str] | None = None,
        **rest: object,
    ) -> None:
        job = supposed(optimizer.load(site, catalog), changes)
        if held_against is not None:
            rest["other"] = _other(site, catalog, held_against) if held_against else None
        command(job, **rest)

    return options.site(options.catalog(options.what_if(asked)))


def supposed(job: Job, changes: Sequence[str]) -> Job:
    """Return a job with the what-ifs that a command was told."""
    if not changes:
        return job
    from optimizer.comparison.what_if import changes_of

    return job.what_if(changes_of(changes))


def _other(site: str, catalog: str | None, words: Sequence[str]) -> Job:
    """Return the job of a second run: a site named is read with its own price list."""
    sites = [word for word in words if "=" not in word]
    if len(sites) > 1:
        found, wanted = ", ".join(sites), Phrase("one site")
        raise wrong_option("--against", found, wanted, FaultKind.TWICE)
    job = optimizer.load(*sites) if sites else optimizer.load(site, catalog)
    return supposed(job, [word for word in words if "=" in word])


def side_by_side(job: Job, other: Job, ask: Callable[..., Result], **asked: object) -> Told:
    """Ask the same of two jobs; both answers are told side by side."""
    found = optimizer.against(job, other, ask, **asked)

    def show(out: Screen) -> None:
        from optimizer.report.grids.two_runs import side_by_side as grid
        from optimizer.report.words.two_runs import runs

        out.lines(runs(out.write, found))
        out.tables(grid(out.write, found))
        out.footnotes(job, other, supposed=False)

    return Told(lambda: found, show, job)


def sums_of_money(option: str, text: str) -> list[float]:
    """Return the sums of a list; one with a mark at its thousands would count as two, or as few."""
    from optimizer.inputs.faults import shown

    pieces = [one.strip() for one in text.split(",")]
    marked = any(re.fullmatch(r"0\d+|\d{1,3}\.\d{3}", one) for one in pieces)
    try:
        found = [] if marked else [float(one) for one in pieces]
    except ValueError:
        found = []
    if not found:
        wanted = Phrase(
            "money without marks at the thousands, commas between several sums, such as "
            "60000,120000"
        )
        raise wrong_option(option, shown(text), wanted)
    return found
