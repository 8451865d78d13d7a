"""``keeplit frontier``, ``choose``, ``worth`` and ``trade-off``: the curve and its designs."""

from typing import Any

import click

import optimizer
from optimizer.cli import options
from optimizer.cli.asking import job_options, side_by_side
from optimizer.cli.show import ProgressBar, Screen, Told, answering
from optimizer.model.job import Job


@click.command()
@job_options
@options.family
@click.option(
    "--max-hours",
    type=int,
    metavar="HOURS",
    help="Longest autonomy to look at, 1 to 240 hours.  [default: max_hours of the site]",
)
@options.against
@answering
def frontier(job: Job, other: Job | None, **asked: Any) -> Told:
    """Show the whole curve of life-cycle cost against autonomy.

    Each row is the cheapest equipment that carries the loads at least so long without the grid.
    """
    if other is not None:
        return side_by_side(job, other, optimizer.frontier, **asked)
    with ProgressBar("hours") as progress:
        curve = optimizer.frontier(job, progress=progress, **asked)
    if not curve.points:
        optimizer.choose(curve.job, hours=1, family=curve.family)  # says why nothing fits

    def data() -> object:
        from optimizer.report.json.answers import frontier_answer

        return frontier_answer(curve)

    def show(out: Screen) -> None:
        from optimizer.report.grids.curve import points

        out.tables(points(out.write, curve))
        out.footnotes(job)

    return Told(data, show, job)


@click.command()
@job_options
@options.family
@options.hours
@click.option("--budget", type=float, metavar="MONEY", help="Limit on the upfront cost, e.g. 4000.")
@click.option(
    "--lifetime-budget", type=float, metavar="MONEY", help="Limit on the life-cycle cost."
)
@options.later_limit
@options.assumptions
@options.against
@answering
def choose(job: Job, other: Job | None, assumptions: bool, **asked: Any) -> Told:
    """Explain one design: its limits, its costs, what to buy.

    It is the cheapest for the hours required, within the limits given. A budget without --hours
    buys the longest autonomy instead. Money is in the site's currency.
    """
    if other is not None:
        return side_by_side(job, other, optimizer.choose, beyond=True, **asked)
    with ProgressBar("changes tried") as progress:
        choice = optimizer.choose(job, beyond=True, progress=progress, **asked)
    opinion = optimizer.independent_simulation(choice.job, choice.design)
    ledger = optimizer.assumptions(choice.job, choice.design) if assumptions else None

    def data() -> object:
        from optimizer.report.json.answers import choose_answer

        return choose_answer(choice, opinion, ledger)

    def show(out: Screen) -> None:
        from optimizer.report.grids import choice as grids
        from optimizer.report.grids import simulation as simulated
        from optimizer.report.words import design as words
        from optimizer.report.words import simulation as said

        write = out.write
        out.line(words.choice(write, choice))
        out.lines(words.binding(write, choice), write.say("What limits this design"))
        out.line()
        out.line(words.next_purchase(write, choice.next_purchase, job.site.horizon_years))
        out.tables(
            grids.limits(write, choice.explained),
            grids.cash(write, choice.job, choice.design),
            grids.materials(write, choice),
        )
        out.heading(write.say("Independent simulation, hour by hour, apart from the program"))
        out.line(said.verdict(write, opinion.verdict, job.site.design_margin))
        out.tables(
            simulated.hours_by_age(write, opinion),
            *simulated.tiers(write, opinion),
            simulated.rest(write, opinion, job),
        )
        if ledger is not None:
            from optimizer.report.grids import ledger as numbers
            from optimizer.report.words import ledger as rests

            out.heading(rests.count(write, len(ledger)))
            out.tables(*numbers.tables(write, ledger))
        out.footnotes(job)

    return Told(data, show, job)


@click.command()
@job_options
@options.family
@answering
def worth(job: Job, family: str | None) -> Told:
    """Show how many hours are worth what they cost.

    The site file states the value of lost load as value_of_lost_load, per kWh not served; --set
    lost-load=VALUE tries another.
    """
    with ProgressBar("designs simulated") as progress:
        found = optimizer.hours_worth(job, family=family, progress=progress)
    if len(found) == 1:
        optimizer.choose(job, hours=1, family=family)  # says why nothing fits

    def show(out: Screen) -> None:
        from optimizer.report.grids.hours_worth import rows
        from optimizer.report.words.hours_worth import verdict

        out.lines(verdict(out.write, found))
        out.tables(rows(out.write, found))
        out.footnotes(job)

    return Told(lambda: found, show, job)


@click.command("trade-off")
@job_options
@options.family
@options.hours
@answering
def trade_off(job: Job, **asked: Any) -> Told:
    """Show what paying less upfront costs later, at the same hours.

    Lists every design that no other beats at both upfront and life-cycle cost.
    """
    with ProgressBar("changes tried") as progress:
        found = optimizer.trade_off(job, progress=progress, **asked)

    def show(out: Screen) -> None:
        from optimizer.report.grids.trade_off import designs
        from optimizer.report.words.trade_off import now_or_later

        out.lines(now_or_later(out.write, found))
        out.tables(designs(out.write, found))
        out.footnotes(job)

    return Told(lambda: found, show, job)
