"""The site that a command asks about, with what-ifs: its options, and the job they make."""

from __future__ import annotations

import re
from functools import wraps
from typing import TYPE_CHECKING

import click

import optimizer
from optimizer.cli.completing import numbers, sites
from optimizer.cli.show import Screen, Told, catalog_option, site_argument
from optimizer.comparison.parameters import FAMILY_KINDS, Kind
from optimizer.errors import FaultKind, wrong_option
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from optimizer.model.job import Job
    from optimizer.model.result import Result

set_option = click.option(
    "--set",
    "changes",
    multiple=True,
    metavar="NAME=VALUE",
    shell_complete=numbers,
    help="Change one number of the site for this answer: to a value (rate=12%), by a factor "
    "(outages=x2), up or down (room=+5, price:lithium=-20%). Repeat it for more numbers. Names: "
    f"{', '.join(kind + ':FAMILY' * (kind in FAMILY_KINDS) for kind in Kind)}; "
    "keeplit check SITE --what-if lists them with units and ranges.",
)

against_option = click.option(
    "--against",
    "held_against",
    multiple=True,
    metavar="SITE|NAME=VALUE",
    shell_complete=sites,
    help="Ask the same a second time and show both answers side by side: for another site, for "
    "SITE without --set, or with other numbers (--set rate=12% --against rate=3%). Repeat it for "
    "more numbers.",
)


def job_options(command: Callable[..., None]) -> Callable[..., None]:
    """Let a command take a site, a price list and what-ifs; it is given the job they make.

    Where it takes `against_option` it is given the job to hold it against too, None without.
    """

    @wraps(command)
    def asked(
        site: str,
        catalog: str | None,
        changes: Sequence[str],
        held_against: Sequence[str] | None = None,
        **options: object,
    ) -> None:
        job = supposed(optimizer.load(site, catalog), changes)
        if held_against is not None:
            options["other"] = _other(site, catalog, held_against) if held_against else None
        command(job, **options)

    return site_argument(catalog_option(set_option(asked)))


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
