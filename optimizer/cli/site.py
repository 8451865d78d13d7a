"""``keeplit check`` and ``keeplit new``: what was understood of a site, and a site to fill in."""

from dataclasses import asdict
from pathlib import Path

import click

import optimizer
from optimizer.cli.asking import job_options
from optimizer.cli.completing import demos, files, folders, sections, tables
from optimizer.cli.show import Screen, Told, answering, writer
from optimizer.errors import Fault, FaultKind, InputError, wrong_option
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase


@click.command()
@job_options
@click.option(
    "--what-if", "only_numbers", is_flag=True, help="List the numbers that --set may change."
)
@answering
def check(job: Job, only_numbers: bool) -> Told:
    """Check a site and its price list; show what was understood."""
    if only_numbers:
        return _numbers(job)
    found = optimizer.survey(job)

    def show(out: Screen) -> None:
        from optimizer.report.grids import survey as grids
        from optimizer.report.words import notes
        from optimizer.report.words import survey as words
        from optimizer.report.words.warnings import job_warning

        out.line(words.head(out.write, job))
        out.tables(*grids.all_of(out.write, found))
        if job.critical_loads:
            out.line()
            out.line(notes.second_source(out.write, job.critical_loads))
        for warning in job.warnings:
            out.line()
            out.line(notes.note(out.write, job_warning(out.write, warning)))

    return Told(lambda: found, show, job)


def _numbers(job: Job) -> Told:
    """Return what --set may change: names, units and ranges."""
    from optimizer.comparison.answers import WhatIfAnswer
    from optimizer.comparison.parameters import what_if_parameters_of
    from optimizer.report.grids.parameters import numbers

    known = what_if_parameters_of(job)
    return Told(lambda: WhatIfAnswer(known), lambda out: out.tables(numbers(out.write, known)), job)


@click.command()
@click.argument("folder", shell_complete=folders)
@click.option(
    "--like",
    metavar="NAME",
    shell_complete=demos,
    help="Start from a bundled demo: house, clinic or hall.",
)
@click.option(
    "--supplier-list",
    metavar="LIST",
    shell_complete=files,
    help="Write only a mapping file for this list (CSV or XLSX), with a first guess filled in.",
)
@click.option(
    "--sheet",
    metavar="NAME",
    help="With --supplier-list: the sheet of a workbook.  [default: the fullest]",
)
@click.option(
    "--table",
    metavar="NAME",
    default="batteries",
    show_default=True,
    shell_complete=tables,
    help="With --supplier-list: the table that the list becomes, e.g. inverters.",
)
def new(
    folder: str, like: str | None, supplier_list: str | None, sheet: str | None, table: str
) -> None:
    """Write a folder with a commented site to fill in.

    Beside the site stand a load survey, a price list, a company file for quotes and a mapping
    for a supplier's list.
    """
    from optimizer.inputs.faults import one_of
    from optimizer.inputs.price_tables import TABLES
    from optimizer.report.words import commands

    write = writer()
    if table not in TABLES:
        wanted = one_of("a table", table, TABLES)
        raise wrong_option("--table", table, wanted, FaultKind.UNKNOWN)
    if supplier_list is not None:
        path = _write_mapping(folder, supplier_list, sheet, table)
        click.echo(commands.written(write, path))
        click.echo(commands.then_convert(write, f"keeplit prices {path} {supplier_list}"))
        return
    from optimizer.inputs.scaffold import columns_text, company_text, write_site
    from optimizer.quote import Company
    from optimizer.suppliers.mapping_template import mapping_template

    beside = {
        "company.toml": company_text(asdict(Company())),
        "supplier.toml": mapping_template(table),
        "prices/columns.txt": columns_text(),
    }
    written = write_site(folder, like, beside)
    click.echo(commands.written(write, ", ".join(str(path) for path in written)))
    click.echo(commands.then_check(write, f"keeplit check {folder}"))


def _write_mapping(folder: str, supplier_list: str, sheet: str | None, table: str) -> Path:
    """Write a mapping file for a supplier's list; nothing is overwritten."""
    from optimizer.files.writing import write_files
    from optimizer.inputs.scaffold import A_FILE
    from optimizer.inputs.supplier_list import read_fullest, read_list
    from optimizer.suppliers.mapping_template import mapping_template

    path = Path(folder) / f"{Path(supplier_list).stem}.toml"
    if path.exists():
        told = A_FILE, Phrase("a folder without it: nothing is overwritten")
        raise InputError([Fault(str(path), None, None, *told, FaultKind.FILE)])
    found = read_list(supplier_list, sheet) if sheet else read_fullest(supplier_list)
    text = mapping_template(table, found)
    write_files([(path, text.encode())])
    return path


@click.command()
@click.argument("names", nargs=-1, shell_complete=sections)
def fields(names: tuple[str, ...]) -> None:
    """List the keys and columns of the files.

    Each with its meaning, range and default. NAMES are sections of a site file such as
    resilience, or tables such as batteries; all of them where none is named.
    """
    from optimizer.inputs.faults import one_of
    from optimizer.inputs.fields import all_fields
    from optimizer.report.grids.fields import fields as grids

    known = all_fields()
    plain = {name.strip("[]") for name in known}
    for name in names:
        if name not in plain:
            wanted = one_of("a section or a table", name, sorted(plain))
            raise wrong_option("NAMES", name, wanted, FaultKind.UNKNOWN)
    asked = {key: known[key] for key in known if not names or key.strip("[]") in names}
    out = Screen()
    out.tables(*grids(out.write, asked))
