"""``keeplit budget`` and ``tiers``: what money buys, and what loads cost."""

import math
from typing import Any

import click

import optimizer
from optimizer.cli import options
from optimizer.cli.asking import job_options, side_by_side, sums_of_money
from optimizer.cli.completing import files
from optimizer.cli.show import (
    ProgressBar,
    Screen,
    Told,
    answering,
    canvas,
    save_charts,
    write_outputs,
    writer,
)
from optimizer.errors import wrong_option
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase

#: Rows of a budget table at most: more is a typing error.
_MOST_ROWS = 2000


@click.command()
@job_options
@options.family
@click.option("--budgets", metavar="MONEY,…", help="Show these budgets only, e.g. 3000,6000,12000.")
@click.option(
    "--from", "first", type=float, metavar="MONEY", help="Show budgets from this one on …"
)
@click.option("--to", "last", type=float, metavar="MONEY", help="… up to this one …")
@click.option("--step", type=float, metavar="MONEY", help="… in steps of so much.")
@click.option("--lifetime", is_flag=True, help="Budget the life-cycle cost, not the upfront cost.")
@options.later_limit
@click.option(
    "-o",
    "--output",
    metavar="FILE",
    shell_complete=files,
    help="Also write the table of budgets as CSV.",
)
@options.charts
@options.against
@answering
def budget(
    job: Job,
    other: Job | None,
    first: float | None,
    last: float | None,
    step: float | None,
    budgets: str | None,
    output: str | None,
    folder: str | None,
    **asked: Any,
) -> Told:
    """Show what money buys: the longest autonomy for each budget.

    Without budgets, every step at which more money buys more hours. Money is in the site's
    currency.
    """
    from optimizer.comparison.budgets import BudgetTable, Staircase
    from optimizer.report.grids import budgets as grids

    if budgets is None:
        wanted = _budgets(first, last, step, needed=output is not None)
    else:
        wanted = _listed(budgets, (first, last, step))
    if other is not None and wanted:
        return side_by_side(
            job, other, optimizer.budget_table, budgets=wanted, beyond=True, **asked
        )
    if other is not None:
        return side_by_side(job, other, optimizer.staircase, **asked)
    table: BudgetTable | None = None
    stairs: Staircase | None = None
    if wanted:
        with ProgressBar("budgets") as progress:
            table = optimizer.budget_table(job, wanted, beyond=True, progress=progress, **asked)
    if not wanted or folder is not None:
        with ProgressBar("steps") as progress:
            stairs = optimizer.staircase(job, progress=progress, **asked)
        if not stairs.steps and asked["later_limit"] is None:
            optimizer.choose(stairs.job, hours=1, family=stairs.family)  # says why nothing fits
    if folder is not None and stairs is not None and stairs.steps:
        from optimizer.report.charts.staircase import staircase_chart

        save_charts(folder, {"budget": staircase_chart(stairs, canvas(job))})
    write = writer(job.site.currency)
    if table is not None:
        grid = grids.budgets(write, table)
    else:
        assert stairs is not None  # one of them was asked for
        grid = grids.steps(write, stairs)
    if output is not None and table is not None:
        from optimizer.report.csv_text import as_csv

        write_outputs({output: as_csv(grid)})

    def data() -> object:
        from optimizer.comparison.answers import budget_answer

        return budget_answer(table, stairs)

    def show(out: Screen) -> None:
        if grid.rows:
            out.tables(grid)
        else:
            from optimizer.report.words.budgets import nothing

            out.line(nothing(out.write))
        out.footnotes(job)

    return Told(data, show, job)


@click.command()
@job_options
@options.family
@options.hours
@options.charts
@answering
def tiers(job: Job, family: str | None, hours: int | None, folder: str | None) -> Told:
    """Show what each tier of loads and each single load costs.

    Essential loads alone first, then with the next tier, and so on, at the same hours.
    """
    with ProgressBar("tiers") as progress:
        found = optimizer.tiers(job, family=family, progress=progress)
    with ProgressBar("loads") as progress:
        each = optimizer.load_costs(job, hours, family=family, progress=progress)
    at = sorted({hours or job.site.target_hours, *found.landmarks})
    if folder is not None and any(one.curve.points for one in found.curves):
        from optimizer.report.charts.tiers import tiers_chart

        save_charts(folder, {"tiers": tiers_chart(found, canvas(job))})

    def data() -> object:
        from optimizer.comparison.answers import tiers_answer

        return tiers_answer(found, at, each)

    def show(out: Screen) -> None:
        from optimizer.report.grids import tiers as grids

        out.tables(grids.tiers(out.write, found, at), grids.loads(out.write, each))
        out.footnotes(job)

    return Told(data, show, job)


def _listed(text: str, range_told: tuple[float | None, ...]) -> list[float]:
    """Return the budgets of a list."""
    if any(one is not None for one in range_told):
        found = Phrase("a list and a range")
        wanted = Phrase("the budgets one by one, or --from, --to and --step")
        raise wrong_option("--budgets", found, wanted)
    budgets = sums_of_money("--budgets", text)
    _at_most("--budgets", len(budgets))
    return budgets


def _at_most(option: str, count: float) -> None:
    if count > _MOST_ROWS:
        most = f"{_MOST_ROWS:,}"
        found = Phrase("more than {most} budgets", most=most)
        wanted = Phrase("{most} at most", most=most)
        raise wrong_option(option, found, wanted)


def _budgets(
    first: float | None, last: float | None, step: float | None, *, needed: bool
) -> list[float]:
    """Return the budgets of a table, none where no table is asked for."""
    given = (first, last, step)
    if all(one is None for one in given) and not needed:
        return []
    if first is None or last is None or step is None:
        told = Phrase("a part of a table"), Phrase("--from, --to and --step together")
        raise wrong_option(None, *told)
    if not 0 <= first <= last < float("inf") or not 0 < step < float("inf"):
        found = f"--from {first:g} --to {last:g} --step {step:g}"
        wanted = Phrase("money from low to high, in steps above 0")
        raise wrong_option(None, found, wanted)
    steps = (last - first) / step * (1 + 1e-12)
    _at_most("--step", math.floor(min(steps, _MOST_ROWS)) + 1)
    count = int(steps) + 1
    return [first + number * step for number in range(count)]
