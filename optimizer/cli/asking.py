"""The site that a command asks about, with what-ifs: its options, and the job they make."""

from __future__ import annotations

from functools import wraps
from typing import TYPE_CHECKING

import click

import optimizer
from optimizer.cli.show import catalog_option, site_argument
from optimizer.comparison.parameter import FAMILY_KINDS, Kind

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from optimizer.model.job import Job

set_option = click.option(
    "--set",
    "changes",
    multiple=True,
    metavar="NAME=VALUE",
    help="What if a number were another: a value (rate=0.12, rate=12%), a factor (outages=x2), or "
    "more or less (room=+5, price:lithium=-20%). May be given more than once. Names: "
    f"{', '.join(kind + ':FAMILY' * (kind in FAMILY_KINDS) for kind in Kind)}. "
    "keeplit check SITE --what-if lists them with units and ranges.",
)


def job_options(command: Callable[..., None]) -> Callable[..., None]:
    """Let a command take a site, a price list and what-ifs; it is given the job they make."""

    @wraps(command)
    def asked(site: str, catalog: str | None, changes: Sequence[str], **options: object) -> None:
        command(supposed(optimizer.load(site, catalog), changes), **options)

    return site_argument(catalog_option(set_option(asked)))


def supposed(job: Job, changes: Sequence[str]) -> Job:
    """Return a job with the what-ifs that a command was told."""
    if not changes:
        return job
    from optimizer.comparison.what_if import changes_of

    return job.what_if(changes_of(changes))
