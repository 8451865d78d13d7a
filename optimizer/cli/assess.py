"""``keeplit assess`` and ``keeplit outages``: what stands already, and the outages as they come."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

import optimizer
from optimizer.cli.asking import set_option, supposed
from optimizer.cli.show import (
    ProgressBar,
    Screen,
    assumptions_option,
    catalog_option,
    json_option,
    print_json,
    site_argument,
)
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.answers.assessment import Assessment
    from optimizer.answers.ledger import Assumption
    from optimizer.inputs.bank_words import Assumed


@click.command()
@click.argument("design", required=False)
@click.argument("site", required=False)
@catalog_option
@set_option
@click.option("--hours", type=int, metavar="N", help="Hours asked for, instead of the target.")
@click.option(
    "--battery",
    metavar="WORDS",
    help='A bank in a few words, such as "12 V 95 Ah agm" or "2 x 12 V 100 Ah gel", in place of '
    "DESIGN; all else is assumed, and listed.",
)
@click.option("--load", "load_w", type=float, metavar="W", help="What it runs, with --battery.")
@click.option("--age", "age_years", type=float, default=0.0, metavar="A", help="Its age [years].")
@assumptions_option
@json_option
def assess(
    design: str | None,
    site: str | None,
    catalog: str | None,
    changes: tuple[str, ...],
    hours: int | None,
    battery: str | None,
    load_w: float | None,
    age_years: float,
    assumptions: bool,
    as_json: bool,
) -> None:
    """Assess a bank and inverter that stand already, or that somebody has quoted.

    DESIGN is a TOML file: inverter, units, battery, strings, voltage, and where known age_years
    or measured_ah, charge_at_start and paid; beside them contract_w, generator and fuel_l.
    Inverter, battery and generator are names of the price list, or tables with their values.

    With --battery neither DESIGN nor SITE is needed: keeplit assess --battery "12 V 95 Ah agm"
    --load 300. A site alone brings its own loads, place and prices.
    """
    assumed: tuple[Assumed, ...] = ()
    if battery is not None:
        if site is not None:
            raise _wrong(
                Phrase("--battery and DESIGN"), Phrase("one of them, with or without a site")
            )
        if changes and design is None:
            raise _wrong(Phrase("--set without a site"), Phrase("--battery with a site, and --set"))
        job = None if design is None else supposed(optimizer.load(design, catalog), changes)
        found, assumed = optimizer.assess_told(
            battery, job, load_w=load_w, age_years=age_years, hours=hours
        )
    elif design is None or site is None:
        raise _wrong(
            Phrase("no design and site"),
            Phrase('DESIGN SITE, or --battery "12 V 95 Ah agm" --load 300'),
        )
    elif load_w is not None or age_years:
        raise _wrong(Phrase("--load or --age without --battery"), Phrase("--battery with them"))
    else:
        job = supposed(optimizer.load(site, catalog), changes)
        existing = optimizer.load_design(design, site, catalog, job)
        found = optimizer.assess(job, existing, hours=hours)
    ledger = optimizer.assumptions(found.job, found.design) if assumptions else None
    if as_json:
        from optimizer.report.json.answers import AssessAnswer

        print_json(AssessAnswer(found, ledger, assumed), found.job)
        return
    _show(found, ledger, assumed, load_w)


def _wrong(found: Phrase, wanted: Phrase) -> Exception:
    from optimizer.errors import Fault, InputError

    return InputError([Fault("options", None, None, found, wanted)])


def _show(
    found: Assessment,
    ledger: Sequence[Assumption] | None,
    assumed: Sequence[Assumed],
    load_w: float | None,
) -> None:
    from optimizer.report.grids import assessment as grids
    from optimizer.report.grids import choice as checks
    from optimizer.report.grids import ledger as numbers
    from optimizer.report.grids import simulation as simulated
    from optimizer.report.words import assessment as words
    from optimizer.report.words import bank_limits, bank_words, distance
    from optimizer.report.words import ledger as rests

    job = found.job
    out = Screen(job.site.currency)
    write = out.write
    if assumed:
        out.line(bank_words.runs(write, found, load_w))
    soon = words.wears_out_soon(write, found)
    if soon:
        out.line(soon)
    out.line(words.existing(write, found))
    out.line(words.verdict(write, found))
    if found.existing.plan is not None:
        out.line(words.as_designed(write, found))
    settings = write.say("Settings and surroundings of the bank")
    today = write.say("Against what can be bought today")
    failures = words.failures(write, found)
    if failures:
        out.lines(failures, write.say("What fails"))
    out.tables(
        grids.hours(write, found),
        *((grids.assumed(write, assumed),) if assumed else ()),
        simulated.matters("life", write.say("How long it lasts"), words.life(write, found)),
        simulated.matters("limits", settings, bank_limits.limits(write, found)),
        simulated.matters("distance", today, distance.distance(write, found)),
        checks.requirements(write, found.checks),
        *simulated.tiers(write, found.simulation),
        simulated.rest(
            write, found.simulation, job, write.say("Independent simulation, hour by hour")
        ),
    )
    if ledger is not None:
        out.heading(rests.count(write, len(ledger)))
        out.tables(*numbers.tables(write, ledger))
    out.line()
    out.line(words.one_age(write))
    out.footnotes(job)


@click.command()
@site_argument
@catalog_option
@set_option
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
    changes: tuple[str, ...],
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
    if design is not None and hours is not None:
        raise _wrong(Phrase("--hours and --design"), Phrase("one of them"))
    job = supposed(optimizer.load(site, catalog), changes)
    chosen = optimizer.choose(job, hours=hours).design if design is None else None
    there = chosen or optimizer.load_design(design or "", site, catalog, job)
    with ProgressBar("years simulated") as progress:
        run = optimizer.outages(
            job,
            there,
            years=years,
            seed=seed,
            durations=durations,
            times_a_year=times_a_year,
            progress=progress,
        )
    if as_json:
        from optimizer.report.json.answers import OutagesAnswer

        print_json(OutagesAnswer(run, chosen), job)
        return
    from optimizer.report.grids import outages as grids
    from optimizer.report.words import outages as words

    out = Screen(job.site.currency)
    write = out.write
    out.line(words.head(write, job, run, chosen=design is None))
    log = () if run.replay is None else (grids.log(write, run.replay),)
    out.tables(*log, grids.simulated_years(write, run))
    out.line()
    out.lines(words.notes(write, run))
    out.footnotes(job)
