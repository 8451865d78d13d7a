"""Tables of the PDF: numbers to the right, hairlines, headings repeated, rows never split."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from reportlab.platypus import Table, TableStyle

from optimizer.formulas.rounding import exact
from optimizer.report.quote import texts
from optimizer.report.quote.pdf_style import (
    CELL,
    HEAD,
    HEAD_NUMBER,
    INK,
    NUMBER,
    REGULAR,
    RULE,
    SIZE,
    SMALL_CELL,
    SMALL_NUMBER,
    SMALL_SOFT,
    STRONG_CELL,
    STRONG_NUMBER,
    say,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reportlab.platypus import Paragraph

    from optimizer.quote import PricedOption, Quote
    from optimizer.quote.figures import Figure, Topic
    from optimizer.quote.handover import Handover
    from optimizer.quote.lines import Pricing, Sum
    from optimizer.report.words.writer import Writer

    Cell: TypeAlias = Paragraph | list[Paragraph] | str

#: Small print in the first column stands on one line with the cells beside it.
SMALL_BESIDE: tuple[object, ...] = ("TOPPADDING", (0, 1), (0, -1), 4.1)


def ruled(
    rows: Sequence[Sequence[Cell]],
    widths: Sequence[float],
    *,
    heads: int = 1,
    extra: Sequence[tuple[object, ...]] = (),
    tight: bool = False,
) -> Table:
    """Return a table with a rule below its heading and hairlines between rows."""
    style: list[tuple[object, ...]] = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("VALIGN", (0, 0), (-1, heads - 1), "BOTTOM"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-2, -1), 7),
        ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
        ("FONT", (0, 0), (-1, -1), REGULAR, SIZE),
        ("TOPPADDING", (0, 0), (-1, -1), 1.6 if tight else 2.6),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.2 if tight else 3.2),
        ("LINEBELOW", (0, heads), (-1, -1), 0.5, RULE),
        *extra,
    ]
    if heads:
        style.append(("LINEBELOW", (0, heads - 1), (-1, heads - 1), 0.7, INK))
    table = Table(
        [list(row) for row in rows],
        colWidths=list(widths),
        repeatRows=heads,
        style=TableStyle(style),
        hAlign="LEFT",
    )
    table.spaceAfter = 6
    return table


def options_table(quote: Quote, write: Writer, width: float) -> Table:
    """Return the options side by side: one column each, one row a question."""
    site, options = quote.job.site, quote.options
    over = site.horizon_in_words
    first = width * 0.24
    rows = [
        [say("", HEAD), *(say(one.option.name, STRONG_CELL) for one in options)],
        _row("Chosen as", [one.option.why for one in options]),
        _row("To pay at the start", [write.money(one.pricing.total) for one in options], True),
        _row(f"Cost over {over}*", [_life_cost(one, write) for one in options]),
        _row("Bank", [texts.bank(one) for one in options]),
        _row("Inverter-charger", [texts.inverter_set(one) for one in options]),
        _row("Second opinion", [_opinion(one, write) for one in options]),
        _row("Bought again", [_bought_again(one, write, over) for one in options]),
        _row("To set aside a month", [write.money(one.handover.monthly) for one in options]),
    ]
    each = (width - first) / len(options)
    return ruled(rows, [first, *([each] * len(options))], extra=[SMALL_BESIDE])


def _row(name: str, cells: list[str], strong: bool = False) -> list[Paragraph]:
    style = STRONG_CELL if strong else CELL
    return [say(name, SMALL_SOFT), *(say(cell, style) for cell in cells)]


def _life_cost(option: PricedOption, write: Writer) -> str:
    return write.money(exact(option.option.design.life_cycle_cost), whole=True)


def _opinion(option: PricedOption, write: Writer) -> str:
    verdict = option.option.verdict
    hours = texts.hours_floor(verdict.hours, write)
    return f"{verdict.word}: {hours} h from the worst start in {verdict.season}"


def _bought_again(option: PricedOption, write: Writer, over: str) -> str:
    found = option.pricing.replacements
    if not found:
        return f"nothing within {over}"
    return "; ".join(
        f"year {one.year + 1}: {one.item}, {write.money(one.sum.total, whole=True)} today"
        for one in found
    )


def price_table(pricing: Pricing, write: Writer, width: float) -> Table:
    """Return the priced lines under their headings, with sums."""
    heads = [
        say("", HEAD),
        say("Quantity", HEAD_NUMBER),
        say("", HEAD),
        say(f"Each, {pricing.currency}", HEAD_NUMBER),
        say(f"Sum, {pricing.currency}", HEAD_NUMBER),
    ]
    rows: list[list[Cell]] = [list(heads)]
    extra: list[tuple[object, ...]] = []
    for heading, lines in pricing.first.by_heading():
        place = len(rows)
        rows.append([say(heading, STRONG_CELL), "", "", "", ""])
        extra += [
            ("TOPPADDING", (0, place), (-1, place), 7),
            ("NOSPLIT", (0, place), (-1, place + 1)),
        ]
        for line in lines:
            rows.append(
                [
                    say(line.item, CELL),
                    say(write.plain(line.quantity, 2), NUMBER),
                    say(line.unit, CELL),
                    say(write.price(line.price_each), NUMBER),
                    say(write.amount(line.amount), NUMBER),
                ]
            )
    first = len(rows)
    rows += sum_rows(pricing, pricing.first, write)
    extra.append(("LINEABOVE", (0, first), (-1, first), 0.7, INK))
    extra.append(("NOSPLIT", (0, first - 1), (-1, len(rows) - 1)))
    extra.append(("LINEABOVE", (0, len(rows) - 1), (-1, len(rows) - 1), 0.7, INK))
    widths = [width - 210, 50, 24, 66, 70]
    return ruled(rows, widths, extra=extra)


def sum_rows(pricing: Pricing, found: Sum, write: Writer) -> list[list[Cell]]:
    """Return sum, markup, tax and total as rows."""

    def row(name: str, amount: str, rate: str = "", strong: bool = False) -> list[Cell]:
        text, number = (STRONG_CELL, STRONG_NUMBER) if strong else (CELL, NUMBER)
        return [say(name, text), "", "", say(rate, number), say(amount, number)]

    rows = [row("Sum before tax", write.amount(found.net))]
    if found.markup:
        rows.append(row("Markup", write.amount(found.markup), write.share(pricing.markup_rate)))
    rows.append(row("Tax", write.amount(found.tax), write.share(pricing.tax_rate)))
    rows.append(row("To pay", write.amount(found.total), strong=True))
    return rows


def plan_table(pricing: Pricing, write: Writer, width: float) -> Table:
    """Return the payment plan."""
    rows: list[list[Cell]] = [
        [say("", HEAD), say("Share", HEAD_NUMBER), say(f"Sum, {pricing.currency}", HEAD_NUMBER)]
    ]
    for due in pricing.plan:
        share, amount = write.share(due.share), write.amount(due.amount)
        rows.append([say(due.when, CELL), say(share, NUMBER), say(amount, NUMBER)])
    return ruled(rows, [width - 136, 66, 70])


def later_table(quote: Quote, option: PricedOption, write: Writer, width: float) -> Table:
    """Return what is bought again within the horizon, at today's prices."""
    currency = option.pricing.currency
    rows: list[list[Cell]] = [
        [say("", HEAD), say("When", HEAD), say(f"Today, {currency}", HEAD_NUMBER)]
    ]
    for one in option.pricing.replacements:
        parts = "; ".join(
            f"{write.plain(line.quantity, 2)} {line.unit or '×'} {line.item}"
            for line in one.sum.lines
        )
        when = texts.replacement_year(quote, one.year, write)
        rows.append([say(parts, CELL), say(when, CELL), say(write.amount(one.sum.total), NUMBER)])
    return ruled(rows, [width - 220, 150, 70])


def figures_table(found: dict[Topic, list[Figure]], write: Writer, width: float) -> Table:
    """Return the figures of the electrical sheet: what, how much, how it follows, from where."""
    rows: list[list[Cell]] = [
        [
            say("", HEAD),
            say("Value", HEAD_NUMBER),
            say("Unit", HEAD),
            say("Formula and inputs", HEAD),
            say("Source", HEAD),
        ]
    ]
    extra: list[tuple[object, ...]] = []
    for topic, figures in found.items():
        place = len(rows)
        rows.append([say(topic, STRONG_CELL), "", "", "", ""])
        extra += [
            ("TOPPADDING", (0, place), (-1, place), 7),
            ("NOSPLIT", (0, place), (-1, place + 1)),
        ]
        for figure in figures:
            if isinstance(figure.value, str):
                last = 2 if figure.formula else 3
                extra.append(("SPAN", (1, len(rows)), (last, len(rows))))
            rows.append(_figure_row(figure, write))
    rest = width - 52 - 38
    widths = [rest * 0.38, 52, 38, rest * 0.34, rest * 0.28]
    return ruled(rows, widths, extra=extra, tight=True)


def _figure_row(figure: Figure, write: Writer) -> list[Cell]:
    name, source = [say(figure.name, SMALL_CELL)], say(figure.source, SMALL_SOFT)
    remark = f"{texts.verdict_word(figure)} {figure.remark}".strip()
    below = [say(remark, SMALL_SOFT)] if remark else []
    if isinstance(figure.value, str) and not figure.formula:
        return [name, [say(texts.value(figure, write), SMALL_CELL), *below], "", "", source]
    how = [say(figure.formula, SMALL_CELL)] if figure.formula else []
    if figure.inputs:
        how.append(say(texts.inputs(figure, write), SMALL_SOFT))
    if isinstance(figure.value, str):
        return [[*name, *below], say(figure.value, SMALL_CELL), "", how, source]
    number, unit = say(texts.value(figure, write), SMALL_NUMBER), say(figure.unit, SMALL_SOFT)
    return [[*name, *below], number, unit, how, source]


def kept_table(quote: Quote, found: Handover, write: Writer, width: float) -> Table:
    """Return what stays on, tier by tier, with what it takes a day in each season."""
    seasons = [season.name for season in quote.job.site.seasons]
    rows: list[list[Cell]] = [
        [
            say("", HEAD),
            say("", HEAD),
            *(say(f"kWh a day, {name}", HEAD_NUMBER) for name in seasons),
        ]
    ]
    for kept in found.kept:
        count = f"{kept.count} × " if kept.count > 1 else ""
        energies = [say(write.number(energy, 2), NUMBER) for energy in kept.kwh_day]
        rows.append([say(f"{count}{kept.load}", CELL), say(kept.tier, SMALL_SOFT), *energies])
    each = min(84.0, (width * 0.5) / len(seasons))
    extra = [("TOPPADDING", (1, 1), (1, -1), 4.1)]  # small print on one line with the rest
    widths = [width - 80 - each * len(seasons), 80, *([each] * len(seasons))]
    return ruled(rows, widths, extra=extra)


def seasons_table(found: Handover, write: Writer, width: float) -> Table:
    """Return the hours of each season, new and in the last year, all on and first tier alone."""
    last = f"year {found.last_year + 1}"
    heads = ["everything, year 1", f"everything, {last}"]
    heads += [f"{found.first_tier} alone, year 1", f"{found.first_tier} alone, {last}"]
    rows: list[list[Cell]] = [
        [say("Hours from the worst start", HEAD), *(say(head, HEAD_NUMBER) for head in heads)]
    ]
    for one in found.seasons:
        values = (one.new, one.last, one.first_tier_new, one.first_tier_last)
        numbers = [say(texts.hours_short(hours, write), NUMBER) for hours in values]
        rows.append([say(one.season, CELL), *numbers])
    each = 84.0
    return ruled(rows, [width - 4 * each, *([each] * 4)])


def parts_table(quote: Quote, found: Handover, write: Writer, width: float) -> Table:
    """Return when each part is due and what to set aside for it."""
    currency = quote.job.site.currency
    rows: list[list[Cell]] = [
        [
            say("", HEAD),
            say("Due", HEAD),
            say(f"Today, {currency}", HEAD_NUMBER),
            say(f"A month, {currency}", HEAD_NUMBER),
        ]
    ]
    for part in found.parts:
        rows.append(
            [
                say(part.part, CELL),
                say(write.day(part.due), CELL),
                say(write.amount(part.amount), NUMBER),
                say(write.amount(part.monthly), NUMBER),
            ]
        )
    rows.append(
        [say("To set aside", STRONG_CELL), "", "", say(write.amount(found.monthly), STRONG_NUMBER)]
    )
    return ruled(rows, [width - 230, 80, 76, 74])


def log_table(width: float, lines: int = 10) -> Table:
    """Return an empty log for the yearly tests."""
    heads = ["Date", "Meter before", "Meter after", "kWh", "Charge before, %", "After, %", "Signed"]
    rows: list[list[Cell]] = [[say(head, HEAD) for head in heads]]
    rows += [[""] * len(heads) for _ in range(lines)]
    extra = [("BOTTOMPADDING", (0, 1), (-1, -1), 14)]
    return ruled(rows, [width / len(heads)] * len(heads), extra=extra)
