"""A quote as plain data for programs, and as one flat table."""

from __future__ import annotations

import csv
import io
import json
from typing import TYPE_CHECKING, Any

from optimizer.answers.curve import point_of
from optimizer.comparison.answers import CompareAnswer, TiersAnswer
from optimizer.inputs.neutral import neutralised
from optimizer.report.csv_text import as_csv as grid_csv
from optimizer.report.grids.quote import margins
from optimizer.report.json.serialise import to_data
from optimizer.report.words import quote as words
from optimizer.report.words.writer import Writer

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.quote import Appendix, PricedOption, Quote
    from optimizer.quote.lines import Line

#: Columns of the flat table.
COLUMNS = ("option", "kind", "heading", "item", "quantity", "unit", "price_each", "amount")


def quote_data(quote: Quote) -> dict[str, Any]:
    """Return a quote as plain data; nothing in it is meant for the installer alone."""
    company, site = quote.company, quote.job.site
    return {
        "quote": company.number,
        "company": company.name,
        "customer": company.customer,
        "site": site.name,
        "date": to_data(quote.day),
        "valid_until": to_data(quote.valid_until),
        "currency": site.currency,
        "options": [_option(quote, option) for option in quote.options],
        "left_out": [
            {
                "hours": one.design.hours,
                "same_as_hours": one.same_as.hours,
                "instead_hours": None if one.instead is None else one.instead.hours,
            }
            for one in quote.left_out
        ],
        "terms": list(company.terms),
        "not_included": list(company.not_included),
        **({} if quote.appendix is None else {"appendix": _appendix(quote.appendix)}),
    }


def _appendix(found: Appendix) -> dict[str, Any]:
    """Return the appendix: the same answers as its questions asked alone give."""
    tiers = found.tiers
    costs = tuple(cost for hours in tiers.landmarks for cost in tiers.at(hours))
    site = found.comparison.job.site
    data = to_data(CompareAnswer(found.comparison, found.switch_points, found.break_even_line))
    # the word is the installer's here: what a line leaves
    data["cheaper_by"] = data.pop("margin")
    return {
        **data,
        "sensitivities": to_data(found.sensitivities),
        "budget": to_data(found.stairs),
        "tiers": to_data(TiersAnswer(site.name, site.currency, tiers.curves, costs)),
    }


def _option(quote: Quote, priced: PricedOption) -> dict[str, Any]:
    option, pricing = priced.option, to_data(priced.pricing)
    if priced.pricing.markup_spread:
        pricing["markup_rate"] = None
    return {
        "why": to_data(option.why),
        "why_hours": option.hours,
        "design": to_data(point_of(quote.job, option.design)),
        "verdict": to_data(option.verdict),
        **pricing,
        "old_prices": [
            {"item": to_data(item), "price_date": to_data(day)} for item, day in priced.old_prices
        ],
        "electrical": to_data(priced.sheet),
        "handover": to_data(priced.handover),
    }


def installer_data(quote: Quote) -> dict[str, Any]:
    """Return what each line costs, brings and leaves: for the installer alone."""
    return {
        "quote": quote.company.number,
        "site": quote.job.site.name,
        "date": to_data(quote.day),
        "currency": quote.job.site.currency,
        "options": [
            {
                "hours": priced.option.design.hours,
                "lines": [
                    {
                        **to_data(one.line),
                        "supplier": one.line.supplier,
                        "supplier_code": one.line.supplier_code,
                        "cost_each": to_data(one.line.cost_each),
                        "cost": to_data(one.cost),
                        "selling": to_data(one.selling),
                        "margin": to_data(one.margin),
                        "margin_share": to_data(one.share),
                    }
                    for one in priced.margins
                ],
            }
            for priced in quote.options
        ],
    }


def as_json(data: dict[str, Any]) -> bytes:
    """Return data as JSON text; the same data give the same bytes."""
    text = json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False)
    return (text + "\n").encode()


def as_csv(quote: Quote) -> bytes:
    """Return a quote's money as one table, one row a line; text like formulas is marked."""
    write = Writer(quote.job.site.currency, quote.company.locale)
    out = io.StringIO(newline="")
    rows = csv.writer(out, lineterminator="\r\n")  # RFC 4180
    rows.writerow([*COLUMNS, "currency"])
    for priced in quote.options:
        for row in _rows(write, priced):
            rows.writerow([*map(neutralised, row), quote.job.site.currency])
    return out.getvalue().encode()


def _rows(write: Writer, priced: PricedOption) -> Iterator[list[object]]:
    """Yield the rows of one option: lines, sums, payments, replacements."""
    name, pricing = words.option_name(write, priced.option.design), priced.pricing

    def row(kind: str, item: str, amount: object, line: Line | None = None) -> list[object]:
        if line is None:
            return [name, kind, "", item, "", "", "", amount]
        quantity = f"{line.quantity.normalize():f}"
        return [name, kind, line.heading, item, quantity, line.unit, line.price_each, amount]

    for line in pricing.first.lines:
        yield row("line", words.item(write, line.item), line.amount, line)
    yield row("sum", write.say("Sum before tax"), pricing.first.net)
    if pricing.first.markup:
        yield row("markup", write.say("Markup"), pricing.first.markup)
    yield row("tax", write.say("Tax"), pricing.first.tax)
    yield row("total", write.say("Total"), pricing.total)
    for due in pricing.plan:
        yield row("payment", words.stage(write, due.stage), due.amount)
    for one in pricing.replacements:
        item = write.say("Year {year}: {item}", year=one.year + 1, item=one.item)
        yield row("replacement", item, one.sum.total)


def installer_csv(quote: Quote) -> bytes:
    """Return the installer's own table: cost, selling price and margin of each line."""
    write = Writer(quote.job.site.currency)
    tables = [grid_csv(margins(write, priced)) for priced in quote.options]
    return tables[0] + b"".join(table.split(b"\r\n", 1)[1] for table in tables[1:])
