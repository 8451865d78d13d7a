"""A table: typed columns and rows of raw values."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from enum import StrEnum, auto
from typing import Final, Self, TypeAlias

from optimizer.report.words.writer import Writer, plain

Value: TypeAlias = str | float | bool | Decimal | date | None


class Kind(StrEnum):
    """How a value is written."""

    TEXT = auto()
    #: Money in whole units of the currency, without its sign.
    MONEY = auto()
    #: Money to the minor unit of the currency, without its sign.
    CENTS = auto()
    #: A price of one: to the minor unit, or finer where the price list is.
    PRICE = auto()
    #: A number with fixed decimals, none where not said.
    NUMBER = auto()
    #: A measured quantity with the digits that matter, three where not said.
    FIGURE = auto()
    #: A share of one, as per cent.
    SHARE = auto()
    #: Hours, cut down to a tenth.
    HOURS = auto()
    DATE = auto()
    YES_NO = auto()


#: Kinds that are no numbers: their cells stand to the left and may be broken into lines.
_WORDS: Final = frozenset({Kind.TEXT, Kind.YES_NO})


@dataclass(frozen=True)
class Cell:
    """A value that is not of its column's kind, stands behind a sign such as ≥, or is a range."""

    value: Value
    #: None: the column's, with its decimals.
    kind: Kind | None = None
    decimals: int | None = None
    sign: str = ""
    #: Where a range ends that begins at ``value``.
    last: Value = None


#: Raw values, one a column, or a `Cell` where one is of another kind; None is empty.
Row: TypeAlias = Sequence[Value | Cell]


@dataclass(frozen=True)
class Column:
    """A column: its name in files, its heading, and how its values are written."""

    #: Never translated.
    key: str
    #: In the writer's language, without the unit.
    title: str
    kind: Kind = Kind.TEXT
    #: Fixed decimals; of `Kind.FIGURE`, the digits that matter.
    decimals: int | None = None
    #: Shown behind the heading.
    unit: str | None = None
    #: A text is broken into lines only where there is no other way.
    is_short: bool = False
    #: It leaves the row before other numbers where there is little room.
    is_detail: bool = False

    @property
    def heading(self) -> str:
        """The title with the unit."""
        return f"{self.title}, {self.unit}" if self.unit else self.title

    @property
    def is_number(self) -> bool:
        """Whether cells stand to the right."""
        return self.kind not in _WORDS

    def cell(self, given: Value | Cell) -> Cell:
        """Return a value of this column with the kind that it is written in; a text is a text."""
        one = given if isinstance(given, Cell) else Cell(given)
        if isinstance(one.value, str):
            return replace(one, kind=Kind.TEXT)
        return one if one.kind else replace(one, kind=self.kind, decimals=self.decimals)


@dataclass(frozen=True)
class Grid:
    """A table of raw values."""

    #: Its name in files, never translated.
    key: str
    #: In the writer's language.
    title: str
    columns: Sequence[Column]
    rows: Sequence[Row]
    #: Sentences below the table.
    notes: Sequence[str] = ()
    #: The last row is the sum of those above it.
    has_total: bool = False
    #: The columns after the first are alternatives, each of which may stand alone.
    has_alternatives: bool = False

    def only(self, *keys: str) -> Self:
        """Return some of the columns, in this order."""
        known = [one.key for one in self.columns]
        places = [known.index(key) for key in keys]
        rows = [[row[place] for place in places] for row in self.rows]
        return replace(self, columns=[self.columns[place] for place in places], rows=rows)

    def turned(self, names: Sequence[Column]) -> Self:
        """Return each row as a column of its own name, the columns one below another."""
        rows: list[Row] = [
            [column.heading, *(column.cell(row[place]) for row in self.rows)]
            for place, column in enumerate(self.columns)
        ]
        columns = [Column("figure", ""), *names]
        return replace(self, columns=columns, rows=rows, has_alternatives=True)

    def texts(self, writer: Writer) -> list[list[str]]:
        """Return every cell as it is shown, row by row."""
        return [
            [
                cell_text(writer, column, cell)
                for column, cell in zip(self.columns, row, strict=True)
            ]
            for row in self.rows
        ]


def quantities(kind: Kind = Kind.TEXT, decimals: int | None = None) -> list[Column]:
    """Return the columns of a table of one quantity a row, which is named and has its unit."""
    name, unit = Column("quantity", "", is_short=True), Column("unit", "")
    return [name, Column("value", "", kind, decimals), unit]


def is_heading(row: Sequence[Value | Cell]) -> bool:
    """Tell whether a row is a heading of those below it: a text and nothing else."""
    return isinstance(raw(row[0]), str) and len(row) > 1 and all(one is None for one in row[1:])


def raw(cell: Value | Cell) -> Value:
    """Return a cell's value."""
    return cell.value if isinstance(cell, Cell) else cell


def cell_text(writer: Writer, column: Column, cell: Value | Cell) -> str:
    """Return a cell as it is shown."""
    one = column.cell(cell)
    text, last = (_text(writer, one, value) for value in (one.value, one.last))
    if last not in ("", text):
        text = f"{text}–{last}"
    return f"{one.sign}\N{NO-BREAK SPACE}{text}" if one.sign else text


def _text(writer: Writer, cell: Cell, value: Value) -> str:  # noqa: PLR0911 - one a kind
    if value is None:
        return ""
    if isinstance(value, str):
        return plain(value)
    if isinstance(value, bool):
        return writer.say("yes") if value else writer.say("no")
    if isinstance(value, date):
        return writer.day(value)
    decimals = cell.decimals
    match cell.kind:
        case Kind.CENTS:
            return writer.amount(value)
        case Kind.PRICE:
            return writer.price(value)
        case Kind.SHARE:
            return writer.share(value, decimals)
        case Kind.HOURS:
            return writer.hours(float(value), decimals)
        case Kind.FIGURE:
            return writer.figure(value, decimals or 3)
    return writer.number(value, decimals or 0)
