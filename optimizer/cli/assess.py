"""``keeplit assess`` and ``keeplit outages``: what stands already, and the outages as they come."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

import optimizer
from optimizer.cli import options
from optimizer.cli.asking import supposed
from optimizer.cli.commands import tell_renamed
from optimizer.cli.completing import any_of, files, sites
from optimizer.cli.show import ProgressBar, Screen, Told, answering
from optimizer.errors import wrong_option
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.answers.assessment import Assessment
    from optimizer.answers.ledger import Ledger
    from optimizer.inputs.bank_words import Assumed


@click.command()
@click.argument("site", required=False, shell_complete=sites)
@click.argument("design", required=False, shell_complete=files)
@options.catalog
@options.what_if
@options.hours
@click.option(
    "--battery",
    metavar="WORDS",
    help='The bank in a few words instead of DESIGN, e.g. "12 V 95 Ah agm" or "2 x 12 V 100 Ah '
    'gel"; all else is assumed, and listed.',
)
@click.option(
    "--load",
    "load_w",
    type=float,
    metavar="W",
    help="With --battery: the load it carries, in watts.  [default: the loads of SITE]",
)
@click.option(
    "--age",
    "age_years",
    type=float,
    default=0.0,
    metavar="YEARS",
    help="With --battery: its age, in years.  [default: new]",
)
@options.assumptions
@answering
def assess(
    site: str | None,
    design: str | None,
    catalog: str | None,
    changes: tuple[str, ...],
    hours: int | None,
    battery: str | None,
    load_w: float | None,
    age_years: float,
    assumptions: bool,
) -> Told:
    """Assess a bank and inverter that stand or were quoted.

    DESIGN is a TOML file with inverter, units, battery, strings and voltage; where known
    age_years or measured_ah, charge_at_start and paid; beside them contract_w, generator and
    fuel_l (keeplit fields design). Inverter, battery and generator are names of the price list,
    or tables with their values.

    With --battery no file is needed: keeplit assess --battery "12 V 95 Ah agm" --load 300. With
    SITE before it, the bank carries that site's loads at its place and prices.
    """
    assumed: tuple[Assumed, ...] = ()
    if battery is not None:
        if design is not None:
            wanted = Phrase("one of them, with or without a site")
            raise wrong_option(None, Phrase("--battery and DESIGN"), wanted)
        if changes and site is None:
            wanted = Phrase("--battery with a site, and --set")
            raise wrong_option(None, Phrase("--set without a site"), wanted)
        job = None if site is None else supposed(optimizer.load(site, catalog), changes)
        found, assumed = optimizer.assess_told(
            battery, job, load_w=load_w, age_years=age_years, hours=hours
        )
    elif design is None or site is None:
        wanted = Phrase('SITE DESIGN, or --battery "12 V 95 Ah agm" --load 300')
        raise wrong_option(None, Phrase("no site and design"), wanted)
    elif load_w is not None or age_years:
        wanted = Phrase("--battery with them")
        raise wrong_option(None, Phrase("--load or --age without --battery"), wanted)
    else:
        if not _is_site(site) and _is_site(design):
            tell_renamed("assess DESIGN SITE", "assess SITE DESIGN")
            site, design = design, site
        job = supposed(optimizer.load(site, catalog), changes)
        existing = optimizer.load_design(design, site, catalog, job)
        found = optimizer.assess(job, existing, hours=hours)
    ledger = optimizer.assumptions(found.job, found.design) if assumptions else None

    def data() -> object:
        from optimizer.report.json.answers import AssessAnswer

        return AssessAnswer(found, None if ledger is None else ledger.rows, assumed)

    return Told(data, lambda out: _show(out, found, ledger, assumed, load_w), found.job)


def _is_site(word: str) -> bool:
    """Tell whether a word names a site, not a design: in the last version the design came first."""
    from optimizer.errors import InputError
    from optimizer.files.reading import read_bytes
    from optimizer.inputs.demo import site_file

    try:
        return b"[site]" in read_bytes(site_file(word), Phrase("a site"))
    except InputError:
        return False


def _show(
    out: Screen,
    found: Assessment,
    ledger: Ledger | None,
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
            write, found.simulation, found.job, write.say("Independent simulation, hour by hour")
        ),
    )
    if ledger is not None:
        out.heading(rests.count(write, len(ledger)))
        out.tables(*numbers.tables(write, ledger))
    out.line()
    out.line(words.one_age(write))
    out.footnotes(found.job)


@click.command()
@options.site
@options.catalog
@options.what_if
@options.hours
@click.option(
    "--design",
    metavar="FILE",
    shell_complete=files,
    help="Use the design of this file (keeplit fields design) instead.",
)
@click.option(
    "--years",
    type=int,
    metavar="N",
    default=10_000,
    show_default=True,
    help="Years to simulate.",
)
@click.option(
    "--seed",
    type=int,
    metavar="N",
    help="Start of the random draws; the same seed gives the same figures.",
)
@click.option(
    "--durations",
    default="log",
    show_default=True,
    metavar="LAW",
    shell_complete=any_of(lambda _: ("log", "exponential", "lognormal", "weibull")),
    help="How long outages last: log (drawn from the site's own), exponential:MEAN, "
    "lognormal:MEDIAN,SIGMA or weibull:SHAPE,SCALE, in hours; a name alone is fitted to the log.",
)
@click.option(
    "--times-a-year",
    type=float,
    metavar="N",
    help="Outages a year, e.g. 12.  [default: as the site has them]",
)
@answering
def outages(
    site: str,
    catalog: str | None,
    changes: tuple[str, ...],
    hours: int | None,
    design: str | None,
    **asked: Any,
) -> Told:
    """Run a design through logged and simulated outages.

    The design is the cheapest for the hours required, unless --design names another.
    """
    if design is not None and hours is not None:
        raise wrong_option(None, Phrase("--hours and --design"), Phrase("one of them"))
    job = supposed(optimizer.load(site, catalog), changes)
    chosen = optimizer.choose(job, hours=hours).design if design is None else None
    there = chosen or optimizer.load_design(design or "", site, catalog, job)
    with ProgressBar("years simulated") as progress:
        run = optimizer.outages(job, there, progress=progress, **asked)

    def data() -> object:
        from optimizer.report.json.answers import OutagesAnswer

        return OutagesAnswer(run, chosen)

    def show(out: Screen) -> None:
        from optimizer.report.grids import outages as grids
        from optimizer.report.words import outages as words

        write = out.write
        out.line(words.head(write, job, run, chosen=design is None))
        log = () if run.replay is None else (grids.log(write, run.replay),)
        out.tables(*log, grids.simulated_years(write, run))
        out.line()
        out.lines(words.notes(write, run))
        out.footnotes(job)

    return Told(data, show, job)
