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
    from optimizer.model.job import Job
    from optimizer.quote import Pick, Quote


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
    "--options",
    "picked",
    metavar="12,lead:24,…",
    help="Options by hand, by rule without: hours (24), a family (lithium) or both (lead:24), what "
    "a budget buys (budget:4000), a design file (my-design.toml).",
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
    picked: str | None,
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
    from optimizer.report.quote import installer_bytes, papers

    on_day = date.today() if day is None else _day(day)
    sender = None if company is None else read_company(company)
    job = optimizer.load(site, catalog)
    options = None
    if picked is not None:
        options = [_pick(word.strip(), job, site, catalog) for word in picked.split(",")]
    with ProgressBar("hours") as progress:
        made = optimizer.make_quote(
            job,
            options=options,
            company=sender,
            day=on_day,
            family=family,
            appendix=appendix,
            progress=progress,
        )
    contents: list[tuple[str, bytes]] = []
    for name in outputs:
        contents += papers(made, name)
    if installer is not None:
        contents.append((installer, installer_bytes(made, Path(installer).suffix)))
    if as_built is not None:
        for name, text in made.as_built_files.items():
            contents.append((str(Path(as_built) / name), text.encode()))
    write_files(contents)
    if as_json:
        from optimizer.report.quote.data import quote_data

        print_json(quote_data(made))
        return
    _show(made, tuple(name for name, _ in contents))


def _show(made: Quote, written: tuple[str, ...]) -> None:
    from optimizer.report.grids.quote import options
    from optimizer.report.words import notes
    from optimizer.report.words.letter import written_files
    from optimizer.report.words.quote import beside

    out = Screen(made.job.site.currency)
    out.tables(options(out.write, made))
    out.lines(notes.note(out.write, text) for text in beside(out.write, made))
    out.lines(written_files(out.write, written))
    out.footnotes(made.job)


def _pick(word: str, job: Job, site: str, catalog: str | None) -> Pick:
    """Return one option as it is typed."""
    from optimizer.errors import Fault, InputError
    from optimizer.quote import Pick

    if word.lower().endswith(".toml"):
        return Pick(existing=optimizer.load_design(word, site, catalog, job))
    families = {battery.family for battery in job.catalog.batteries}
    name, _, number = word.rpartition(":")
    if word in families:
        return Pick(family=word)
    if number.isdecimal() and (not name or name in families):
        return Pick(hours=int(number), family=name or None)
    if name == "budget" and number.replace(".", "", 1).isdecimal():
        return Pick(budget=float(number))
    wanted = (
        f"whole hours, a family ({', '.join(sorted(families))}), a family and hours such as "
        "lead:24, budget:4000 or a design file; commas between"
    )
    raise InputError([Fault("options", None, "--options", repr(word), wanted)])


def _day(text: str) -> date:
    from optimizer.errors import Fault, InputError

    try:
        return date.fromisoformat(text)
    except ValueError:
        wanted = "a day such as 2026-01-31"
        raise InputError([Fault("options", None, "--date", repr(text), wanted)]) from None
