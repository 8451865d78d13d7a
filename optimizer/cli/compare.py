"""``keeplit compare``, ``sensitivity``, ``budget``, ``tiers``: which family, what changes it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

import optimizer
from optimizer.cli.show import (
    ProgressBar,
    catalog_option,
    console,
    family_option,
    footnotes,
    json_option,
    print_json,
    site_argument,
)

if TYPE_CHECKING:
    from collections.abc import Mapping

    from optimizer.model.job import Job
    from optimizer.report.charts.canvas import Canvas

hours_option = click.option(
    "--hours", type=int, metavar="N", help="Autonomy to carry; the site's target if left out."
)
charts_option = click.option(
    "--charts", "folder", metavar="DIR", help="Also write the charts there, as PNG and SVG."
)
#: Futures at most: more say no more.
MOST_SCENARIOS = 10_000
#: Rows of a budget table at most: more is a typing error.
_MOST_ROWS = 2000


@click.command()
@site_argument
@catalog_option
@hours_option
@click.option(
    "--switch-points", "brackets", is_flag=True, help="Every switch point with both its neighbours."
)
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
    site: str,
    catalog: str | None,
    hours: int | None,
    brackets: bool,
    by_year: bool,
    across: str | None,
    folder: str | None,
    as_json: bool,
) -> None:
    """Answer lead-acid or lithium for the same hours: who wins, why, what would turn it."""
    from optimizer import api_compare as doors

    job = optimizer.load(site, catalog)
    comparison = doors.compare(job, hours)
    wants_break_even_line = comparison.runner_up is not None and (
        across is not None or folder is not None
    )
    line = (
        doors.break_even_line(job, hours, across=across or "outages")
        if wants_break_even_line
        else None
    )
    with ProgressBar("numbers") as progress:
        found = doors.switch_points(job, hours, progress=progress) if comparison.runner_up else ()
    if folder is not None:
        from optimizer.report.charts.break_even_line import break_even_chart
        from optimizer.report.charts.paid import paid_chart

        pictures = {"paid": paid_chart(comparison, _canvas(job))}
        if line is not None:
            pictures["break-even-line"] = break_even_chart(line, _canvas(job))
        _save(folder, pictures)
    if as_json:
        from optimizer.report import rivals_data as data

        more = {} if line is None else {"break_even_line": data.break_even_line_data(line)}
        answer = data.comparison_data(comparison)
        print_json({**answer, "switch_points": data.switch_points_data(found), **more})
        return
    from optimizer.report import rivals_tables as tables
    from optimizer.report import rivals_words as words

    out = console()
    out.print(words.verdict_in_words(comparison), style="bold")
    for sentence in (words.reason_in_words(comparison), words.catch_up_in_words(comparison)):
        if sentence:
            out.print(sentence)
    for sentence in words.turns_in_words(found, comparison):
        out.print(sentence)
    shown = [tables.sides_table(comparison)]
    if found:
        shown.append(tables.switch_points_table(found))
    shown.append(tables.chemistries_table(comparison))
    if brackets and found:
        shown.append(tables.brackets_table(found, job.site.currency))
    if by_year:
        shown.append(tables.balances_table(comparison))
    for table in shown:
        out.print()
        out.print(table)
    if across is not None and line is not None:
        out.print()
        for sentence in words.break_even_line_in_words(line):
            out.print(sentence)
        out.print(tables.break_even_line_table(line))
    footnotes(out, job)


@click.command()
@site_argument
@catalog_option
@hours_option
@click.option("--budget", type=float, metavar="MONEY", help="Whose hours are followed.")
@click.option("--scenarios", type=int, default=200, show_default=True, help="Futures to draw.")
@click.option("--seed", type=click.IntRange(min=0), default=1, show_default=True)
@click.option(
    "--processes",
    type=click.IntRange(1, 64),
    metavar="N",
    help="As many as cores if left out.",
)
@charts_option
@json_option
def sensitivity(
    site: str,
    catalog: str | None,
    hours: int | None,
    budget: float | None,
    scenarios: int,
    seed: int,
    processes: int | None,
    folder: str | None,
    as_json: bool,
) -> None:
    """Show what moves the answer: each number alone, and all at once in drawn futures."""
    from optimizer import api_compare as doors
    from optimizer.answers.questions import counted, not_negative
    from optimizer.comparison.scenarios import STATED

    not_negative("--budget", budget)
    counted("--scenarios", scenarios, MOST_SCENARIOS)
    job = optimizer.load(site, catalog)
    with ProgressBar("numbers") as progress:
        sensitivities = doors.sensitivities(job, hours, budget=budget, progress=progress)
    with ProgressBar("futures") as progress:
        regret = doors.regret(
            job, hours, scenarios=scenarios, seed=seed, processes=processes, progress=progress
        )
    if folder is not None:
        from optimizer.report.charts.sensitivity import sensitivity_chart

        canvas = _canvas(job)
        pictures = {
            "sensitivity-cost": sensitivity_chart(sensitivities, canvas),
            "sensitivity-hours": sensitivity_chart(sensitivities, canvas, what="hours"),
        }
        _save(folder, pictures)
    if as_json:
        from optimizer.report import rivals_data as data

        drawn = {**data.regret_data(regret), "distributions": list(STATED)}
        print_json(
            {
                "currency": job.site.currency,
                **data.sensitivities_data(sensitivities),
                "regret": drawn,
            }
        )
        return
    from optimizer.report import rivals_tables as tables
    from optimizer.report import rivals_words as words

    out = console()
    out.print(words.regret_in_words(regret), style="bold")
    out.print()
    out.print(tables.sensitivities_table(sensitivities))
    out.print()
    out.print(tables.regret_table(regret))
    out.print(f"Drawn: {'; '.join(STATED)}.", style="dim")
    footnotes(out, job)


@click.command()
@site_argument
@catalog_option
@family_option
@click.option("--from", "first", type=float, metavar="MONEY", help="Lowest budget of a table.")
@click.option("--to", "last", type=float, metavar="MONEY", help="Highest budget.")
@click.option("--step", type=float, metavar="MONEY", help="From one budget to the next.")
@click.option("--lifetime", is_flag=True, help="Money over the horizon, not at the start.")
@click.option(
    "--later-limit", type=float, metavar="MONEY", help="Most that any later year may cost to buy."
)
@click.option("-o", "--output", metavar="FILE", help="Write the table as CSV.")
@charts_option
@json_option
def budget(
    site: str,
    catalog: str | None,
    family: str | None,
    first: float | None,
    last: float | None,
    step: float | None,
    lifetime: bool,
    later_limit: float | None,
    output: str | None,
    folder: str | None,
    as_json: bool,
) -> None:
    """Show what money buys: every step of the way, or a table of many budgets."""
    from optimizer import api_compare as doors

    job = optimizer.load(site, catalog)
    wanted = _budgets(first, last, step, needed=output is not None)
    options: dict[str, Any] = {
        "lifetime": lifetime,
        "family": family,
        "later_limit": later_limit,
    }
    rows = stairs = None
    if wanted:
        with ProgressBar("budgets") as progress:
            rows = doors.budget_table(job, wanted, progress=progress, **options)
    if not wanted or folder is not None:
        with ProgressBar("steps") as progress:
            stairs = doors.staircase(job, progress=progress, **options)
        if not stairs.steps and later_limit is None:
            optimizer.choose(stairs.job, hours=1, family=family)  # says why nothing fits
    if output is not None and rows is not None:
        from optimizer.report.rivals_data import budget_csv

        _write({output: budget_csv(rows)})
    if folder is not None and stairs is not None:
        from optimizer.report.charts.staircase import staircase_chart

        if stairs.steps:
            _save(folder, {"budget": staircase_chart(stairs, _canvas(job))})
    if as_json:
        from optimizer.report import rivals_data as data

        table = {} if rows is None else {"budgets": data.budget_rows(rows)}
        steps = {} if stairs is None else data.staircase_data(stairs)
        print_json({"currency": job.site.currency, **steps, **table})
        return
    from optimizer.report import rivals_tables as tables

    out = console()
    if rows is not None:
        out.print(tables.budget_table(job, rows, lifetime=lifetime))
    elif stairs is not None and stairs.steps:
        out.print(tables.staircase_table(stairs))
    else:
        out.print("No budget buys anything within that limit on later years.")
    footnotes(out, job)


@click.command()
@site_argument
@catalog_option
@family_option
@hours_option
@charts_option
@json_option
def tiers(
    site: str,
    catalog: str | None,
    family: str | None,
    hours: int | None,
    folder: str | None,
    as_json: bool,
) -> None:
    """Show what each tier of loads costs: essential alone, then with the next."""
    from optimizer import api_compare as doors

    job = optimizer.load(site, catalog)
    with ProgressBar("tiers") as progress:
        found = doors.tiers(job, family=family, progress=progress)
    shown = sorted({hours or job.site.target_hours, *found.landmarks})
    if folder is not None:
        from optimizer.report.charts.tiers import tiers_chart

        if any(one.curve.points for one in found.curves):
            _save(folder, {"tiers": tiers_chart(found, _canvas(job))})
    if as_json:
        from optimizer.report.rivals_data import tiers_data

        print_json(tiers_data(found, shown))
        return
    from optimizer.report.rivals_tables import tiers_table

    out = console()
    out.print(tiers_table(found, shown))
    footnotes(out, job)


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
    count = int((last - first) / step * (1 + 1e-12)) + 1
    if count > _MOST_ROWS:
        raise InputError(
            [Fault("options", None, "--step", f"{count:,} budgets", f"{_MOST_ROWS:,} at most")]
        )
    return [first + number * step for number in range(count)]


def _canvas(job: Job) -> Canvas:
    """Return what the charts of files are drawn on."""
    from optimizer.report.charts.canvas import Canvas
    from optimizer.report.charts.theme import LIGHT
    from optimizer.report.words.writer import Writer

    return Canvas(LIGHT, Writer(job.site.currency), alone=True)


def _save(folder: str, pictures: Mapping[str, Any]) -> None:
    """Write charts as PNG and SVG."""
    from optimizer.report.files import chart_file

    _write(
        {
            str(Path(folder) / f"{name}.{form}"): chart_file(chart, form)
            for name, chart in pictures.items()
            for form in ("png", "svg")
        }
    )


def _write(contents: Mapping[str, bytes]) -> None:
    from optimizer.cli.files import write_files

    write_files(contents)
    for name in contents:
        click.echo(f"Written: {name}", err=True)
