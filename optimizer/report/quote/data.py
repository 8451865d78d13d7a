"""A quote as plain data for programs, and as one flat table."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from optimizer.answers.curve import point_of
from optimizer.comparison.answers import CompareAnswer, TiersAnswer
from optimizer.formulas.rounding import ROUNDING_RULE
from optimizer.inputs.neutral import neutralised
from optimizer.report.json.serialise import to_data

if TYPE_CHECKING:
    from collections.abc import Iterator
    from decimal import Decimal

    from optimizer.quote import Appendix, PricedOption, Quote
    from optimizer.quote.lines import Line, Sum

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
        "date": quote.day.isoformat(),
        "valid_until": quote.valid_until.isoformat(),
        "currency": site.currency,
        "rounding": ROUNDING_RULE,
        "options": [_option(quote, option) for option in quote.options],
        "notes": list(quote.notes),
        "terms": list(company.terms),
        "not_included": list(quote.not_included),
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
    option, pricing = priced.option, priced.pricing
    return {
        "name": option.name,
        "why": option.why,
        "design": to_data(point_of(quote.job, option.design)),
        "verdict": asdict(option.verdict),
        "markup_rate": None if pricing.markup_spread else _number(pricing.markup_rate),
        "markup_spread": pricing.markup_spread,
        "tax_rate": _number(pricing.tax_rate),
        "first": _sum(pricing.first),
        "model_total": pricing.model_total,
        "difference": _number(pricing.difference),
        "payments": [
            {"when": due.when, "share": _number(due.share), "amount": _number(due.amount)}
            for due in pricing.plan
        ],
        "replacements": [
            {
                "year": one.year,
                "item": one.item,
                **_sum(one.sum),
                "model_amount": one.model_amount,
            }
            for one in pricing.replacements
        ],
        "old_prices": [
            {"item": item, "price_date": day.isoformat()} for item, day in priced.old_prices
        ],
        "electrical": {
            "layout": asdict(priced.sheet.layout),
            "figures": [asdict(figure) for figure in priced.sheet.figures],
            "room_notes": list(priced.sheet.room_notes),
            "cautions": list(priced.sheet.cautions),
        },
        "handover": _handover(priced),
    }


def _handover(priced: PricedOption) -> dict[str, Any]:
    sheet = priced.handover
    data = asdict(sheet)
    data["parts"] = [
        {
            "part": part.part,
            "after_years": part.after_years,
            "due": part.due.isoformat(),
            "amount": _number(part.amount),
            "monthly": _number(part.monthly),
        }
        for part in sheet.parts
    ]
    data["monthly"] = _number(sheet.monthly)
    return data


def _sum(found: Sum) -> dict[str, Any]:
    return {
        "lines": [_line(line) for line in found.lines],
        "net": _number(found.net),
        "markup": _number(found.markup),
        "tax": _number(found.tax),
        "total": _number(found.total),
    }


def _line(line: Line) -> dict[str, Any]:
    return {
        "heading": line.heading,
        "item": line.item,
        "quantity": _number(line.quantity),
        "unit": line.unit,
        "price_each": _number(line.price_each),
        "amount": _number(line.amount),
        "price_date": line.price_date.isoformat() if line.price_date else None,
    }


def installer_data(quote: Quote) -> dict[str, Any]:
    """Return what each line costs, brings and leaves: for the installer alone."""
    return {
        "quote": quote.company.number,
        "site": quote.job.site.name,
        "date": quote.day.isoformat(),
        "currency": quote.job.site.currency,
        "options": [
            {
                "name": priced.option.name,
                "lines": [
                    {
                        **_line(one.line),
                        "supplier": one.line.supplier,
                        "supplier_code": one.line.supplier_code,
                        "cost_each": _number(one.line.cost_each),
                        "cost": _number(one.cost),
                        "selling": _number(one.selling),
                        "margin": _number(one.margin),
                        "margin_share": float(one.share),
                    }
                    for one in priced.margins
                ],
            }
            for priced in quote.options
        ],
    }


def _number(value: Decimal) -> float | int:
    whole = value.to_integral_value()
    return int(whole) if value == whole else float(value)


def as_json(data: dict[str, Any]) -> bytes:
    """Return data as JSON text; the same data give the same bytes."""
    text = json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False, default=str)
    return (text + "\n").encode()


def as_csv(quote: Quote) -> bytes:
    """Return a quote's money as one table, one row a line; text like formulas is marked."""
    rows = [[*COLUMNS, "currency"]]
    for priced in quote.options:
        for row in option_rows(priced):
            rows.append([*row, quote.job.site.currency])
    return _csv(rows)


def option_rows(priced: PricedOption) -> Iterator[list[str]]:
    """Yield the rows of one option: lines, sums, payments, replacements."""
    name, pricing = priced.option.name, priced.pricing

    def row(kind: str, item: str, amount: Decimal, line: Line | None = None) -> list[str]:
        texts = [name, kind, line.heading if line else "", item]
        if line is None:
            numbers = ["", "", ""]
        else:
            numbers = [f"{line.quantity.normalize():f}", line.unit, f"{line.price_each:f}"]
        return [*map(neutralised, texts), *numbers, f"{amount:f}"]

    for line in pricing.first.lines:
        yield row("line", line.item, line.amount, line)
    yield row("sum", "Sum before tax", pricing.first.net)
    if pricing.first.markup:
        yield row("markup", "Markup", pricing.first.markup)
    yield row("tax", "Tax", pricing.first.tax)
    yield row("total", "Total", pricing.total)
    for due in pricing.plan:
        yield row("payment", due.when, due.amount)
    for one in pricing.replacements:
        yield row("replacement", f"Year {one.year + 1}: {one.item}", one.sum.total)


def installer_csv(quote: Quote) -> bytes:
    """Return the installer's own table: cost, selling price and margin of each line."""
    rows = [
        [
            *("option", "heading", "item", "supplier", "supplier_code", "price_date", "quantity"),
            *("unit", "cost_each", "cost", "selling", "margin", "margin_share", "currency"),
        ]
    ]
    for priced in quote.options:
        for one in priced.margins:
            line = one.line
            texts = (
                priced.option.name,
                line.heading,
                line.item,
                line.supplier or "",
                line.supplier_code or "",
                line.price_date.isoformat() if line.price_date else "",
            )
            rows.append(
                [
                    *map(neutralised, texts),
                    f"{line.quantity.normalize():f}",
                    line.unit,
                    f"{line.cost_each:f}",
                    f"{one.cost:f}",
                    f"{one.selling:f}",
                    f"{one.margin:f}",
                    f"{one.share:.4f}",
                    quote.job.site.currency,
                ]
            )
    return _csv(rows)


def _csv(rows: list[list[str]]) -> bytes:
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows(rows)  # RFC 4180
    return out.getvalue().encode()
