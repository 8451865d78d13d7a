"""``keeplit prices``: suppliers' own lists made into tables of the price list."""

from __future__ import annotations

from dataclasses import replace as replaced
from pathlib import Path
from typing import TYPE_CHECKING

import click

from optimizer.cli.completing import files, folders
from optimizer.cli.show import Screen, Told, answering
from optimizer.errors import Fault, FaultKind, InputError, wrong_option
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.suppliers.answer import TableAnswer
    from optimizer.suppliers.converted import Converted
    from optimizer.suppliers.mapping import SupplierMapping

#: Names of articles that a message lists, at most.
_MOST_NAMES = 5


@click.command()
@click.argument(
    "pairs",
    metavar="MAP.toml LIST [MAP.toml LIST ...]",
    nargs=-1,
    required=True,
    shell_complete=files,
)
@click.option(
    "-o",
    "--output",
    metavar="DIR",
    shell_complete=folders,
    help="Folder of the price list to write into; without, nothing is written.",
)
@click.option(
    "--skip-unreadable", is_flag=True, help="Leave out rows that cannot be read, and say which."
)
@click.option(
    "--replace",
    is_flag=True,
    help="Replace a table in DIR by one with fewer articles too; a copy of it is kept.",
)
@click.option(
    "--against",
    metavar="OLD",
    shell_complete=files,
    help="Earlier list of the supplier to show price changes against.  [default: the table in DIR]",
)
@answering
def prices(
    pairs: tuple[str, ...],
    output: str | None,
    skip_unreadable: bool,
    replace: bool,
    against: str | None,
) -> Told:
    """Turn suppliers' lists into tables of the price list.

    LIST is a supplier's own CSV or XLSX file; MAP.toml says which of its columns is which of
    ours, and keeplit new DIR --supplier-list LIST writes a first guess of it. Rows of other
    suppliers in DIR stay as they are; of an article that two suppliers have, the cheaper one is
    taken.
    """
    from optimizer.files.writing import write_files
    from optimizer.suppliers.answer import PricesAnswer
    from optimizer.suppliers.price_changes import changes, last_prices, prices_of

    read = _read(pairs, against)
    _check(read, skip_unreadable=skip_unreadable)
    lists = [one for _, one in read]
    tables = [
        _joined([one for one in lists if one.table == name], output, replace=replace)
        for name in dict.fromkeys(one.table for one in lists)
    ]
    if against is not None:
        since = changes(last_prices(against, read[0][0]), prices_of(lists[0].rows, lists[0].table))
        tables = [replaced(one, changes=since) for one in tables]
    contents = {Path(one.written): one.joined.table.as_csv() for one in tables if one.written}
    kept = write_files(contents.items(), over=contents, keep=replace)

    def show(out: Screen) -> None:
        from optimizer.report.grids import prices as grids
        from optimizer.report.words import prices as words
        from optimizer.report.words.faults import fault

        for place, one in enumerate(lists):
            if place:
                out.line()
            out.line(words.read(out.write, one))
            if one.bare:
                out.line(words.bare_units(out.write, one))
            if one.unreadable:
                heading = words.left_out(
                    out.write, len({problem.row for problem in one.unreadable})
                )
                out.lines((fault(out.write, problem) for problem in one.unreadable), heading)
            if one.repeated:
                out.tables(grids.repeated(out.write, one))
        for table in tables:
            changes = table.changes
            out.tables(*grids.offered_twice(out.write, table.joined))
            if changes is not None:
                if changes.changed:
                    out.tables(grids.changed(out.write, changes))
                out.line()
                out.lines(words.listed(out.write, changes))
            if table.joined.untouched:
                out.line(words.untouched(out.write, table.joined.untouched))
        out.line()
        out.lines(words.written(out.write, [one.written for one in tables if one.written]))
        out.lines(words.copy_kept(out.write, str(path)) for path in kept)

    answer = PricesAnswer(tuple(lists), tuple(tables), tuple(map(str, kept)))
    return Told(lambda: answer, show, currency=lists[0].currency)


def _read(pairs: Sequence[str], against: str | None) -> list[tuple[SupplierMapping, Converted]]:
    """Read each list by its mapping."""
    from optimizer.inputs.supplier_list import read_list
    from optimizer.suppliers.conversion import convert
    from optimizer.suppliers.mapping import read_mapping

    if len(pairs) % 2:
        found = Phrase("{count} files", count=len(pairs))
        wanted = Phrase("a mapping file and a list for each supplier, one behind the other")
        raise InputError([Fault("command line", None, None, found, wanted)])
    if against is not None and len(pairs) > 2:  # noqa: PLR2004 - one mapping and one list
        told = Phrase("several lists"), Phrase("one list to compare, or no --against")
        raise wrong_option("--against", *told)
    found_lists = []
    for name, file in zip(pairs[::2], pairs[1::2], strict=True):
        way = read_mapping(name)
        found_lists.append((way, convert(read_list(file, way.sheet), way)))
    return found_lists


def _check(lists: Sequence[tuple[SupplierMapping, Converted]], *, skip_unreadable: bool) -> None:
    """Stop where a list leaves something open, holds nothing, or is in another currency."""
    faults = [fault for _, one in lists for fault in one.questions()]
    if not skip_unreadable:
        faults += [fault for _, one in lists for fault in one.unreadable]
    if not faults:
        nothing = Phrase("no row that can be read")
        wanted = Phrase(
            "at least one row: look at sheet, heading_row, filter and dates in its mapping"
        )
        faults += [Fault(one.file, None, None, nothing, wanted) for _, one in lists if not one.rows]
        file, first = lists[0][0].file, lists[0][1].currency
        same = Phrase("{currency}, as in {file}", currency=first, file=file)
        faults += [
            Fault(way.file, None, "list.into", one.currency, same)
            for way, one in lists
            if one.currency != first
        ]
    if faults:
        raise InputError(faults)


def _joined(lists: Sequence[Converted], output: str | None, *, replace: bool) -> TableAnswer:
    """Join the lists of one table with what stands in the folder."""
    from optimizer.files.reading import read_bytes
    from optimizer.inputs.draft import raw_table
    from optimizer.suppliers.answer import TableAnswer
    from optimizer.suppliers.joining import join, spoiled

    name = lists[0].table
    if output is None:
        return TableAnswer(name, join(None, lists), None, None)
    target = Path(output) / f"{name}.csv"
    if (other := target.with_suffix(".xlsx")).is_file():
        found = Phrase("a workbook of that table")
        wanted = Phrase("it saved as CSV, beside nothing of the same name")
        raise InputError([Fault(str(other), None, None, found, wanted)])
    if not target.is_file():
        return TableAnswer(name, join(None, lists), None, str(target))
    raw = read_bytes(target, Phrase("a table of the price list"))
    joined = join(raw_table(str(target), raw), lists)
    if joined.loses and not replace:
        found = Phrase(
            "{before} rows, {after} with the new list, which has no longer {gone}",
            before=str(joined.before),
            after=str(joined.rows),
            gone=", ".join(joined.changes.vanished[:_MOST_NAMES]),
        )
        wanted = Phrase("no fewer rows, or --replace: it is written over and a copy is kept")
        raise InputError([Fault(str(target), None, None, found, wanted, FaultKind.CONFLICT)])
    if faults := spoiled(joined, name, str(target)):
        raise InputError(faults)
    return TableAnswer(name, joined, joined.changes if joined.before else None, str(target))
