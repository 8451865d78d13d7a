"""``keeplit judge`` and ``keeplit outages``: what stands already, and the outages as they come."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

import optimizer
from optimizer.cli.show import (
    ProgressBar,
    assumptions_option,
    catalog_option,
    console,
    footnotes,
    json_option,
    print_json,
    site_argument,
)

if TYPE_CHECKING:
    from optimizer.answers.assessment import Assessment
    from optimizer.model.design import Design
    from optimizer.model.job import Job


@click.command()
@click.argument("design")
@site_argument
@catalog_option
@click.option("--hours", type=int, metavar="N", help="Hours asked for, instead of the target.")
@assumptions_option
@json_option
def judge(
    design: str,
    site: str,
    catalog: str | None,
    hours: int | None,
    assumptions: bool,
    as_json: bool,
) -> None:
    """Judge a bank and inverter that stand already, or that somebody has quoted.

    DESIGN is a TOML file: inverter, units, battery, strings, voltage, and where known age_years
    and paid. Inverter and battery are names of the price list, or tables with their values.
    """
    job = optimizer.load(site, catalog)
    found = optimizer.assess(job, optimizer.load_design(design, site, catalog, job), hours=hours)
    if as_json:
        from optimizer.report.judgement_data import judgement_data
        from optimizer.report.opinion_data import assumptions_data

        data = judgement_data(found)
        if assumptions:
            data["assumptions"] = assumptions_data(optimizer.assumptions(job, found.design))
        print_json(data)
        return
    _show_judgement(job, found, assumptions)


def _show_judgement(job: Job, found: Assessment, assumptions: bool) -> None:
    from optimizer.report import judgement as words
    from optimizer.report import opinion as second
    from optimizer.report.tables import matters_table

    out = console()
    out.print(words.existing_in_words(found))
    out.print(words.verdict_in_words(found), style="bold")
    failures = words.failures_in_words(found)
    if failures:
        out.print("\nWhat fails:", style="bold")
        for line in failures:
            out.print(f"  {line}")
    out.print()
    out.print(words.hours_table(found))
    tables = [
        matters_table("How long it lasts", words.life_in_words(found)),
        matters_table("Against what can be bought today", words.distance_in_words(found)),
        words.requirements_table(found),
        second.tiers_table(found.simulation.tiers, found.simulation.horizon_hours),
        matters_table(
            "The second opinion: simulated hour by hour",
            second.opinion_in_words(found.simulation, job),
        ),
    ]
    if assumptions:
        from optimizer.report.ledger import ledger_tables

        tables += ledger_tables(optimizer.assumptions(job, found.design))
    for table in tables:
        out.print()
        out.print(table)
    out.print(f"\n{words.ONE_AGE}")
    footnotes(out, job)


@click.command()
@site_argument
@catalog_option
@click.option("--hours", type=int, metavar="N", help="The cheapest design that carries N hours.")
@click.option("--design", metavar="FILE", help="A design file, instead of a design to be chosen.")
@click.option("--years", type=int, default=10_000, show_default=True, help="Years to simulate.")
@click.option("--seed", type=int, metavar="S", help="Of the simulated years.")
@click.option(
    "--durations",
    default="log",
    show_default=True,
    metavar="LAW",
    help="log (the site's own), exponential:MEAN, lognormal:MEDIAN,SIGMA or weibull:SHAPE,SCALE "
    "in hours; a name without numbers is fitted to the log.",
)
@click.option(
    "--times-a-year", type=float, metavar="F", help="Outages a year, instead of the site's own."
)
@json_option
def outages(
    site: str,
    catalog: str | None,
    hours: int | None,
    design: str | None,
    years: int,
    seed: int | None,
    durations: str,
    times_a_year: float | None,
    as_json: bool,
) -> None:
    """Run a design through the site's own outages, and through many simulated years.

    The cheapest design for the site's target hours, unless --hours or --design says otherwise.
    """
    from optimizer.answers.installed import installed
    from optimizer.errors import Fault, InputError

    if design is not None and hours is not None:
        found = "--hours and --design"
        raise InputError([Fault("options", None, None, found, "one of them")])
    job = optimizer.load(site, catalog)
    if design is None:
        chosen: Design = optimizer.choose(job, hours=hours).design
    else:
        existing = optimizer.load_design(Path(design), site, catalog, job)
        chosen = installed(job, existing, job.site.target_hours)
    with ProgressBar("years simulated") as progress:
        run = optimizer.outages(
            job,
            chosen,
            years=years,
            seed=seed,
            durations=durations,
            times_a_year=times_a_year,
            progress=progress,
        )
    if as_json:
        from optimizer.report.data import point_data
        from optimizer.report.opinion_data import outages_data

        head = {} if design is not None else {"design": point_data(job, chosen)}
        print_json({**head, **outages_data(run)})
        return
    from optimizer.report import outages as report

    out = console()
    out.print(report.head_in_words(job, run, chosen=design is None))
    for table in report.outage_tables(run):
        out.print()
        out.print(table)
    for line in report.notes_in_words(run):
        out.print()
        out.print(line)
    footnotes(out, job)
