"""``keeplit check`` and ``keeplit new``: what was understood of a site, and a site to fill in."""

from __future__ import annotations

import click

import optimizer
from optimizer.cli.show import Screen, catalog_option, json_option, print_json, site_argument


@click.command()
@site_argument
@catalog_option
@json_option
def check(site: str, catalog: str | None, as_json: bool) -> None:
    """Validate a site and its price list, and show what was understood."""
    job = optimizer.load(site, catalog)
    found = optimizer.survey(job)
    if as_json:
        print_json(found)
        return
    from optimizer.report.grids import survey as grids
    from optimizer.report.words import notes
    from optimizer.report.words import survey as words
    from optimizer.report.words.warnings import job_warning

    out = Screen(job.site.currency)
    out.line(words.head(out.write, job))
    out.tables(*grids.all_of(out.write, found))
    if found.critical_loads:
        out.line()
        out.line(notes.second_source(out.write, found.critical_loads))
    for warning in job.warnings:
        out.line()
        out.line(notes.note(out.write, job_warning(out.write, warning)))


@click.command()
@click.argument("folder")
@click.option("--like", metavar="NAME", help="Start from a bundled demo site.")
def new(folder: str, like: str | None) -> None:
    """Write a commented site to fill in: loads, outages, money, place."""
    from optimizer.inputs.scaffold import write_site

    written = write_site(folder, like)
    click.echo(f"Written: {', '.join(str(path) for path in written)}")
    click.echo(f"Fill in the files, then: keeplit check {folder}")


@click.command()
@click.argument("names", nargs=-1)
def fields(names: tuple[str, ...]) -> None:
    """Print every column and key of the files: what it is, its range, its default.

    NAMES are sections such as resilience or tables such as batteries; all of them without.
    """
    from optimizer.errors import Fault, FaultKind, InputError
    from optimizer.inputs.faults import one_of
    from optimizer.inputs.fields import all_fields
    from optimizer.report.grids.fields import fields as grids

    known = all_fields()
    plain = {name.strip("[]") for name in known}
    for name in names:
        if name not in plain:
            wanted = one_of("a section or a table", name, sorted(plain))
            raise InputError([Fault("options", None, "NAMES", name, wanted, FaultKind.UNKNOWN)])
    asked = {key: known[key] for key in known if not names or key.strip("[]") in names}
    out = Screen()
    out.tables(*grids(out.write, asked))
