"""Where in a supplier's list things stand: its column names, its rows, what of it is no row."""

from optimizer.errors import Fault, InputError
from optimizer.inputs.columns import Column, Kind
from optimizer.inputs.faults import one_of, shown
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.supplier_list import SupplierList, cell_at, repeats
from optimizer.model.phrase import Phrase
from optimizer.suppliers.mapping import ORIGIN, ColumnMapping, SupplierMapping
from optimizer.suppliers.templates import says
from optimizer.suppliers.vocabulary import CURRENCY_HEADINGS, folded

Cells = tuple[str, ...]


class Layout:
    """Where things stand in one list, by its mapping; InputError with each column not there."""

    def __init__(self, supplier: SupplierList, mapping: SupplierMapping) -> None:
        self.supplier, self.mapping = supplier, mapping
        self.file = f"{supplier.file} [{supplier.sheet}]" if supplier.sheet else supplier.file
        self.known = TABLES[mapping.table].columns
        self.columns = dict(mapping.columns)
        for name in ORIGIN:
            if name in self.known and name not in self.columns:
                self.columns[name] = ColumnMapping(value=str(getattr(mapping, name)))
        self.names = tuple(name for name in self.known if name in self.columns)
        self.heading_row = supplier.heading_row(mapping.heading_row)
        self.headings = supplier.headings(mapping.heading_row, mapping.heading_rows)
        self.places = self._places()
        read = {self.places[one.column] for one in self.columns.values() if one.column}
        self._currency = next(
            (
                place
                for place, name in enumerate(self.headings)
                if folded(name) in CURRENCY_HEADINGS and place not in read
            ),
            None,
        )

    @property
    def last_heading_row(self) -> int:
        """The last row of column names, from 1."""
        return self.heading_row + self.mapping.heading_rows - 1

    @property
    def unasked(self) -> tuple[str, ...]:
        """Their columns that nothing is asked of."""
        asked = {*self.places.values(), self._currency}
        return tuple(
            name for place, name in enumerate(self.headings) if name and place not in asked
        )

    def _places(self) -> dict[str, int]:
        mapping = self.mapping
        whole = {name: place for place, name in enumerate(self.headings) if name}
        lower = self.supplier.lower_names(mapping.heading_row, mapping.heading_rows)
        found = lower | whole
        wanted = [(f"columns.{ours}", one.column) for ours, one in self.columns.items()]
        wanted += [(f"filter.{name}", name) for name in mapping.filter]
        wanted += [(f"exclude.{name}", name) for name in mapping.exclude]
        spaced = {name: " ".join(name.split()) for _, name in wanted if name is not None}
        what = Phrase("a column of its row {row}", row=str(self.heading_row))
        faults = [
            Fault(
                mapping.file,
                None,
                key,
                Phrase("{name}, which {file} does not have", name=shown(name), file=self.file),
                one_of(what, name, found),
            )
            for key, name in wanted
            if name is not None and spaced[name] not in found
        ]
        if faults:
            raise InputError(faults)
        return {name: found[plain] for name, plain in spaced.items()}

    def rows(self) -> tuple[list[tuple[int, Cells]], tuple[int, ...], int]:
        """Return the rows to be read, the numbers of those without figures, how many are filtered.

        Rows without figures are titles, notes, totals and column names repeated.
        """
        body = [
            (number, row)
            for number, row in enumerate(
                self.supplier.rows[self.last_heading_row :], self.last_heading_row + 1
            )
            if any(row)
        ]
        noise = {number for number, row in body if self._is_noise(row)}
        kept = [(n, row) for n, row in body if n not in noise and self._passes(row)]
        return kept, tuple(sorted(noise)), len(body) - len(noise) - len(kept)

    def heading(self, one: ColumnMapping) -> str:
        """Return the heading of a column of theirs; none for one value in every row."""
        return self.headings[self.places[one.column]] if one.column else ""

    def text(self, row: Cells, one: ColumnMapping) -> str:
        """Return what a row holds for one of our columns."""
        return (one.value or "") if one.column is None else cell_at(row, self.places[one.column])

    def currency_cell(self, row: Cells) -> str:
        """Return what a column of currencies says of a row; nothing where there is none."""
        return "" if self._currency is None else cell_at(row, self._currency)

    def _is_noise(self, row: Cells) -> bool:
        if repeats(row, self.headings):
            return True
        asked = [one for name, one in self.columns.items() if self.known[name].required]
        named = self.text(row, self.columns[TABLES[self.mapping.table].key])
        empty = [one for one in asked if not self.text(row, one)]
        if not named and len(empty) > len(asked) / 2:  # a total
            return True
        return not any(
            self.text(row, one)
            for name, one in self.columns.items()
            if one.column is not None and self.known[name].kind.is_numeric
        )

    def _passes(self, row: Cells) -> bool:
        mapping = self.mapping
        return all(
            any(says(cell_at(row, self.places[name]), word) for word in words)
            for name, words in mapping.filter.items()
        ) and not any(
            says(cell_at(row, self.places[name]), word)
            for name, words in mapping.exclude.items()
            for word in words
        )


def is_numeric(column: Column) -> bool:
    """Tell whether a column of ours holds a number, or several depths as one may be."""
    return column.kind.is_numeric or column.kind is Kind.DEPTHS


def both(ours: str | None, one: ColumnMapping | None) -> str | None:
    """Return a column in a message: theirs and ours, or ours alone."""
    return ours if one is None or one.column is None else f"{one.column} → {ours}"
