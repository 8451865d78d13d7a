"""The formulas of a priced option: lines, what is added, tax by rate, total."""

from collections import defaultdict
from decimal import Decimal

from xlsxwriter.utility import xl_rowcol_to_cell

from optimizer.quote.sums import MARKED, Sum
from optimizer.report.grids.grid import Grid
from optimizer.report.quote.xlsx_page import Page


def write_sums(page: Page, grid: Grid, first: int, found: Sum) -> str:
    """Write the formulas of a priced table whose first values stand in a row of a page.

    Returns the cell of the total.
    """
    digits = page.book.decimals
    places = {one.key: place for place, one in enumerate(grid.columns)}
    each, amount = "price_each", "amount"
    rows = [row for row, cells in enumerate(grid.rows) if cells[1] is not None]
    lines = list(zip(rows, found.lines, strict=True))

    def at(key: str, row: int) -> str:
        return str(xl_rowcol_to_cell(first + row, places[key]))

    def put(row: int, formula: str) -> str:
        return page.formula(grid, first, row, amount, f"={formula}")

    def amounts(rate: Decimal, *is_labour: bool) -> str:
        """Return the amounts of the lines of a tax rate, of goods or labour alone where asked."""
        return "+".join(
            at(amount, row)
            for row, line in lines
            if line.tax_rate == rate and (not is_labour or line.is_labour in is_labour)
        )

    for row in rows:
        put(row, f"ROUND({at('quantity', row)}*{at(each, row)},{digits})")
    row = rows[-1] + 1
    summed = [put(row, f"SUM({at(amount, 0)}:{at(amount, row - 1)})")]
    marked = {part.rate: [amounts(part.rate)] for part in found.taxes}  # with their markups
    off: defaultdict[Decimal, list[str]] = defaultdict(list)
    for one in found.added:  # markups before discounts, which are off both
        row += 1
        parts = []
        for rate, terms in marked.items():
            base = "+".join(terms) if one.is_discount else amounts(rate, MARKED[one.kind])
            if base:
                parts.append(f"ROUND(({base})*{at(each, row)},{digits})")
                (off[rate] if one.is_discount else terms).append(parts[-1])
        shown = "+".join(parts)
        summed.append(put(row, f"0-({shown})" if one.is_discount else shown))
    if found.added:
        row += 1
        summed = [put(row, "+".join(summed))]
    before_tax = summed[0]
    for part in found.taxes:
        row += 1
        terms = ["+".join(marked[part.rate]), *off[part.rate]]
        base = before_tax if len(found.taxes) == 1 else f"({'-'.join(terms)})"
        summed.append(put(row, f"ROUND({base}*{at(each, row)},{digits})"))
    return put(row + 1, "+".join(summed))
