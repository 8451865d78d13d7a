"""A supplier's list and a mapping → rows of one of our tables, or what stands in the way."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Final

from optimizer.errors import Fault, InputError
from optimizer.formulas.rounding import exact, rounded
from optimizer.inputs.cells import CellError
from optimizer.inputs.columns import columns_of
from optimizer.inputs.faults import one_of, shown
from optimizer.inputs.mapping_keys import TABLES
from optimizer.inputs.neutral import neutralised
from optimizer.inputs.records import read_records
from optimizer.inputs.supplier_list import SupplierList, read_supplier_list
from optimizer.inputs.tables import Row, Table
from optimizer.model.phrase import Phrase
from optimizer.suppliers.mapping import in_our_unit

if TYPE_CHECKING:
    from optimizer.files.place import Place
    from optimizer.inputs.columns import Column
    from optimizer.suppliers.mapping import ColumnMapping, SupplierMapping

#: What names a row, and what it costs, in each table.
KEYS: Final = {
    "batteries": "battery",
    "inverters": "inverter",
    "works": "item",
    "cables": "section_mm2",
    "fuses": "rating_a",
}
PRICES: Final = {name: "price_per_m" if name == "cables" else "price" for name in KEYS}

_NUMERIC: Final = frozenset({"number", "share", "rate", "whole"})
_SPACES: Final = str.maketrans("", "", " \N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}'’")
_TOKEN: Final = re.compile(r"[-+−]?[0-9][0-9.,]*")
_COMMA_SURE: Final = re.compile(r"[0-9],[0-9]{1,2}$|\.[0-9]{3},")
_POINT_SURE: Final = re.compile(r"[0-9]\.[0-9]{1,2}$|,[0-9]{3}\.")
_TYPED: Final = re.compile(r"-?[0-9]+(\.[0-9]+)?(e-?[0-9]+)?")
_EITHER: Final = re.compile(r"[0-9][.,][0-9]{3}$")


@dataclass(frozen=True, slots=True)
class Converted:
    """A supplier's list as rows of one of our tables.

    ``rows`` hold text in the order of ``columns``; ``filtered`` counts rows that the filter left
    out; ``unreadable`` are the faults of rows that are not among ``rows``.
    """

    table: str
    currency: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    filtered: int
    unreadable: tuple[Fault, ...]

    def as_csv(self) -> bytes:
        """Return the table as a file of the price list; text like formulas is marked."""
        out = io.StringIO(newline="")
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(self.columns)
        kinds = columns_of(TABLES[self.table])
        for row in self.rows:
            cells = zip(self.columns, row, strict=True)
            writer.writerow(
                text if kinds[name].kind in _NUMERIC else neutralised(text) for name, text in cells
            )
        return out.getvalue().encode()


def read_list(path: str | Place) -> SupplierList:
    """Read a supplier's list as it comes.

    Parameters
    ----------
    path : str, Path or Held
        A CSV or XLSX file, on a disk or held in memory.

    Raises
    ------
    InputError
        Where it cannot be read at all.
    """
    faults: list[Fault] = []
    found = read_supplier_list(Path(path) if isinstance(path, str) else path, faults)
    if found is None:
        raise InputError(faults)
    return found


def convert(supplier: SupplierList, mapping: SupplierMapping) -> Converted:
    """Return a supplier's list as rows of one of our tables.

    Parameters
    ----------
    supplier : SupplierList
        The list, from `read_list`.
    mapping : SupplierMapping
        Which of their columns is which of ours.

    Raises
    ------
    InputError
        The mapping and the list do not suit each other: a column that is not there, or decimals
        that can only be guessed at. Rows that cannot be read are returned as faults.
    """
    heading = supplier.heading_row(mapping.heading_row)
    places = _places(supplier, mapping)
    body = [
        (number, row) for number, row in enumerate(supplier.rows[heading:], heading + 1) if any(row)
    ]
    kept = [(number, row) for number, row in body if _passes(row, places, mapping)]
    known = columns_of(TABLES[mapping.table])
    names = tuple(name for name in known if name in mapping.columns)
    comma = _decimal_comma(supplier, mapping, kept, places)
    faults: list[Fault] = []
    rows = []
    for number, row in kept:
        own: list[Fault] = []
        cells = tuple(
            _cell(
                supplier,
                number,
                known[name],
                one=mapping.columns[name],
                text=_text(row, places, mapping.columns[name]),
                mapping=mapping,
                comma=comma,
                faults=own,
            )
            for name in names
        )
        faults += own
        if not own:
            rows.append(Row(number, cells))
    good, more = _checked(supplier.file, heading, names, rows, mapping)
    faults = sorted([*faults, *more], key=lambda fault: fault.row or 0)
    return Converted(mapping.table, mapping.into, names, good, len(body) - len(kept), tuple(faults))


def _places(supplier: SupplierList, mapping: SupplierMapping) -> dict[str, int]:
    headings = supplier.headings(mapping.heading_row)
    found = {name: place for place, name in enumerate(headings) if name}
    wanted = [(f"columns.{ours}", one.column) for ours, one in mapping.columns.items()]
    wanted += [(f"filter.{name}", name) for name in mapping.filter]
    faults = [
        Fault(
            mapping.file,
            None,
            key,
            f"{shown(name)}, which {supplier.file} does not have",
            one_of(
                Phrase(
                    "a column of its row {row}",
                    row=str(supplier.heading_row(mapping.heading_row)),
                ),
                name,
                found,
            ),
        )
        for key, name in wanted
        if name is not None and name not in found
    ]
    if faults:
        raise InputError(faults)
    return found


def _text(row: tuple[str, ...], places: dict[str, int], one: ColumnMapping) -> str:
    if one.column is None:
        return one.value or ""
    place = places[one.column]
    return row[place] if place < len(row) else ""


def _passes(row: tuple[str, ...], places: dict[str, int], mapping: SupplierMapping) -> bool:
    for name, words in mapping.filter.items():
        cell = row[places[name]] if places[name] < len(row) else ""
        if cell.casefold() not in {word.casefold() for word in words}:
            return False
    return True


def _decimal_comma(
    supplier: SupplierList,
    mapping: SupplierMapping,
    rows: list[tuple[int, tuple[str, ...]]],
    places: dict[str, int],
) -> bool:
    """Return whether the list writes decimals with a comma, by the mapping or by its own cells."""
    if mapping.decimals is not None:
        return mapping.decimals == "comma"
    known = columns_of(TABLES[mapping.table])
    tokens = [
        (number, name, token[0])
        for number, row in rows
        for name, one in mapping.columns.items()
        if known[name].kind in _NUMERIC and one.column is not None
        if (token := _TOKEN.search(_text(row, places, one).translate(_SPACES)))
    ]
    comma = any(_COMMA_SURE.search(token) for *_, token in tokens)
    point = any(_POINT_SURE.search(token) for *_, token in tokens)
    doubtful = [one for one in tokens if _EITHER.search(one[2])]
    if (comma and point) or (doubtful and not comma and not point and not supplier.typed):
        number, name, text = doubtful[0] if doubtful else tokens[0]
        found = f"{shown(text)} in row {number}, {mapping.columns[name].column}"
        wanted = 'decimals = "comma" or "point": the list alone does not tell'
        raise InputError([Fault(mapping.file, None, "list.decimals", found, wanted)])
    return comma


def _cell(
    supplier: SupplierList,
    number: int,
    column: Column,
    *,
    one: ColumnMapping,
    text: str,
    mapping: SupplierMapping,
    comma: bool,
    faults: list[Fault],
) -> str:
    """Return a cell as our table writes it."""
    try:
        piece = _piece(text, column, one)
        if not piece or column.kind not in _NUMERIC:
            return piece
        # a workbook's own numbers arrive with a point, as do those of the mapping
        plain = one.column is None or (supplier.typed and _TYPED.fullmatch(piece) is not None)
        value = _number(piece, comma and not plain)
    except CellError as problem:
        place = column.name if one.column is None else f"{one.column} → {column.name}"
        found = shown(text) if text else "an empty cell"
        faults.append(Fault(supplier.file, number, place, found, problem.hint or column.wanted))
        return ""
    return _converted(column.name, value, one, mapping)


def _piece(text: str, column: Column, one: ColumnMapping) -> str:
    """Return what of a cell is meant, in our words and with our dates; CellError says what not."""
    if not text:
        if column.required:
            raise CellError(column.wanted)
        return ""
    piece = text
    if one.pattern is not None:
        match = re.search(one.pattern, text)
        if match is None or match[1] is None:
            raise CellError(f"text that the pattern {one.pattern} finds its piece in")
        piece = str(match[1])
    if one.values:
        words = {theirs.casefold(): ours for theirs, ours in one.values.items()}
        if piece.casefold() not in words:
            raise CellError(f"one of {', '.join(one.values)}, as the mapping lists them")
        piece = words[piece.casefold()]
    if column.kind == "day" and one.dates is not None:
        try:
            return datetime.strptime(piece, one.dates).date().isoformat()
        except ValueError:
            raise CellError(f"a date written as {one.dates}") from None
    return piece


def _number(text: str, comma: bool) -> Decimal:
    """Return the one number of a cell, units and currency signs around it left aside."""
    packed = text.translate(_SPACES)
    tokens = _TOKEN.findall(packed)
    if len(tokens) != 1:
        raise CellError
    token = tokens[0].replace("−", "-").rstrip(".,")
    thousands, mark = (".", ",") if comma else (",", ".")
    whole, _, rest = token.partition(mark)
    groups = whole.lstrip("+-").split(thousands)
    fits = len(groups) == 1 or (
        1 <= len(groups[0]) <= 3 and all(len(group) == 3 for group in groups[1:])  # noqa: PLR2004
    )
    if not fits or not all(group.isdigit() for group in groups) or (rest and not rest.isdigit()):
        raise CellError
    sign = "-" if whole.startswith("-") else ""
    return Decimal(f"{sign}{''.join(groups)}.{rest or 0}")


def _converted(name: str, value: Decimal, one: ColumnMapping, mapping: SupplierMapping) -> str:
    amount = value * exact(one.factor)
    if one.unit is not None:
        amount = exact(float(f"{in_our_unit(name, one.unit, float(amount)):.6g}"))
    if name == PRICES[mapping.table]:
        amount *= exact(mapping.exchange) * exact(mapping.factor)
        return f"{rounded(amount, mapping.into):f}"
    plain = amount.normalize()
    return f"{plain:f}"


def _checked(
    file: str, heading: int, names: tuple[str, ...], rows: list[Row], mapping: SupplierMapping
) -> tuple[tuple[tuple[str, ...], ...], list[Fault]]:
    """Return the rows that our own table would take, and the faults of the others."""
    faults: list[Fault] = []
    table = Table(file, Row(heading, names), tuple(rows), not rows)
    model = TABLES[mapping.table]
    records = read_records(table, model, faults, unique=KEYS[mapping.table], filled=False)
    good = {number for number, _ in records}
    bad = {fault.row for fault in faults}
    named = [
        replace(fault, column=_both(fault.column, mapping.columns.get(fault.column or "")))
        for fault in faults
    ]
    return tuple(row.cells for row in rows if row.number in good - bad), named


def _both(ours: str | None, one: ColumnMapping | None) -> str | None:
    return ours if one is None or one.column is None else f"{one.column} → {ours}"
