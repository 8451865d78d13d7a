"""``keeplit quote``: priced options to hand over."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

import optimizer
from optimizer.cli import options
from optimizer.cli.asking import supposed
from optimizer.cli.completing import files, folders
from optimizer.cli.show import ProgressBar, Screen, Told, answering
from optimizer.errors import wrong_option
from optimizer.files.reading import read_bytes
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from optimizer.inputs.draft import Draft
    from optimizer.model.job import Job
    from optimizer.quote import Pick, Quote

#: No hours have more; Python itself reads no number of thousands of digits.
_DIGITS = 9


@click.command()
@options.site
@options.catalog
@options.what_if
@options.family
@click.option(
    "-o",
    "--output",
    "outputs",
    multiple=True,
    metavar="FILE",
    shell_complete=files,
    help="Write the customer's quote: .pdf, .xlsx, .csv or .json. Repeat it for more files.",
)
@click.option(
    "--options",
    "picked",
    multiple=True,
    metavar="12,lead:24,…",
    help="The options to price, with commas between: hours (24), a family (lithium), both "
    "(lead:24), what a budget buys (budget:4000) or a design file (mine.toml). Repeat it for "
    "more options.  [default: two or three chosen by rule]",
)
@click.option(
    "--date",
    "day",
    metavar="YYYY-MM-DD",
    help="Date of the quote, e.g. 2026-11-25.  [default: today]",
)
@click.option(
    "--company",
    metavar="FILE",
    shell_complete=files,
    help="TOML file with sender, customer, terms, rates and extras; keeplit new writes one.",
)
@click.option(
    "--installer",
    metavar="FILE",
    shell_complete=files,
    help="Also write the margin of each line, for the installer alone: .xlsx, .csv or .json.",
)
@click.option(
    "--as-built",
    metavar="DIR",
    shell_complete=folders,
    help="Also write each option into this folder as a design file, which keeplit assess reads.",
)
@click.option(
    "--register",
    metavar="FILE",
    shell_complete=files,
    help="Number the quote from this register of quotes and keep in it all that is written.",
)
@click.option(
    "--revise",
    metavar="NUMBER",
    help="With --register: make the next revision of this quote, e.g. 2026-001.",
)
@click.option(
    "--appendix",
    is_flag=True,
    help="Also say what speaks for each battery family and what would change the answer, in .pdf, "
    ".xlsx and .json.",
)
@answering
def quote(
    site: str,
    catalog: str | None,
    changes: tuple[str, ...],
    outputs: tuple[str, ...],
    picked: tuple[str, ...],
    day: str | None,
    company: str | None,
    installer: str | None,
    as_built: str | None,
    register: str | None,
    revise: str | None,
    **asked: Any,
) -> Told:
    """Price two or three options and write the papers for them.

    A PDF or workbook for the customer comes with a second one for the electrician. SITE may also
    be a job saved by the page or reopened from a register (.json).
    """
    from optimizer.files.writing import write_files
    from optimizer.quote import read_company
    from optimizer.quote.register import Register
    from optimizer.report.quote import installer_bytes

    if revise is not None and register is None:
        wanted = Phrase("--register FILE beside it")
        raise wrong_option("--revise", revise, wanted)
    if changes and register is not None:
        wanted = Phrase("a quote of what the files say: one of supposed numbers is not registered")
        found = Phrase("--set beside it")
        raise wrong_option("--register", found, wanted)
    on_day = date.today() if day is None else _day(day)
    sender = None if company is None else read_company(company)
    draft = _draft(site, catalog) if register or Path(site).suffix == ".json" else None
    job = draft.job() if draft and Path(site).suffix == ".json" else optimizer.load(site, catalog)
    job = supposed(job, changes)
    words = [word.strip() for part in picked for word in part.split(",")]
    options = [_pick(word, job, site, catalog) for word in words] or None
    with ProgressBar("hours") as progress:
        made = optimizer.make_quote(
            job, options=options, company=sender, day=on_day, progress=progress, **asked
        )
    if register is None or draft is None:
        contents = _files(made, outputs, as_built)
    else:
        with Register(register, make=True).entry(
            on_day, number=None if revise else made.company.number, revise=revise
        ) as entry:
            made = made.numbered(entry.number, entry.revision)
            contents = _files(made, outputs, as_built)
            kept = {Path(name).name: content for name, content in contents}
            entry.store(
                customer=made.company.customer or "",
                site=job.site.name,
                currency=job.site.currency,
                options=",".join(words),
                totals=[str(one.pricing.total) for one in made.options],
                files=kept | _inputs(draft, company),
            )
    if installer is not None:
        contents.append((installer, installer_bytes(made, Path(installer).suffix)))
    write_files(contents)

    def show(out: Screen) -> None:
        from optimizer.report.grids.quote import options as grid
        from optimizer.report.words import notes
        from optimizer.report.words.letter import written_files
        from optimizer.report.words.quote import beside

        out.tables(grid(out.write, made))
        out.lines(notes.note(out.write, text) for text in beside(out.write, made))
        out.lines(written_files(out.write, [name for name, _ in contents]))
        out.footnotes(made.job, supposed=False)

    return Told(lambda: made, show, job)


def _draft(site: str, catalog: str | None) -> Draft:
    """Return the job as it can be stored; of a job file what it holds."""
    from optimizer.inputs.draft import draft_from_files
    from optimizer.inputs.job_file import open_job

    if Path(site).suffix != ".json":
        return draft_from_files(site, catalog)
    return open_job(read_bytes(Path(site), Phrase("a job saved by keeplit")), site).draft


def _files(made: Quote, outputs: tuple[str, ...], as_built: str | None) -> list[tuple[str, bytes]]:
    """Return what is handed over, each with its path."""
    from optimizer.report.quote import papers

    contents: list[tuple[str, bytes]] = []
    for name in outputs:
        contents += papers(made, name)
    if as_built is not None:
        for name, text in made.as_built_files.items():
            contents.append((str(Path(as_built) / name), text.encode()))
    return contents


def _inputs(draft: Draft, company: str | None) -> dict[str, bytes]:
    """Return what a quote was made from: the job, the company file and its logo."""
    import tomllib

    from optimizer.inputs.job_file import save_job

    found = {"job.json": save_job(draft)}
    if company is not None:
        raw = read_bytes(Path(company), Phrase("a company file"))
        found["company.toml"] = raw
        logo = tomllib.loads(raw.decode("utf-8-sig")).get("company", {}).get("logo")
        if logo is not None and not Path(logo).is_absolute() and ".." not in Path(logo).parts:
            found[logo] = read_bytes(Path(company).parent / logo, Phrase("a picture"))
    return found


def _pick(word: str, job: Job, site: str, catalog: str | None) -> Pick:
    """Return one option as it is typed."""
    from optimizer.inputs.faults import shown
    from optimizer.quote import Pick

    if word.lower().endswith(".toml"):
        return Pick(existing=optimizer.load_design(word, site, catalog, job))
    families = job.catalog.families
    name, _, number = word.rpartition(":")
    if word in families:
        return Pick(family=word)
    if number.isdecimal() and len(number) <= _DIGITS and (not name or name in families):
        return Pick(hours=int(number), family=name or None)
    if name == "budget" and number.replace(".", "", 1).isdecimal():
        return Pick(budget=float(number))
    wanted = Phrase(
        "whole hours, a family ({families}), a family and hours such as lead:24, budget:4000 or a "
        "design file; commas between",
        families=", ".join(sorted(families)),
    )
    raise wrong_option("--options", shown(word), wanted)


def _day(text: str) -> date:
    from optimizer.inputs.cells import FIRST_YEAR, LAST_YEAR, day

    try:
        return day(text)
    except ValueError:
        years = {"first": FIRST_YEAR, "last": LAST_YEAR}
        wanted = Phrase("a day such as 2026-01-31, of the years {first} to {last}", **years)
        raise wrong_option("--date", repr(text), wanted) from None
