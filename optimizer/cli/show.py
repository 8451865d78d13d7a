"""How commands show what they have: text, JSON, charts, progress."""

from __future__ import annotations

import codecs
import json
import os
import shutil
import sys
import time
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import click

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from rich.progress import Progress

    from optimizer.model.job import Job
    from optimizer.model.progress import Progress as Advance
    from optimizer.report.charts.canvas import Canvas
    from optimizer.report.grids.grid import Grid
    from optimizer.report.words.writer import Writer

#: Width of a line where the output is neither a terminal nor told its columns [characters].
_FILE_WIDTH = 120
#: A terminal is taken to be at least so wide [characters].
_NARROWEST = 30
#: Terminals that know neither bold nor dim.
_PLAIN = ("dumb", "unknown")
#: Work that takes longer than this shows its progress [s].
_PATIENCE_S = 1.0


class Told(NamedTuple):
    """What a command answers, for programs and for people.

    ``data`` is asked for with --json, ``show`` without; ``job`` is what both are about, of which
    something may be supposed. Where there is none, money on the screen is in ``currency``.
    """

    data: Callable[[], object]
    show: Callable[[Screen], None]
    job: Job | None = None
    currency: str = "EUR"


def answering(command: Callable[..., Told]) -> Callable[..., None]:
    """Let a command take --json; what it returns is printed for programs or shown to people."""

    @click.option(
        "--json", "as_json", is_flag=True, help="Print JSON instead; keeplit schema describes it."
    )
    @wraps(command)
    def asked(*job: Job, as_json: bool, **options: object) -> None:
        told = command(*job, **options)
        if as_json:
            print_json(told.data(), told.job)
        else:
            told.show(Screen(told.currency if told.job is None else told.job.site.currency))

    return asked


def print_json(answer: object, job: Job | None = None) -> None:
    """Print an answer as one JSON object: the version of the format, what is supposed, the rest."""
    from optimizer.report.json.serialise import output

    supposed = None if job is None else job.supposed
    data = output(answer, supposed)
    # where the output has codes for some letters only, the rest travel as \u escapes: same data
    narrow = codecs.lookup(sys.stdout.encoding or "ascii").name != "utf-8"
    click.echo(json.dumps(data, ensure_ascii=narrow, indent=1, allow_nan=False))


def language() -> str:
    """Return the locale of sentences and numbers, which has a catalogue or stays English."""
    return os.environ.get("KEEPLIT_LOCALE", "en")


def writer(currency: str = "EUR") -> Writer:
    """Return what says sentences and numbers; the currency matters where money is told."""
    from optimizer.report.words.writer import Writer

    return Writer(currency, language())


def tell_written(names: Iterable[object]) -> None:
    """Tell on standard error which files were written."""
    from optimizer.report.words.commands import written

    write = writer()
    for name in names:
        click.echo(written(write, name), err=True)


class Screen:
    """Standard output as people read it: sentences, headings and tables."""

    def __init__(self, currency: str = "EUR") -> None:
        self.write = writer(currency)
        has_styles = os.environ.get("TERM") not in _PLAIN
        self._is_styled = has_styles and ("FORCE_COLOR" in os.environ or sys.stdout.isatty())
        told = sys.stdout.isatty() or "COLUMNS" in os.environ
        told_width = shutil.get_terminal_size((_FILE_WIDTH, 0)).columns
        self._width = max(told_width, _NARROWEST) if told else _FILE_WIDTH
        self._is_empty = True

    def line(self, text: str = "", style: str = "", indent: str = "") -> None:
        """Print a sentence."""
        from optimizer.report import terminal

        for line in terminal.wrapped(text, self._width - len(indent), breaks=terminal.WORDS):
            self._print(indent + line, style)

    def lines(self, texts: Iterable[str], heading: str = "") -> None:
        """Print sentences, indented under a heading where there is one."""
        if heading:
            self.heading(heading)
        for text in texts:
            self.line(text, indent="  " if heading else "")

    def heading(self, text: str) -> None:
        """Print a heading, a line below what went before."""
        self._apart()
        self.line(text, "bold")

    def tables(self, *grids: Grid) -> None:
        """Print tables, each a line below what went before."""
        from optimizer.report import terminal

        for grid in grids:
            self._apart()
            for line in terminal.table(grid, self.write, self._width):
                self._print(*line)

    def footnotes(self, *jobs: Job, supposed: bool = True) -> None:
        """Print what stands under every result: old prices, warnings, the caution.

        Without ``supposed`` what is supposed of the jobs has been told already.
        """
        from datetime import date

        from optimizer.answers.old_prices import old_prices
        from optimizer.model.warning import WarningKind
        from optimizer.report.words import notes
        from optimizer.report.words.warnings import job_warning

        old = len({one for job in jobs for one in old_prices(job, date.today())})
        texts = [notes.old_prices(self.write, old)] if old else []
        warned = [one for job in jobs for one in job.warnings]
        if not supposed:
            warned = [one for one in warned if one.kind is not WarningKind.WHAT_IF]
        texts += [job_warning(self.write, one) for one in warned]
        self._apart()
        if critical := tuple(dict.fromkeys(name for job in jobs for name in job.critical_loads)):
            self.line(notes.second_source(self.write, critical))
        self.lines(notes.note(self.write, text) for text in dict.fromkeys(texts))
        self.line(notes.caution(self.write), "dim")

    def _apart(self) -> None:
        if not self._is_empty:
            self._print("")

    def _print(self, line: str, style: str = "") -> None:
        self._is_empty = False
        if style:
            line = click.style(line, bold=style == "bold" or None, dim=style == "dim" or None)
        click.echo(line, file=sys.stdout, color=self._is_styled)  # as the process was told to write


class ProgressBar:
    """Progress on standard error, shown only once work has taken a second."""

    def __init__(self, what: str) -> None:
        self._what = what
        self._started = time.monotonic()
        self._bar: Progress | None = None

    def __enter__(self) -> Advance:
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


def canvas(job: Job) -> Canvas:
    """Return what the charts of files are drawn on."""
    from optimizer.report.charts.canvas import Canvas
    from optimizer.report.charts.theme import LIGHT

    return Canvas(LIGHT, writer(job.site.currency), alone=True)


def save_charts(folder: str, pictures: Mapping[str, Any]) -> None:
    """Write charts as PNG and SVG."""
    from optimizer.report.charts.files import chart_file

    write_outputs(
        {
            str(Path(folder) / f"{name}.{form}"): chart_file(chart, form)
            for name, chart in pictures.items()
            for form in ("png", "svg")
        }
    )


def write_outputs(contents: Mapping[str, bytes]) -> None:
    """Write files, all or none, and tell which."""
    from optimizer.files.writing import write_files

    write_files(contents.items())
    tell_written(contents)
