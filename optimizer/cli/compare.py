"""``keeplit compare`` and ``sensitivity``: which family, and what changes it."""

from typing import Any

import click

import optimizer
from optimizer.cli import options
from optimizer.cli.asking import job_options, side_by_side
from optimizer.cli.completing import numbers
from optimizer.cli.show import ProgressBar, Screen, Told, answering, canvas, save_charts
from optimizer.model.job import Job


@click.command()
@job_options
@options.hours
@click.option(
    "--switch-points",
    "neighbours",
    is_flag=True,
    help="Also show what both cost just before and after each switch point.",
)
@click.option(
    "--years", "by_year", is_flag=True, help="Also show what has been paid by the end of each year."
)
@click.option(
    "--break-even-line",
    "across",
    metavar="NUMBER",
    flag_value="outages",
    is_flag=False,
    shell_complete=numbers,
    help="Also show where both cost the same: the price of one family's batteries at each value of "
    "a number, e.g. rate.  [default number: outages]",
)
@options.charts
@options.against
@answering
def compare(
    job: Job,
    other: Job | None,
    hours: int | None,
    neighbours: bool,
    by_year: bool,
    across: str | None,
    folder: str | None,
) -> Told:
    """Compare lead-acid with lithium at the same hours.

    Says which costs less over the study period, why, and what would change the answer.
    """
    from optimizer.comparison.answers import CompareAnswer
    from optimizer.comparison.break_even_line import BreakEvenLine
    from optimizer.comparison.parameters import parameter_named
    from optimizer.comparison.switch_points import SwitchPoints

    if other is not None:
        return side_by_side(job, other, optimizer.compare, hours=hours)
    if across is not None:
        parameter_named(job, across)
    comparison = optimizer.compare(job, hours)
    line: BreakEvenLine | None = None
    found: tuple[SwitchPoints, ...] = ()
    if comparison.runner_up is not None:
        if across is not None or folder is not None:
            line = optimizer.break_even_line(job, hours, across=across or "outages")
        with ProgressBar("numbers") as progress:
            found = optimizer.switch_points(job, hours, progress=progress).rows
    if folder is not None:
        from optimizer.report.charts.break_even_line import break_even_chart
        from optimizer.report.charts.paid import paid_chart

        pictures = {"paid": paid_chart(comparison, canvas(job))}
        if line is not None:
            pictures["break-even-line"] = break_even_chart(line, canvas(job))
        save_charts(folder, pictures)

    def show(out: Screen) -> None:
        from optimizer.report.grids import comparison as grids
        from optimizer.report.grids import switch_points as points
        from optimizer.report.words import comparison as words
        from optimizer.report.words.switch_points import break_even, turning

        write = out.write
        sentences = [*words.reasons(write, comparison), words.catch_up(write, comparison)]
        shown = [grids.side_by_side(write, comparison.alternatives)]
        if found:
            sentences.append(" ".join(turning(write, found)))
            shown.append(points.switch_points(write, found))
        shown.append(grids.chemistries(write, comparison))
        if neighbours and found:
            shown.append(points.neighbours(write, found))
        if by_year:
            shown.append(grids.paid(write, comparison))
        if across is not None and line is not None:
            sentences += break_even(write, line)
            shown.append(points.break_even_line(write, line))
        out.heading(words.verdict(write, comparison))
        out.lines(sentence for sentence in sentences if sentence)
        out.tables(*shown)
        out.footnotes(job)

    return Told(lambda: CompareAnswer(comparison, found, line), show, job)


@click.command()
@job_options
@options.hours
@click.option(
    "--budget",
    type=float,
    metavar="MONEY",
    help="Upfront money whose hours are shown too.  [default: what the design costs today]",
)
@click.option(
    "--scenarios",
    type=int,
    metavar="N",
    default=200,
    show_default=True,
    help="Random scenarios to draw.",
)
@click.option(
    "--seed",
    type=click.IntRange(min=0),
    metavar="N",
    default=1,
    show_default=True,
    help="Start of the random draws; the same seed gives the same figures.",
)
@options.processes
@options.charts
@answering
def sensitivity(
    job: Job,
    hours: int | None,
    budget: float | None,
    scenarios: int,
    folder: str | None,
    **drawn: Any,
) -> Told:
    """Show what moves the answer: numbers one by one, then all.

    All at once means random scenarios in which every number is drawn from its range.
    """
    from optimizer.answers.questions import counted
    from optimizer.comparison.answers import SensitivityAnswer
    from optimizer.comparison.regrets import MOST_SCENARIOS

    counted("--scenarios", scenarios, MOST_SCENARIOS)
    with ProgressBar("numbers") as progress:
        each = optimizer.sensitivities(job, hours, budget=budget, progress=progress)
    with ProgressBar("scenarios") as progress:
        together = optimizer.regret(job, hours, scenarios=scenarios, progress=progress, **drawn)
    if folder is not None:
        from optimizer.report.charts.sensitivity import sensitivity_chart

        paper = canvas(job)
        pictures = {
            "sensitivity-cost": sensitivity_chart(each, paper),
            "sensitivity-hours": sensitivity_chart(each, paper, what="hours"),
        }
        save_charts(folder, pictures)

    def show(out: Screen) -> None:
        from optimizer.report.grids import sensitivity as grids
        from optimizer.report.words.regret import verdict

        first, *more = verdict(out.write, together)
        out.heading(first)
        out.lines(more)
        out.tables(grids.one_at_a_time(out.write, each), grids.regret(out.write, together))
        out.footnotes(job)

    return Told(lambda: SensitivityAnswer(each, together), show, job)
