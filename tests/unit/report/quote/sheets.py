"""A second reader of the workbooks: works out every formula with exact decimals.

It knows what the quotes use and no more: +, −, ×, ÷, brackets, ROUND, SUM, IF with an equality,
references and ranges, on the same sheet or another.
"""

from __future__ import annotations

import io
import re
from decimal import ROUND_HALF_UP, Decimal

from openpyxl import load_workbook
from openpyxl.utils import range_boundaries

_NUMBER = re.compile(r"\d+(\.\d+)?")
_REFERENCE = re.compile(r"(?:'((?:[^']|'')+)'!)?([A-Z]+\d+)(?::([A-Z]+\d+))?")


class Book:
    """A workbook as it is stored: formulas on the one side, stored values on the other."""

    def __init__(self, content: bytes) -> None:
        self.formulas = load_workbook(io.BytesIO(content))
        self.values = load_workbook(io.BytesIO(content), data_only=True)

    def cells(self):
        """Yield (sheet, cell, formula) for each formula."""
        for sheet in self.formulas:
            for row in sheet.iter_rows():
                for cell in row:
                    if cell.data_type == "f":
                        yield sheet.title, cell.coordinate, cell.value

    def stored(self, sheet: str, cell: str):
        return self.values[sheet][cell].value

    def worked_out(self, sheet: str, cell: str) -> Decimal:
        """Return a cell worked out from numbers alone, through every formula behind it."""
        value = self.formulas[sheet][cell].value
        if value is None:
            return Decimal(0)
        if isinstance(value, str) and value.startswith("="):
            return _Reader(self, sheet, value[1:]).whole()
        return Decimal(repr(value))


class _Reader:
    def __init__(self, book: Book, sheet: str, text: str) -> None:
        self.book, self.sheet, self.text, self.at = book, sheet, text, 0

    def whole(self) -> Decimal:
        value = self.sum()
        assert self.at == len(self.text), f"not understood: {self.text[self.at :]}"
        return value

    def peek(self) -> str:
        return self.text[self.at : self.at + 1]

    def take(self, mark: str) -> None:
        assert self.peek() == mark, f"{mark} wanted in {self.text} at {self.at}"
        self.at += 1

    def sum(self) -> Decimal:
        value = self.product()
        while self.peek() in {"+", "-"} and self.peek():
            sign = self.peek()
            self.at += 1
            value = value + self.product() if sign == "+" else value - self.product()
        return value

    def product(self) -> Decimal:
        value = self.atom()
        while self.peek() in {"*", "/"} and self.peek():
            sign = self.peek()
            self.at += 1
            value = value * self.atom() if sign == "*" else value / self.atom()
        return value

    def atom(self) -> Decimal:
        for name in ("ROUND", "SUM", "IF"):
            if self.text.startswith(f"{name}(", self.at):
                self.at += len(name) + 1
                value = getattr(self, f"_{name.lower()}")()
                self.take(")")
                return value
        if self.peek() == "(":
            self.at += 1
            value = self.sum()
            self.take(")")
            return value
        found = _REFERENCE.match(self.text, self.at)
        if found:
            self.at = found.end()
            return self.book.worked_out(found[1] or self.sheet, found[2])
        found = _NUMBER.match(self.text, self.at)
        assert found, f"not understood: {self.text[self.at :]}"
        self.at = found.end()
        return Decimal(found[0])

    def _round(self) -> Decimal:
        value = self.sum()
        self.take(",")
        digits = int(self.sum())
        return value.quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)

    def _sum(self) -> Decimal:
        found = _REFERENCE.match(self.text, self.at)
        self.at = found.end()
        left, top, right, bottom = range_boundaries(f"{found[2]}:{found[3] or found[2]}")
        sheet = self.book.formulas[self.sheet]
        return sum(
            (
                self.book.worked_out(self.sheet, sheet.cell(row, column).coordinate)
                for row in range(top, bottom + 1)
                for column in range(left, right + 1)
            ),
            Decimal(0),
        )

    def _if(self) -> Decimal:
        left = self.sum()
        self.take("=")
        equal = left == self.sum()
        self.take(",")
        yes = self.sum()
        self.take(",")
        # the branch that is not taken may divide by nothing
        if equal:
            self.at = self.text.index(")", self.at)
            return yes
        return self.sum()
