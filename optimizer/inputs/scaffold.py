"""A site to fill in: its files written into a new folder, with words on every line."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from optimizer.errors import Fault, InputError, wrong_option
from optimizer.files.reading import unreadable
from optimizer.files.writing import write_files
from optimizer.inputs.columns import columns_of
from optimizer.inputs.commented import commented_file
from optimizer.inputs.company_keys import SECTIONS, ExtraKeys
from optimizer.inputs.demo import FOLDER, demo_names, demos_near
from optimizer.inputs.faults import FILE, UNKNOWN
from optimizer.inputs.fields import all_fields
from optimizer.inputs.price_tables import PRICE_TABLES
from optimizer.model.phrase import Phrase

A_FILE = Phrase("a file")

#: The commented site that is written where no demo site is asked for.
TEMPLATE = Path(__file__).with_name("template")


def write_site(
    folder: str | Path, like: str | None = None, beside: Mapping[str, str] | None = None
) -> tuple[Path, ...]:
    """Write a commented site and a price list into a folder, made where it does not exist.

    It is the short template, or ``like`` a bundled demo site; ``beside`` holds the text of further
    files by their names. Return the files written; InputError for an unknown demo site, and for a
    file that exists already: nothing is overwritten.
    """
    if like is not None and like not in demo_names():
        wanted = Phrase("one of {demos}", demos=demos_near(like))
        raise wrong_option("--like", like, wanted, UNKNOWN)
    source = TEMPLATE if like is None else FOLDER / like
    target = Path(folder)
    if target.exists() and not target.is_dir():
        raise unreadable(str(target), A_FILE, Phrase("a folder, or a new name"))
    copies = {target / path.name: path for path in sorted(source.iterdir()) if path.is_file()}
    prices = sorted((FOLDER / "prices").glob("*.csv"))
    copies |= {target / "prices" / path.name: path for path in prices}
    texts = {target / name: text.encode() for name, text in (beside or {}).items()}
    taken = [path for path in (*copies, *texts) if path.exists()]
    if taken:
        names = ", ".join(path.relative_to(target).as_posix() for path in taken)
        wanted = Phrase("a folder without these files: nothing is overwritten")
        raise InputError([Fault(str(target), None, None, names, wanted, FILE)])
    files = {
        path: original.read_bytes().replace(b'catalog = "../prices"', b'catalog = "prices"')
        for path, original in copies.items()
    }
    write_files((files | texts).items())
    return (*copies, *texts)


def company_text(usual: Mapping[str, Any]) -> str:
    """Return a company file to fill in; ``usual`` is what holds for a key that is left out."""
    text = commented_file(
        "Who makes a quote, and on which terms: keeplit quote SITE --company company.toml.",
        SECTIONS,
        {"company": {"name": "My company"}},
        usual,
    )
    keys = [f"# {name} =   # {column.told}" for name, column in columns_of(ExtraKeys).items()]
    lines = [
        "# Lines of your own on every option, one such table each:",
        "# [[extra]]",
        *keys,
        "",
        "# Models that the customer has already and how many of each; they stand at no price:",
        "# [owned]",
        '# "Name of a model" = 1',
    ]
    return text + "\n" + "\n".join(lines) + "\n"


def columns_text() -> str:
    """Return every column of the price list's tables with a word on it.

    >>> columns_text().splitlines()[2]
    'chemistries.csv'
    """
    lines = ["The columns of the tables in this folder; those marked * must be filled."]
    for table in PRICE_TABLES:
        lines += ["", f"{table}.csv"]
        lines += [
            f"  {name}{'*' * column.required}: {column.told}"
            for name, column in all_fields()[table].items()
        ]
    return "\n".join(lines) + "\n"
