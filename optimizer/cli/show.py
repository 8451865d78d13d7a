"""How commands read their common options and show what they have: text, JSON, progress."""

from __future__ import annotations

import codecs
import json
import sys
import time
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from collections.abc import Callable

    from rich.console import Console
    from rich.progress import Progress

    from optimizer.model.job import Job

#: Width of tables where the output is not a terminal [characters].
_FILE_WIDTH = 150
#: Work that takes longer than this shows its progress [s].
_PATIENCE_S = 1.0

_CAUTION = (
    "Planning figures, not an installation plan: batteries hold dangerous currents, lead-acid "
    "gives off hydrogen, work on the supply belongs to a licensed electrician, local codes prevail."
)

site_argument = click.argument("site")
catalog_option = click.option(
    "--catalog", metavar="DIR", help="Folder of the price list, instead of the site's own."
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON for programs.")
assumptions_option = click.option(
    "--assumptions", is_flag=True, help="List every number it rests on, with its source."
)
family_option = click.option(
    "--family", metavar="NAME", help="Only chemistries of this family, such as lead or lithium."
)


def print_json(data: dict[str, Any]) -> None:
    """Print data for programs: one JSON object."""
    # where the output has codes for some letters only, the rest travel as \u escapes: same data
    narrow = codecs.lookup(sys.stdout.encoding or "ascii").name != "utf-8"
    click.echo(json.dumps(data, ensure_ascii=narrow, indent=1, default=str, allow_nan=False))


def console() -> Console:
    """Return where tables are printed; as wide as the terminal, or wide where there is none."""
    from rich.console import Console

    terminal = sys.stdout.isatty()
    # markup off: a name from a file is text, whatever brackets it holds
    return Console(
        markup=False, emoji=False, highlight=False, width=None if terminal else _FILE_WIDTH
    )


def footnotes(to: Console, job: Job) -> None:
    """Print what stands under every result: old prices, warnings, the caution."""
    from datetime import date

    from optimizer.answers.site_survey import old_prices
    from optimizer.report.words import plain

    to.print()
    old = old_prices(job, date.today())
    if old:
        to.print(f"Note: {len(old)} prices are older than a year; keeplit check names them.")
    for warning in job.warnings:
        to.print(f"Note: {plain(warning)}")
    to.print(_CAUTION, style="dim")


class ProgressBar:
    """Progress on standard error, shown only once work has taken a second."""

    def __init__(self, what: str) -> None:
        self._what = what
        self._started = time.monotonic()
        self._bar: Progress | None = None

    def __enter__(self) -> Callable[[int, int], None]:
        return self._step

    def __exit__(self, *_: object) -> None:
        if self._bar is not None:
            self._bar.stop()

    def _step(self, done: int, whole: int) -> None:
        if not sys.stderr.isatty() or time.monotonic() - self._started < _PATIENCE_S:
            return
        if self._bar is None:
            from rich.console import Console
            from rich.progress import Progress

            self._bar = Progress(console=Console(stderr=True), transient=True)
            self._bar.add_task(self._what, total=whole)
            self._bar.start()
        self._bar.update(self._bar.task_ids[0], completed=done, total=whole)
