"""``keeplit frontier`` and ``keeplit choose``: the curve, and one design explained."""

from __future__ import annotations

import click

import optimizer
from optimizer.cli.show import (
    ProgressBar,
    assumptions_option,
    catalog_option,
    console,
    family_option,
    footnotes,
    json_option,
    print_json,
    site_argument,
)


@click.command()
@site_argument
@catalog_option
@family_option
@click.option("--max-hours", type=int, metavar="N", help="Longest autonomy, hours.")
@json_option
def frontier(
    site: str, catalog: str | None, family: str | None, max_hours: int | None, as_json: bool
) -> None:
    """Print the whole curve of cost against hours of autonomy."""
    job = optimizer.load(site, catalog)
    with ProgressBar("hours") as progress:
        curve = optimizer.frontier(job, family=family, max_hours=max_hours, progress=progress)
    if not curve.points:
        optimizer.choose(curve.job, hours=1, family=family)  # says why nothing fits
    if as_json:
        from optimizer.report.data import curve_data

        print_json(curve_data(curve))
        return
    from optimizer.report.tables import curve_table

    out = console()
    out.print(curve_table(curve))
    footnotes(out, job)


@click.command()
@site_argument
@catalog_option
@family_option
@click.option("--hours", type=int, metavar="N", help="Carry N hours at the least cost.")
@click.option("--budget", type=float, metavar="MONEY", help="Longest autonomy for this upfront.")
@click.option(
    "--lifetime-budget",
    type=float,
    metavar="MONEY",
    help="Longest autonomy for this life-cycle cost.",
)
@assumptions_option
@json_option
def choose(
    site: str,
    catalog: str | None,
    family: str | None,
    hours: int | None,
    budget: float | None,
    lifetime_budget: float | None,
    assumptions: bool,
    as_json: bool,
) -> None:
    """Print one design, explained: what binds, what it costs when, what to buy."""
    job = optimizer.load(site, catalog)
    with ProgressBar("changes tried") as progress:
        choice = optimizer.choose(
            job,
            hours=hours,
            budget=budget,
            lifetime_budget=lifetime_budget,
            family=family,
            progress=progress,
        )
    opinion = optimizer.independent_simulation(choice.job, choice.design)
    ledger = optimizer.assumptions(choice.job, choice.design) if assumptions else None
    if as_json:
        from optimizer.report.data import choice_data
        from optimizer.report.opinion_data import assumptions_data, opinion_data

        data = {**choice_data(choice), "second_opinion": opinion_data(opinion)}
        if ledger is not None:
            data["assumptions"] = assumptions_data(ledger)
        print_json(data)
        return
    from optimizer.report import opinion as second
    from optimizer.report import tables, words

    out = console()
    currency = job.site.currency
    out.print(words.plain(words.choice_in_words(choice)))
    out.print()
    out.print("What binds:", style="bold")
    for line in tables.binding_in_words(choice):
        out.print(f"  {line}")
    following = words.purchase_in_words(choice.next_purchase, currency, job.site.horizon_years)
    out.print(f"Next purchase: {words.plain(following)}")
    for table in (
        tables.checks_table(choice.explained, currency),
        tables.cash_table(choice.design.payments, choice.job),
        tables.material_table(choice.materials, choice.job),
    ):
        out.print()
        out.print(table)
    out.print("\nThe second opinion: simulated hour by hour, apart from the program", style="bold")
    out.print(second.verdict_in_words(opinion.verdict, job.site.design_margin))
    for table in (
        second.ages_table(opinion.ages, opinion.horizon_hours),
        second.tiers_table(opinion.tiers, opinion.horizon_hours),
    ):
        out.print()
        out.print(table)
    out.print()
    out.print(tables.matters_table("", second.opinion_in_words(opinion, choice.job)))
    if ledger is not None:
        from optimizer.report.ledger import ledger_tables

        for table in ledger_tables(ledger):
            out.print()
            out.print(table)
    footnotes(out, job)
