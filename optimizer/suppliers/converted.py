"""What a supplier's list was read as: its rows, what was left aside, what only a person can say."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation

from optimizer.errors import Fault
from optimizer.inputs.draft import RawTable
from optimizer.inputs.neutral import neutralised
from optimizer.inputs.price_tables import TABLES
from optimizer.model.phrase import Phrase
from optimizer.model.shown import shown
from optimizer.suppliers.vocabulary import Doubt


def identity(row: Mapping[str, str], table: str) -> tuple[str, ...]:
    """Return what makes a row of a table the same thing as another, however it is written.

    >>> identity({"battery": "Slate  12"}, "batteries"), identity({"rating_a": "80.0"}, "fuses")
    (('slate 12',), ('80', '', ''))
    """
    kind = TABLES[table]
    return tuple(_plain(row.get(name, "")) for name in (kind.key, *kind.apart))


def label(row: Mapping[str, str], table: str) -> str:
    """Return what messages call a row: its name, and figures where several have that name.

    >>> label({"kind": "isolator", "rating_a": "125"}, "parts")
    'isolator 125'
    """
    kind = TABLES[table]
    return " ".join(row[name] for name in (kind.key, *kind.apart) if row.get(name))


def _plain(text: str) -> str:
    found = decimal_of(text)
    return " ".join(text.casefold().split()) if found is None else f"{found.normalize():f}"


def decimal_of(text: str) -> Decimal | None:
    """Return a table's number, whichever mark it writes decimals by; None for other text."""
    try:
        found = Decimal(text.replace(",", "."))
    except InvalidOperation:
        return None
    return found if found.is_finite() else None


@dataclass(frozen=True, slots=True)
class OpenWord:
    """A word beside a number that the mapping must answer for.

    ``cell`` is what stands in the first place that holds it; ``rows`` counts all of them.
    """

    word: str
    doubt: Doubt
    file: str
    row: int
    column: str | None
    cell: str
    unit: str
    currency: str
    rows: int = 1

    def fault(self) -> Fault:
        """Return what to write into the mapping."""
        found = Phrase("{cell}", cell=repr(self.cell))
        more = self.rows - 1
        if more == 1:
            found = Phrase("{cell}, and 1 more row", cell=found)
        elif more:
            found = Phrase("{cell}, and {n} more rows", cell=found, n=str(more))
        return Fault(self.file, self.row, self.column, found, self._wanted())

    def _wanted(self) -> Phrase:
        line = Phrase('under [words] of the mapping "{word}"', word=self.word)
        match self.doubt:
            case Doubt.FROM:
                return Phrase(
                    'a firm price; {line} = "ignore" takes it as one, "skip" leaves the row out',
                    line=line,
                )
            case Doubt.PIECES:
                return Phrase(
                    "the price of one; {line} = {{ pieces = 2 }} says of how many it is, "
                    '"ignore" that it is of one',
                    line=line,
                )
            case Doubt.TAX:
                return Phrase(
                    "a price without tax; {line} = {{ tax = 0.2 }} takes off 20 %", line=line
                )
            case Doubt.CURRENCY:
                return Phrase(
                    "the list's currency; {line} = {{ exchange = … }} says what one is in {ours}",
                    line=line,
                    ours=self.currency,
                )
            case Doubt.UNIT:
                return Phrase(
                    '{ours}, or another column; {line} = {{ unit = "…" }} says what it is taken '
                    "for",
                    line=line,
                    ours=self.unit or Phrase("a plain number"),
                )
        return Phrase(
            'a number whose words are known; {line} = "ignore", "skip", {{ unit = "…" }}, '
            "{{ pieces = … }}, {{ tax = … }} or {{ exchange = … }}",
            line=line,
        )


@dataclass(frozen=True, slots=True)
class Repeated:
    """An article that a list holds more than once: the row taken, and rows and prices that lost."""

    name: str
    row: int
    price: Decimal
    others: tuple[tuple[int, Decimal], ...]


@dataclass(frozen=True, slots=True)
class Converted:
    """A supplier's list as it was read: rows of one of our tables, by our columns.

    ``filtered`` counts rows that the mapping left out; ``noise`` numbers rows without figures;
    ``unreadable`` are the faults of rows that are not among ``rows``; ``open_words`` must be
    answered first; ``bare`` names columns whose unit stands nowhere, with the unit they were taken
    in; ``unasked`` are the list's columns that the mapping does not name.
    """

    file: str
    sheet: str | None
    table: str
    rows: tuple[Mapping[str, str], ...]
    filtered: int
    noise: tuple[int, ...]
    unreadable: tuple[Fault, ...] = field(metadata=shown("left_out"))
    bare: tuple[tuple[str, str], ...] = field(metadata=shown("bare_units"))
    repeated: tuple[Repeated, ...]
    unasked: tuple[str, ...]
    columns: tuple[str, ...] = field(metadata=shown(hide=True))
    currency: str = field(metadata=shown(hide=True))
    open_words: tuple[OpenWord, ...] = field(metadata=shown(hide=True))

    def questions(self) -> tuple[Fault, ...]:
        """Return the words that must be answered for, as faults."""
        return tuple(one.fault() for one in self.open_words)

    @property
    def cells(self) -> tuple[tuple[str, ...], ...]:
        """The rows' text in the order of ``columns``."""
        return tuple(tuple(row.values()) for row in self.rows)

    def as_csv(self) -> bytes:
        """Return the table as a file of the price list."""
        return price_table(self.table, self.columns, self.cells).as_csv()


def price_table(table: str, columns: Sequence[str], rows: Iterable[Sequence[str]]) -> RawTable:
    """Return rows as a table of the price list; text like formulas is marked."""
    known = TABLES[table].columns
    numeric = {name for name in columns if name in known and known[name].kind.is_numeric}
    marked = (
        tuple(
            text if name in numeric else neutralised(text)
            for name, text in zip(columns, row, strict=True)
        )
        for row in rows
    )
    return RawTable(f"{table}.csv", (tuple(columns), *marked))
