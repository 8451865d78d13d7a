"""A supplier's list and a mapping → rows of one of our tables, or what stands in the way."""

import re
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from typing import Final

from optimizer.errors import Fault, InputError
from optimizer.formulas.rounding import exact, rounded
from optimizer.inputs.cells import CellError, WrittenNumber, looks_like_date
from optimizer.inputs.columns import Column, Kind
from optimizer.inputs.faults import shown
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.records import read_records
from optimizer.inputs.supplier_list import SupplierList
from optimizer.inputs.tables import Row, Table
from optimizer.inputs.toml_text import toml_value
from optimizer.model.phrase import Phrase
from optimizer.suppliers.cells import LeftOut, Question, Reader, Said, hours_in, is_count, is_money
from optimizer.suppliers.converted import Converted, OpenWord
from optimizer.suppliers.layout import Cells, Layout, both, is_numeric
from optimizer.suppliers.mapping import ColumnMapping, Meaning, SupplierMapping
from optimizer.suppliers.repeated import once_each
from optimizer.suppliers.scanning import decimals_of, scan
from optimizer.suppliers.templates import PLACES, taken
from optimizer.suppliers.units import in_our_unit
from optimizer.suppliers.vocabulary import folded

_STAMP: Final = re.compile(r"([0-9]{4}-[0-9]{2}-[0-9]{2})T[0-9:.]+")
_NOTHING: Final = Phrase("nothing there")


def convert(supplier: SupplierList, mapping: SupplierMapping) -> Converted:
    """Return a supplier's list as rows of one of our tables.

    Rows that cannot be read are returned as faults, words that the mapping must answer for as
    questions. InputError where the two do not suit each other: a column that is not there, or
    decimals that can only be guessed at.
    """
    return _Conversion(supplier, mapping).made()


class _Conversion:
    """One list on its way into one table."""

    def __init__(self, supplier: SupplierList, mapping: SupplierMapping) -> None:
        self.supplier, self.mapping = supplier, mapping
        self.at = Layout(supplier, mapping)
        self.known, self.columns, self.names = self.at.known, self.at.columns, self.at.names
        self.key = TABLES[mapping.table].key
        self.faults: list[Fault] = []
        self.open: dict[tuple[str, str], OpenWord] = {}
        self.bare: dict[str, str] = {}
        self.left_out = 0
        # the voltage before the capacity, which may be an energy; money last, with all words
        self.order = sorted(
            self.names, key=lambda name: (is_money(self.known[name]), name == "capacity_ah")
        )

    def made(self) -> Converted:
        kept, noise, filtered = self.at.rows()
        reader = Reader(self.mapping, comma=self._decimal_comma(kept))
        rows = [made for n, row in kept if (made := self._row(reader, n, row)) is not None]
        rows, repeated, differing = once_each(rows, self.at)
        self.faults += differing
        return Converted(
            table=self.mapping.table,
            currency=self.mapping.into,
            columns=self.names,
            rows=self._checked(rows),
            filtered=filtered + self.left_out,
            noise=noise,
            unreadable=tuple(sorted(self.faults, key=lambda fault: fault.row or 0)),
            open_words=tuple(self.open.values()),
            bare=tuple(self.bare.items()),
            repeated=repeated,
            unasked=self.at.unasked,
            file=self.supplier.file,
            sheet=self.supplier.sheet,
        )

    def _decimal_comma(self, rows: Iterable[tuple[int, tuple[str, ...]]]) -> bool:
        """Return whether the list writes decimals with a comma, by the mapping or its cells."""
        mapping = self.mapping
        if mapping.decimals is not None:
            return mapping.decimals == "comma"
        first: dict[str, tuple[int, str, str]] = {}  # by what it shows
        for number, row in rows:
            for name, one in self.columns.items():
                if one.column is None or not is_numeric(self.known[name]):
                    continue
                text = self.at.text(row, one)
                if not isinstance(text, WrittenNumber):
                    for token in _meant_numbers(text, one):
                        first.setdefault(decimals_of(token), (number, one.column, token))
        comma, point, doubtful = map(first.get, ("comma", "point", "either"))
        if (comma and point) or (doubtful and not comma and not point):
            told = [
                Phrase("{cell} in row {row}, {column}", cell=shown(text), row=row, column=theirs)
                for row, theirs, text in filter(None, (comma, point, doubtful))
            ]
            said, *others = told
            if others:
                said = Phrase("{one}, and {other}", one=said, other=others[0])
            wanted = Phrase(
                'decimals = "comma", "point" or "mixed" (each number as it shows): the list alone '
                "does not tell"
            )
            raise InputError([Fault(mapping.file, None, "list.decimals", said, wanted)])
        return comma is not None

    def _row(self, reader: Reader, number: int, row: Cells) -> Row | None:
        """Return a row as our table writes it, or None where it is left out or has faults."""
        made: dict[str, str] = {}
        values: dict[str, float] = {}
        said: dict[str, Meaning] = {}
        before, asked = len(self.faults), False
        if self._lacks(number, row):
            return None
        for name in self.order:
            one, column = self.columns[name], self.known[name]
            text = self.at.text(row, one)
            try:
                if name == self.key and not is_numeric(column):
                    said |= reader.name(text)
                if is_money(column):
                    said |= reader.currency_cell(self.at.currency_cell(row))
                made[name] = self._cell(reader, text, column, one, values=values, said=said)
            except LeftOut:
                del self.faults[before:]
                self.left_out += 1
                return None
            except Question as question:
                asked = True
                self._ask(question, number, column, one, text)
            except CellError as problem:
                found = shown(text) if text else Phrase("an empty cell")
                wanted = problem.hint if isinstance(problem.hint, Phrase) else column.wanted
                self.faults.append(Fault(self.at.file, number, both(name, one), found, wanted))
        if not asked and len(self.faults) == before:
            self._compare_rates(number, row, values)
        if asked or len(self.faults) > before:
            return None
        return Row(number, tuple(made[name] for name in self.names))

    def _compare_rates(self, number: int, row: Cells, values: Mapping[str, float]) -> None:
        """Complain of a capacity that is told for other hours than the row is taken at."""
        if "rate_h" not in values:
            return
        one = self.columns["capacity_ah"]
        text, taken_h = self.at.text(row, one), f"{values['rate_h']:g}"
        told = hours_in(text)
        if told and values["rate_h"] not in told:
            wanted = Phrase(
                "a capacity at {hours} h, as rate_h says; take such rows by a mapping with {line}",
                hours=taken_h,
                line=f"rate_h = {toml_value(one.column)}",
            )
            self.faults.append(
                Fault(self.at.file, number, both("capacity_ah", one), shown(text), wanted)
            )

    def _lacks(self, number: int, row: Cells) -> bool:
        """Complain once of a row that leaves several cells empty: it is something else."""
        empty = [
            str(one.column)
            for name, one in self.columns.items()
            if one.column and self.known[name].required and not self.at.text(row, one)
        ]
        empty = list(dict.fromkeys(empty))
        if len(empty) <= 1:
            return False
        name = self.at.text(row, self.columns[self.key])
        found = Phrase("{name} with nothing there", name=shown(name)) if name else _NOTHING
        wanted = Phrase(
            "all of them in a row of {table}; [exclude] of the mapping leaves others out",
            table=self.mapping.table,
        )
        self.faults.append(Fault(self.at.file, number, ", ".join(empty), found, wanted))
        return True

    def _ask(
        self, asked: Question, number: int, column: Column, one: ColumnMapping, text: str
    ) -> None:
        """Note a word that the mapping must answer for, with the first place that holds it."""
        key = (folded(asked.word), column.name if asked.in_heading else asked.doubt)
        held = self.open.get(key)
        if held is not None:
            more = 0 if asked.in_heading else 1
            self.open[key] = replace(held, rows=held.rows + more)
            return
        self.open[key] = OpenWord(
            word=asked.word,
            doubt=asked.doubt,
            file=self.at.file,
            row=self.at.heading_row if asked.in_heading else number,
            column=both(column.name, one),
            cell=self.at.heading(one) if asked.in_heading else text,
            unit=column.unit,
            currency=self.mapping.into,
        )

    def _cell(
        self,
        reader: Reader,
        text: str,
        column: Column,
        one: ColumnMapping,
        *,
        values: dict[str, float],
        said: Mapping[str, Meaning],
    ) -> str:
        """Return a cell as our table writes it; CellError says what it is not."""
        piece = _translated(text, column, one)
        if not piece or not is_numeric(column) or (column.kind is Kind.DEPTHS and ";" in piece):
            return piece
        if one.column is None:
            found = Said(_plain_number(piece), one.unit)
        else:
            found = reader.number(piece, column, one, self.at.heading(one))
            if found.unit is None and column.unit and not (is_money(column) or is_count(column)):
                self.bare.setdefault(column.name, column.unit)
        amount = found.value * exact(one.factor)
        if found.unit is not None:
            # a row whose voltage cannot be read is at fault for that alone
            amount = in_our_unit(amount, found.unit, column, {"voltage_v": 1.0, **values})
        if is_money(column):
            return self._price(amount, {**said, **found.meanings})
        values[column.name] = float(amount)
        return f"{amount.normalize():f}"

    def _price(self, amount: Decimal, said: Mapping[str, Meaning]) -> str:
        """Return a price of one, net, in our currency."""
        exchange = self.mapping.exchange
        for meaning in said.values():
            amount /= exact(meaning.pieces) * (1 + exact(meaning.tax))
            exchange = meaning.exchange or exchange
        amount *= exact(exchange) * exact(self.mapping.factor)
        return f"{rounded(amount, self.mapping.into):f}"

    def _checked(self, rows: list[Row]) -> tuple[dict[str, str], ...]:
        """Return the rows that our own table would take; note the faults of the others."""
        faults: list[Fault] = []
        heading = Row(self.at.last_heading_row, self.names)
        table = Table(self.at.file, heading, tuple(rows), not rows)
        records = read_records(table, TABLES[self.mapping.table].model, faults, filled=False)
        good = {number for number, _ in records} - {fault.row for fault in faults}
        self.faults += [
            replace(fault, column=both(fault.column, self.columns.get(fault.column or "")))
            for fault in faults
        ]
        named = (
            dict(zip(self.names, row.cells, strict=True)) for row in rows if row.number in good
        )
        return tuple(named)


def _meant_numbers(text: str, one: ColumnMapping) -> tuple[str, ...]:
    """Return the numbers of a cell that may tell how decimals are written."""
    if one.piece is not None and one.piece not in PLACES:
        piece = taken(text, one.piece, numeric=True)
        return () if piece is None else (piece,)
    return scan(text).numbers


def _plain_number(text: str) -> Decimal:
    try:
        return Decimal(text)
    except ArithmeticError:
        raise CellError from None


def _translated(text: str, column: Column, one: ColumnMapping) -> str:
    """Return what of a cell is meant, in our words and with our dates; CellError says what not."""
    if not text:
        if column.required:
            raise CellError(column.wanted)
        return ""
    piece = text
    if one.piece is not None and not is_numeric(column):
        piece = taken(text, one.piece, numeric=False) or ""
        if not piece:
            raise CellError(Phrase("text that fits {piece}", piece=one.piece))
    if one.values:
        words = {theirs.casefold(): ours for theirs, ours in one.values.items()}
        if piece.casefold() not in words:
            known = ", ".join(one.values)
            raise CellError(Phrase("one of {words}, as the mapping lists them", words=known))
        piece = words[piece.casefold()]
    return _day(piece, one.dates) if column.kind is Kind.DAY else piece


def _day(text: str, form: str | None) -> str:
    """Return a date as our tables write it; a workbook's dates need no form."""
    stamp = _STAMP.fullmatch(text)
    plain = stamp[1] if stamp else text
    with suppress(ValueError):
        return datetime.strptime(plain, "%Y-%m-%d").date().isoformat()
    if form is None:
        if looks_like_date(text):
            raise CellError(
                Phrase('a date such as 2026-01-31, or how it is written: dates = "%d.%m.%Y"')
            )
        return plain
    try:
        return datetime.strptime(plain, form).date().isoformat()
    except ValueError:
        raise CellError(Phrase("a date written as {form}", form=form)) from None
