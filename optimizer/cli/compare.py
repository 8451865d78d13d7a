"""``keeplit compare``, ``sensitivity``, ``budget``, ``tiers``: which family, what changes it."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

import optimizer
from optimizer.cli.asking import job_options
from optimizer.cli.show import (
    ProgressBar,
    Screen,
    family_option,
    json_option,
    print_json,
    tell_written,
)

if TYPE_CHECKING:
    from collections.abc import Mapping

    from optimizer.comparison.answers import (
        CompareAnswer,
        SensitivityAnswer,
    )
    from optimizer.comparison.break_even_line import BreakEvenLine
    from optimizer.comparison.budgets import Bought, Staircase
    from optimizer.comparison.switch_points import SwitchPoints
    from optimizer.comparison.tier_costs import Tiers
    from optimizer.model.job import Job
    from optimizer.report.charts.canvas import Canvas
    from optimizer.report.grids.grid import Grid
    from optimizer.report.words.writer import Writer

hours_option = click.option(
    "--hours", type=int, metavar="N", help="Autonomy to carry; the site's target if left out."
)
charts_option = click.option(
    "--charts", "folder", metavar="DIR", help="Also write the charts there, as PNG and SVG."
)
#: Rows of a budget table at most: more is a typing error.
_MOST_ROWS = 2000


@click.command()
@job_options
@hours_option
@click.option("--switch-points", "neighbours", is_flag=True, help="Both sides of each of them.")
@click.option("--years", "by_year", is_flag=True, help="What has been paid by each year.")
@click.option(
    "--break-even-line",
    "across",
    metavar="NUMBER",
    flag_value="outages",
    is_flag=False,
    help="Where both cost the same: battery price against outages, or against another number.",
)
@charts_option
@json_option
def compare(
    job: Job,
    hours: int | None,
    neighbours: bool,
    by_year: bool,
    across: str | None,
    folder: str | None,
    as_json: bool,
) -> None:
    """Answer lead-acid or lithium for the same hours: who wins, why, what would change it."""
    from optimizer.comparison.answers import CompareAnswer
    from optimizer.comparison.parameters import parameter_named

    if across is not None:
        parameter_named(job, across)
    comparison = optimizer.compare(job, hours)
    line: BreakEvenLine | None = None
    found: tuple[SwitchPoints, ...] = ()
    if comparison.runner_up is not None:
        if across is not None or folder is not None:
            line = optimizer.break_even_line(job, hours, across=across or "outages")
        with ProgressBar("numbers") as progress:
            found = optimizer.switch_points(job, hours, progress=progress)
    answer = CompareAnswer(comparison, found, line)
    if folder is not None:
        _save_comparison(folder, answer)
    if as_json:
        print_json(answer)
    else:
        _show_comparison(
            answer, neighbours=neighbours, by_year=by_year, with_line=across is not None
        )


def _save_comparison(folder: str, answer: CompareAnswer) -> None:
    from optimizer.report.charts.break_even_line import break_even_chart
    from optimizer.report.charts.paid import paid_chart

    job, line = answer.comparison.job, answer.break_even_line
    pictures = {"paid": paid_chart(answer.comparison, _canvas(job))}
    if line is not None:
        pictures["break-even-line"] = break_even_chart(line, _canvas(job))
    _save(folder, pictures)


def _show_comparison(
    answer: CompareAnswer, *, neighbours: bool, by_year: bool, with_line: bool
) -> None:
    from optimizer.report.grids import comparison as grids
    from optimizer.report.grids import switch_points as points
    from optimizer.report.words import comparison as words
    from optimizer.report.words.switch_points import break_even, turning

    found, comparison, line = answer.switch_points, answer.comparison, answer.break_even_line
    screen = Screen(comparison.job.site.currency)
    write = screen.write
    sentences = [*words.reasons(write, comparison), words.catch_up(write, comparison)]
    shown = [grids.side_by_side(write, comparison.alternatives)]
    if found:
        sentences += turning(write, found)
        shown.append(points.switch_points(write, found))
    shown.append(grids.chemistries(write, comparison))
    if neighbours and found:
        shown.append(points.neighbours(write, found))
    if by_year:
        shown.append(grids.paid(write, comparison))
    if with_line and line is not None:
        sentences += break_even(write, line)
        shown.append(points.break_even_line(write, line))
    screen.heading(words.verdict(write, comparison))
    screen.lines(sentence for sentence in sentences if sentence)
    screen.tables(*shown)
    screen.footnotes(comparison.job)


@click.command()
@job_options
@hours_option
@click.option("--budget", type=float, metavar="MONEY", help="Upfront money to follow the hours of.")
@click.option("--scenarios", type=int, default=200, show_default=True, help="How many to draw.")
@click.option("--seed", type=click.IntRange(min=0), default=1, show_default=True)
@click.option(
    "--processes", type=click.IntRange(1, 64), metavar="N", help="As many as cores if left out."
)
@charts_option
@json_option
def sensitivity(
    job: Job,
    hours: int | None,
    budget: float | None,
    scenarios: int,
    seed: int,
    processes: int | None,
    folder: str | None,
    as_json: bool,
) -> None:
    """Show what moves the answer: each number alone, and all at once in drawn scenarios."""
    from optimizer.answers.questions import counted
    from optimizer.comparison.answers import SensitivityAnswer
    from optimizer.comparison.regrets import MOST_SCENARIOS

    counted("--scenarios", scenarios, MOST_SCENARIOS)
    with ProgressBar("numbers") as progress:
        each = optimizer.sensitivities(job, hours, budget=budget, progress=progress)
    with ProgressBar("scenarios") as progress:
        together = optimizer.regret(
            job, hours, scenarios=scenarios, seed=seed, processes=processes, progress=progress
        )
    answer = SensitivityAnswer(each, together)
    if folder is not None:
        from optimizer.report.charts.sensitivity import sensitivity_chart

        canvas = _canvas(job)
        pictures = {
            "sensitivity-cost": sensitivity_chart(each, canvas),
            "sensitivity-hours": sensitivity_chart(each, canvas, what="hours"),
        }
        _save(folder, pictures)
    if as_json:
        print_json(answer)
    else:
        _show_sensitivity(job, answer)


def _show_sensitivity(job: Job, answer: SensitivityAnswer) -> None:
    from optimizer.report.grids import sensitivity as grids
    from optimizer.report.words.regret import verdict

    screen = Screen(job.site.currency)
    first, *more = verdict(screen.write, answer.regret)
    screen.heading(first)
    screen.lines(more)
    screen.tables(
        grids.one_at_a_time(screen.write, answer.sensitivities),
        grids.regret(screen.write, answer.regret),
    )
    screen.footnotes(job)


@click.command()
@job_options
@family_option
@click.option("--from", "first", type=float, metavar="MONEY", help="Lowest budget of a table.")
@click.option("--to", "last", type=float, metavar="MONEY", help="Highest budget.")
@click.option("--step", type=float, metavar="MONEY", help="From one budget to the next.")
@click.option("--budgets", metavar="MONEY,…", help="Budgets of a table, such as 3000,6000,12000.")
@click.option("--lifetime", is_flag=True, help="Life-cycle cost instead of upfront cost.")
@click.option(
    "--later-limit", type=float, metavar="MONEY", help="Most that any later year may cost to buy."
)
@click.option("-o", "--output", metavar="FILE", help="Write the table as CSV.")
@charts_option
@json_option
def budget(
    job: Job,
    family: str | None,
    first: float | None,
    last: float | None,
    step: float | None,
    budgets: str | None,
    lifetime: bool,
    later_limit: float | None,
    output: str | None,
    folder: str | None,
    as_json: bool,
) -> None:
    """Show what money buys: every step of the way, or a table of many budgets."""
    from optimizer.comparison.answers import BudgetAnswer

    if budgets is None:
        wanted = _budgets(first, last, step, needed=output is not None)
    else:
        wanted = _listed(budgets, (first, last, step))
    options: dict[str, Any] = {
        "lifetime": lifetime,
        "family": family,
        "later_limit": later_limit,
    }
    rows = stairs = None
    if wanted:
        with ProgressBar("budgets") as progress:
            rows = optimizer.budget_table(job, wanted, progress=progress, **options)
    if not wanted or folder is not None:
        with ProgressBar("steps") as progress:
            stairs = optimizer.staircase(job, progress=progress, **options)
        if not stairs.steps and later_limit is None:
            optimizer.choose(stairs.job, hours=1, family=family)  # says why nothing fits
    if folder is not None and stairs is not None and stairs.steps:
        from optimizer.report.charts.staircase import staircase_chart

        _save(folder, {"budget": staircase_chart(stairs, _canvas(job))})
    screen = Screen(job.site.currency)
    grid = _budget_grid(screen.write, stairs, rows, lifetime=lifetime)
    if output is not None and rows is not None:
        from optimizer.report.csv_text import as_csv

        _write({output: as_csv(grid)})
    if as_json:
        limit = job.site.later_limit if later_limit is None else later_limit
        steps = None if stairs is None else stairs.steps
        print_json(BudgetAnswer(job.site.currency, lifetime, family, limit, steps, rows))
        return
    if grid.rows:
        screen.tables(grid)
    else:
        from optimizer.report.words.budgets import nothing

        screen.line(nothing(screen.write))
    screen.footnotes(job)


def _budget_grid(
    write: Writer, stairs: Staircase | None, rows: tuple[Bought, ...] | None, *, lifetime: bool
) -> Grid:
    """Return the table of budgets where one was asked for, else every step."""
    from optimizer.report.grids.budgets import budgets, steps

    if stairs is not None and rows is None:
        return steps(write, stairs)
    return budgets(write, rows or (), lifetime=lifetime)


@click.command()
@job_options
@family_option
@hours_option
@charts_option
@json_option
def tiers(
    job: Job,
    family: str | None,
    hours: int | None,
    folder: str | None,
    as_json: bool,
) -> None:
    """Show what each tier of loads costs: essential alone, then with the next."""
    from optimizer.comparison.answers import TiersAnswer

    with ProgressBar("tiers") as progress:
        found: Tiers = optimizer.tiers(job, family=family, progress=progress)
    at = sorted({hours or job.site.target_hours, *found.landmarks})
    if folder is not None and any(one.curve.points for one in found.curves):
        from optimizer.report.charts.tiers import tiers_chart

        _save(folder, {"tiers": tiers_chart(found, _canvas(job))})
    if as_json:
        costs = tuple(cost for hour in at for cost in found.at(hour))
        print_json(
            TiersAnswer(job.site.name, job.site.currency, found.curves, costs, found.staying_on)
        )
    else:
        from optimizer.report.grids.tiers import tiers as grid

        screen = Screen(job.site.currency)
        screen.tables(grid(screen.write, found, at))
        screen.footnotes(job)


def _listed(text: str, range_told: tuple[float | None, ...]) -> list[float]:
    """Return the budgets of a list."""
    from optimizer.errors import Fault, InputError
    from optimizer.inputs.faults import shown

    if any(one is not None for one in range_told):
        wanted = "the budgets one by one, or --from, --to and --step"
        raise InputError([Fault("options", None, "--budgets", "a list and a range", wanted)])
    try:
        found = [float(word) for word in text.split(",")]
    except ValueError:
        wanted = "sums of money with commas between, such as 3000,6000,12000"
        raise InputError([Fault("options", None, "--budgets", shown(text), wanted)]) from None
    _at_most("--budgets", len(found))
    return found


def _at_most(option: str, count: float) -> None:
    from optimizer.errors import Fault, InputError

    if count > _MOST_ROWS:
        found, wanted = f"more than {_MOST_ROWS:,} budgets", f"{_MOST_ROWS:,} at most"
        raise InputError([Fault("options", None, option, found, wanted)])


def _budgets(
    first: float | None, last: float | None, step: float | None, *, needed: bool
) -> list[float]:
    """Return the budgets of a table, none where no table is asked for."""
    from optimizer.errors import Fault, InputError

    given = (first, last, step)
    if all(one is None for one in given) and not needed:
        return []
    if first is None or last is None or step is None:
        raise InputError(
            [Fault("options", None, None, "a part of a table", "--from, --to and --step together")]
        )
    if not 0 <= first <= last < float("inf") or not 0 < step < float("inf"):
        found = f"--from {first:g} --to {last:g} --step {step:g}"
        wanted = "money from low to high, in steps above 0"
        raise InputError([Fault("options", None, None, found, wanted)])
    steps = (last - first) / step * (1 + 1e-12)
    _at_most("--step", math.floor(min(steps, _MOST_ROWS)) + 1)
    count = int(steps) + 1
    return [first + number * step for number in range(count)]


def _canvas(job: Job) -> Canvas:
    """Return what the charts of files are drawn on."""
    from optimizer.report.charts.canvas import Canvas
    from optimizer.report.charts.theme import LIGHT

    return Canvas(LIGHT, Screen(job.site.currency).write, alone=True)


def _save(folder: str, pictures: Mapping[str, Any]) -> None:
    """Write charts as PNG and SVG."""
    from optimizer.report.charts.files import chart_file

    _write(
        {
            str(Path(folder) / f"{name}.{form}"): chart_file(chart, form)
            for name, chart in pictures.items()
            for form in ("png", "svg")
        }
    )


def _write(contents: Mapping[str, bytes]) -> None:
    from optimizer.files.writing import write_files

    write_files(contents.items())
    tell_written(contents)
