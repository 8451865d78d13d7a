"""The formulas of a priced option: lines, what is added, tax by rate, total."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.quote.sums import MARKED, AddedKind

if TYPE_CHECKING:
    from decimal import Decimal

    from optimizer.quote.sums import Sum
    from optimizer.report.grids.grid import Grid
    from optimizer.report.quote.xlsx_page import Page


class Formulas:
    """Writes the formulas of one priced table, whose first values stand in a row of a page."""

    def __init__(self, page: Page, grid: Grid, first: int, found: Sum) -> None:
        self.page, self.grid, self.first, self.found = page, grid, first, found
        self.digits = page.book.decimals
        letters = {one.key: chr(ord("A") + n) for n, one in enumerate(grid.columns)}
        self.each, self.amount = letters["price_each"], letters["amount"]
        rows = [row for row, cells in enumerate(grid.rows) if cells[1] is not None]
        self.lines = list(zip(rows, found.lines, strict=True))
        self.below = rows[-1] + 1
        has_added = int(bool(found.added))
        self.rates = {one: self.below + has_added + n for n, one in enumerate(found.added)}

    def write(self) -> str:
        """Write them all; return the cell of the total."""
        for row, _ in self.lines:
            at = self.first + row + 1
            self._put(row, f"ROUND(B{at}*{self.each}{at},{self.digits})")
        top, row = self.first + 1, self.below
        last = self._put(row, f"SUM({self.amount}{top}:{self.amount}{self.first + row})")
        if self.found.added:
            cells = [last]
            for one in self.found.added:
                row += 1
                parts = [self._added(one.kind, row, rate) for rate in self._tax_rates()]
                shown = "+".join(part for part in parts if part)
                cells.append(self._put(row, f"0-({shown})" if one.is_discount else shown))
            row += 1
            last = self._put(row, "+".join(cells))
        taxes = []
        for part in self.found.taxes:
            row += 1
            base = last if len(self.found.taxes) == 1 else f"({self._base(part.rate)})"
            rate = self._at(self.each, row)
            taxes.append(self._put(row, f"ROUND({base}*{rate},{self.digits})"))
        return self._put(row + 1, "+".join([last, *taxes]))

    def _tax_rates(self) -> list[Decimal]:
        return [part.rate for part in self.found.taxes]

    def _put(self, row: int, formula: str) -> str:
        return self.page.formula(self.grid, self.first, row, "amount", f"={formula}")

    def _at(self, letter: str, row: int) -> str:
        return f"{letter}{self.first + row + 1}"

    def _cells(self, rate: Decimal, *is_labour: bool) -> str:
        """Return the amounts of the lines of a tax rate, of goods or labour alone where asked."""
        return "+".join(
            self._at(self.amount, row)
            for row, line in self.lines
            if line.tax_rate == rate and (not is_labour or line.is_labour in is_labour)
        )

    def _added(self, kind: AddedKind, row: int, rate: Decimal) -> str:
        """Return what is added to, or taken off, the lines of one tax rate."""
        share = self._at(self.each, row)
        is_discount = kind is AddedKind.DISCOUNT
        base = self._marked(rate) if is_discount else self._cells(rate, MARKED[kind])
        return f"ROUND(({base})*{share},{self.digits})" if base else ""

    def _marked(self, rate: Decimal) -> str:
        """Return the lines of a tax rate with their markups."""
        marks = [
            self._added(one.kind, row, rate)
            for one, row in self.rates.items()
            if not one.is_discount
        ]
        return "+".join(part for part in [self._cells(rate), *marks] if part)

    def _base(self, rate: Decimal) -> str:
        """Return what the tax of one rate is on."""
        off = [
            self._added(one.kind, row, rate) for one, row in self.rates.items() if one.is_discount
        ]
        return "-".join([self._marked(rate), *off])
