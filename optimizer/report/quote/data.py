"""A quote as one flat table and as JSON, and what each line leaves."""

import csv
import io
import json
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from typing import Any

from optimizer.formulas.rounding import minor_units
from optimizer.inputs.neutral import neutralised
from optimizer.quote import PricedOption, Quote
from optimizer.report.grids.grid import raw
from optimizer.report.grids.quote import margins
from optimizer.report.json.serialise import output, to_data
from optimizer.report.words import quote as words
from optimizer.report.words import quote_lines
from optimizer.report.words.writer import Writer

#: Columns of the flat table.
_COLUMNS = (
    "option",
    "kind",
    "heading",
    "item",
    "quantity",
    "unit",
    "price_each",
    "rate",
    "amount",
    "currency",
)


def household_json(quote: Quote) -> bytes:
    """Return a quote with its electrical sheets for programs."""
    return _json(output(quote, quote.job.supposed))


def installer_json(quote: Quote) -> bytes:
    """Return what each line costs, brings and leaves."""
    write = Writer(quote.currency, quote.company.locale)
    options = [
        {"hours": priced.design.hours, "lines": _margins(write, priced)} for priced in quote.options
    ]
    told = {
        "quote": quote.company.number,
        "site": quote.site,
        "date": quote.day,
        "currency": quote.currency,
        "options": options,
    }
    return _json(to_data(told))


def _margins(write: Writer, priced: PricedOption) -> list[dict[str, object]]:
    """Return the lines of an option with the installer's own columns beside them."""
    grid = margins(write, priced)
    keys = [column.key for column in grid.columns]
    return [
        dict(zip(keys, map(raw, row), strict=True)) | to_data(one.line)
        for row, one in zip(grid.rows, priced.pricing.margins, strict=True)
    ]


def _json(data: dict[str, Any]) -> bytes:
    text = json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False)
    return (text + "\n").encode()


def household_csv(quote: Quote) -> bytes:
    """Return a quote's money as one table for the locale's spreadsheet, one row a line."""
    write = Writer(quote.currency, quote.company.locale)
    rows = [row for priced in quote.options for row in _rows(write, priced)]
    return _local_csv([_COLUMNS, *rows], write)


def installer_csv(quote: Quote) -> bytes:
    """Return the installer's own table: cost, selling price and margin of each line."""
    write = Writer(quote.currency, quote.company.locale)
    rows: list[list[object]] = []
    for priced in quote.options:
        grid = margins(write, priced)
        if not rows:
            rows.append(["option", *(column.key for column in grid.columns)])
        name = words.option_name(write, priced.design)
        rows += [[name, *map(raw, row)] for row in grid.rows]
    return _local_csv(rows, write)


def _local_csv(rows: Iterable[Sequence[object]], write: Writer) -> bytes:
    """Return rows as a file that the spreadsheets of a locale open as they are.

    Numbers have the locale's decimal mark and no separators, and semicolons stand between cells
    where that mark is a comma; text like formulas is marked.
    """
    mark = write.decimal_mark
    out = io.StringIO(newline="")
    table = csv.writer(out, delimiter=";" if mark == "," else ",", lineterminator="\r\n")
    for row in rows:
        table.writerow(
            neutralised(one) if isinstance(one, str) else _number(one).replace(".", mark)
            for one in row
        )
    return out.getvalue().encode("utf-8-sig")


def _number(value: object) -> str:
    if isinstance(value, Decimal):
        return f"{value:f}"
    return "" if value is None else str(value)


def _rows(write: Writer, priced: PricedOption) -> Iterator[list[object]]:
    """Yield the rows of one option: lines, sums, payments, replacements."""
    name, pricing = words.option_name(write, priced.design), priced.pricing
    first, currency = pricing.first, write.currency
    cent = Decimal(1).scaleb(-minor_units(currency))

    def row(kind: str, item: str, amount: object, rate: Decimal | None = None) -> list[object]:
        return [name, kind, "", item, "", "", "", rate, amount, currency]

    for line in first.lines:
        each = line.price_each
        # to the smallest unit of the currency, or finer where the price list is
        finer = max(each, each.quantize(cent), key=lambda one: -int(one.as_tuple().exponent))
        item, quantity = quote_lines.item(write, line.item), line.quantity.normalize()
        before: list[object] = [name, "line", line.heading, item, quantity, line.unit]
        yield [*before, finer, line.tax_rate, line.amount, currency]
    yield row("sum", write.say("Sum of the lines"), first.net)
    for one in first.added:
        kind = "discount" if one.is_discount else "markup"
        yield row(kind, quote_lines.added(write, one), one.amount, one.rate)
    for part in first.taxes:
        is_alone = len(first.taxes) == 1
        yield row("tax", quote_lines.tax(write, part, is_alone=is_alone), part.amount, part.rate)
    yield row("total", write.say("Total"), pricing.total)
    for due in pricing.plan:
        yield row("payment", quote_lines.stage(write, due.stage), due.amount, due.stage.share)
    for later in pricing.replacements:
        item = write.say("Year {year}: {item}", year=later.year + 1, item=later.item)
        yield row("replacement", item, later.sum.total)
