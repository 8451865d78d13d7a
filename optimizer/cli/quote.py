"""``keeplit quote``: priced options to hand over."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

import optimizer
from optimizer.cli.show import (
    ProgressBar,
    Screen,
    catalog_option,
    family_option,
    json_option,
    print_json,
    site_argument,
)

if TYPE_CHECKING:
    from optimizer.quote import Quote


@click.command()
@site_argument
@catalog_option
@family_option
@click.option(
    "-o",
    "--output",
    "outputs",
    multiple=True,
    metavar="FILE",
    help="Write the customer's file: .pdf, .xlsx, .csv or .json. May be given more than once.",
)
@click.option(
    "--options", "hours", metavar="12,24,36", help="Hours of the options; by rule without."
)
@click.option("--date", "day", metavar="YYYY-MM-DD", help="Day of the quote; today without.")
@click.option("--company", metavar="FILE", help="Sender and terms: a TOML file.")
@click.option(
    "--installer",
    metavar="FILE",
    help="Write the margin of each line, for the installer alone: .xlsx, .csv or .json.",
)
@click.option(
    "--as-built", metavar="DIR", help="Write a file for each option that keeplit assess reads."
)
@click.option(
    "--appendix",
    is_flag=True,
    help="Add what speaks for each battery family and what would change the answer "
    "(.pdf, .xlsx, .json).",
)
@json_option
def quote(
    site: str,
    catalog: str | None,
    family: str | None,
    outputs: tuple[str, ...],
    hours: str | None,
    day: str | None,
    company: str | None,
    installer: str | None,
    as_built: str | None,
    appendix: bool,
    as_json: bool,
) -> None:
    """Price two or three options of a site, with the sheets that go with them."""
    from optimizer.files.writing import write_files
    from optimizer.quote import read_company
    from optimizer.report.quote import installer_bytes, quote_bytes

    wanted_hours = None if hours is None else _hours(hours)
    on_day = date.today() if day is None else _day(day)
    sender = None if company is None else read_company(company)
    job = optimizer.load(site, catalog)
    with ProgressBar("hours") as progress:
        made = optimizer.make_quote(
            job,
            hours=wanted_hours,
            company=sender,
            day=on_day,
            family=family,
            appendix=appendix,
            progress=progress,
        )
    contents = [(name, quote_bytes(made, Path(name).suffix)) for name in outputs]
    if installer is not None:
        contents.append((installer, installer_bytes(made, Path(installer).suffix)))
    if as_built is not None:
        for option in made.options:
            name = f"as-built-{option.option.design.hours}h.toml"
            contents.append((str(Path(as_built) / name), option.as_built.encode()))
    write_files(contents)
    if as_json:
        from optimizer.report.quote.data import quote_data

        print_json(quote_data(made))
        return
    _show(made, tuple(name for name, _ in contents))


def _show(made: Quote, written: tuple[str, ...]) -> None:
    from optimizer.report.grids.quote import options
    from optimizer.report.words import notes
    from optimizer.report.words.quote import left_out, written_files

    out = Screen(made.job.site.currency)
    out.tables(options(out.write, made))
    out.lines(notes.note(out.write, left_out(out.write, one)) for one in made.left_out)
    out.lines(written_files(out.write, written))
    out.footnotes(made.job)


def _hours(text: str) -> list[int]:
    from optimizer.errors import Fault, InputError

    try:
        return [int(piece) for piece in text.split(",")]
    except ValueError:
        wanted = "whole hours with commas between, such as 12,24,36"
        raise InputError([Fault("options", None, "--options", repr(text), wanted)]) from None


def _day(text: str) -> date:
    from optimizer.errors import Fault, InputError

    try:
        return date.fromisoformat(text)
    except ValueError:
        wanted = "a day such as 2026-01-31"
        raise InputError([Fault("options", None, "--date", repr(text), wanted)]) from None
