"""``keeplit prices``: a supplier's own list made into a table of the price list."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from optimizer.cli.show import Screen, json_option, print_json

if TYPE_CHECKING:
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
@json_option
def prices(
    mapping: str,
    supplier_list: str,
    output: str | None,
    skip_unreadable: bool,
    against: str | None,
    as_json: bool,
) -> None:
    """Turn a supplier's list into a table of the price list, by a mapping file.

    MAP.toml says which of the supplier's columns is which of ours; LIST is a CSV or XLSX file.
    """
    from optimizer.cli.files import write_files
    from optimizer.errors import InputError
    from optimizer.suppliers.conversion import convert, read_list
    from optimizer.suppliers.mapping import read_mapping
    from optimizer.suppliers.price_changes import PricesAnswer, changes, last_prices

    way = read_mapping(mapping)
    converted = convert(read_list(supplier_list), way)
    if converted.unreadable and not skip_unreadable:
        raise InputError(converted.unreadable)
    target = None if output is None else Path(output) / f"{way.table}.csv"
    old = against if against is not None else str(target) if target and target.is_file() else None
    found = None if old is None else changes(last_prices(old, way), converted)
    if target is not None:
        write_files({str(target): converted.as_csv()})
    if as_json:
        rows = tuple(dict(zip(converted.columns, row, strict=True)) for row in converted.rows)
        written = None if target is None else str(target)
        left_out = converted.unreadable
        print_json(
            PricesAnswer(converted.table, rows, converted.filtered, left_out, found, written)
        )
        return
    _show(converted, found, target)


def _show(converted: Converted, found: Changes | None, target: Path | None) -> None:
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
