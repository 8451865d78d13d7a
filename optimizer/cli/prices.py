"""``keeplit prices``: a supplier's own list made into a table of the price list."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from optimizer.cli.show import Screen, json_option, print_json

if TYPE_CHECKING:
    from optimizer.errors import Fault
    from optimizer.suppliers.conversion import Converted
    from optimizer.suppliers.price_changes import Changes


@click.command()
@click.argument("mapping", metavar="MAP.toml")
@click.argument("supplier_list", metavar="LIST")
@click.option("-o", "--output", metavar="DIR", help="Folder of the price list to write into.")
@click.option("--skip-unreadable", is_flag=True, help="Leave out rows that cannot be read.")
@click.option(
    "--against",
    metavar="OLD",
    help="Compare with this list; with the table that stands in DIR where left out.",
)
@click.option(
    "--replace",
    is_flag=True,
    help="Write over a list in DIR that holds more than the new one; a copy is kept.",
)
@json_option
def prices(
    mapping: str,
    supplier_list: str,
    output: str | None,
    skip_unreadable: bool,
    against: str | None,
    replace: bool,
    as_json: bool,
) -> None:
    """Turn a supplier's list into a table of the price list, by a mapping file.

    MAP.toml says which of the supplier's columns is which of ours; LIST is a CSV or XLSX file.
    """
    from optimizer.errors import InputError
    from optimizer.files.writing import write_files
    from optimizer.suppliers.conversion import convert, read_list
    from optimizer.suppliers.mapping import read_mapping
    from optimizer.suppliers.price_changes import PricesAnswer, changes, last_prices

    way = read_mapping(mapping)
    converted = convert(read_list(supplier_list), way)
    if converted.unreadable and not skip_unreadable:
        raise InputError(converted.unreadable)
    target = None if output is None else Path(output) / f"{way.table}.csv"
    standing = target if target is not None and target.is_file() else None
    held = {} if standing is None else last_prices(standing, way)
    lost = changes(held, converted).vanished
    is_another = len(held) > len(converted.rows) or len(lost) > len(held) / 2
    if standing is not None and lost and is_another and not replace:
        raise InputError([_would_be_lost(standing, lost)])
    old = against if against is not None else standing
    found = None if old is None else changes(last_prices(old, way), converted)
    copies: tuple[Path, ...] = ()
    if target is not None:
        copies = write_files([(target, converted.as_csv())], over=[target], keep=bool(lost))
    if as_json:
        rows = tuple(dict(zip(converted.columns, row, strict=True)) for row in converted.rows)
        written = None if target is None else str(target)
        left_out = converted.unreadable
        print_json(
            PricesAnswer(converted.table, rows, converted.filtered, left_out, found, written)
        )
        return
    _show(converted, found, target, copies)


def _would_be_lost(standing: Path, lost: tuple[str, ...]) -> Fault:
    """Return the fault of an output that would destroy a standing list."""
    from optimizer.errors import Fault, FaultKind
    from optimizer.model.phrase import Phrase

    found = Phrase(
        "{count} names that the new list has not, such as {name}",
        count=str(len(lost)),
        name=lost[0],
    )
    wanted = Phrase("another folder, or --replace: it is written over and a copy is kept")
    return Fault(str(standing), None, None, found, wanted, FaultKind.CONFLICT)


def _show(
    converted: Converted, found: Changes | None, target: Path | None, copies: tuple[Path, ...]
) -> None:
    from optimizer.report.grids import prices as grids
    from optimizer.report.words import prices as words
    from optimizer.report.words.writer import plain

    out = Screen(converted.currency)
    out.line(words.read(out.write, converted))
    if converted.unreadable:
        rows = dict.fromkeys(fault.row for fault in converted.unreadable)
        heading = words.left_out(out.write, len(rows))
        out.lines((plain(str(fault)) for fault in converted.unreadable), heading)
    if found is not None:
        if found.changed:
            out.tables(grids.changed(out.write, found))
        out.lines(words.listed(out.write, found))
    out.line(words.written(out.write, None if target is None else str(target)))
    for copy in copies:
        out.line(words.copy_kept(out.write, str(copy)))
