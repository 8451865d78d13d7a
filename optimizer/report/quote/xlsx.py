"""A quote as a workbook: sums are formulas, and their values are stored beside them."""

from __future__ import annotations

import io
from datetime import datetime
from typing import TYPE_CHECKING

from xlsxwriter import Workbook

from optimizer.formulas.rounding import minor_units
from optimizer.inputs.neutral import neutralised
from optimizer.report.quote import texts
from optimizer.report.quote.xlsx_appendix import appendix_sheets

if TYPE_CHECKING:
    from decimal import Decimal

    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

    from optimizer.quote import PricedOption, Quote
    from optimizer.quote.lines import Sum

_INK, _QUIET = "#22262e", "#e7e3d8"
#: A spreadsheet's longest name of a sheet.
_SHEET_NAME = 31


class Book:
    """The workbook with its formats, and one pen: where the next row goes."""

    def __init__(self, quote: Quote) -> None:
        self.buffer = io.BytesIO()
        self.book = Workbook(self.buffer, {"in_memory": True, "strings_to_formulas": False})
        created = datetime(quote.day.year, quote.day.month, quote.day.day)
        self.book.set_properties({"title": texts.title(quote), "created": created})
        decimals = minor_units(quote.job.site.currency)
        money = "#,##0" + ("." + "0" * decimals if decimals else "")
        self.decimals = decimals
        ink = {"font_color": _INK, "valign": "top"}
        self.text = self.book.add_format({**ink, "text_wrap": True})
        self.plain = self.book.add_format(ink)
        self.title = self.book.add_format({**ink, "bold": True, "font_size": 15})
        self.head = self.book.add_format({**ink, "bold": True, "bottom": 1, "text_wrap": True})
        self.head_right = self.book.add_format(
            {**ink, "bold": True, "bottom": 1, "align": "right", "text_wrap": True}
        )
        self.bold = self.book.add_format({**ink, "bold": True})
        self.money = self.book.add_format({**ink, "num_format": money})
        self.price = self.book.add_format({**ink, "num_format": "#,##0.00###"})
        self.strong = self.book.add_format({**ink, "num_format": money, "bold": True, "top": 1})
        self.strong_text = self.book.add_format({**ink, "bold": True, "top": 1})
        self.quantity = self.book.add_format({**ink, "num_format": "#,##0.###"})
        self.share = self.book.add_format({**ink, "num_format": "0.##%"})

    def sheet(self, name: str, widths: list[float]) -> Worksheet:
        """Add a sheet with columns of these widths."""
        sheet = self.book.add_worksheet(name[:_SHEET_NAME])
        for column, width in enumerate(widths):
            sheet.set_column(column, column, width)
        sheet.set_paper(9)  # A4
        sheet.fit_to_pages(1, 0)
        sheet.hide_gridlines(2)
        return sheet

    def write(self, sheet: Worksheet, row: int, column: int, text: str, how: Format) -> None:
        """Write text, never a formula, whatever it begins with."""
        sheet.write_string(row, column, neutralised(text), how)

    def heads(self, sheet: Worksheet, row: int, names: list[str], numbers: set[int]) -> None:
        """Write headings, those of numbers to the right."""
        for column, name in enumerate(names):
            self.write(
                sheet, row, column, name, self.head_right if column in numbers else self.head
            )


def as_xlsx(quote: Quote) -> bytes:
    """Return a quote as a workbook for the customer."""
    pen = Book(quote)
    overview = pen.sheet("Options", [34, 14, 16, 16, 44, 60])
    totals = [_money_sheet(pen, quote, option) for option in quote.options]
    for option in quote.options:
        _electrical_sheet(pen, quote, option)
    for option in quote.options:
        _handover_sheet(pen, quote, option)
    if quote.appendix is not None:
        appendix_sheets(pen, quote.appendix, texts.writer_for(quote))
    _overview(pen, overview, quote, totals)
    pen.book.close()
    return pen.buffer.getvalue()


def installer_xlsx(quote: Quote) -> bytes:
    """Return the installer's own workbook: what each line costs, brings and leaves."""
    pen = Book(quote)
    for option in quote.options:
        sheet = pen.sheet(_name("Margin", option), [44, 26, 16, 12, 10, 12, 12, 12, 12, 10])
        names = ["Item", "Supplier", "Code", "Price of", "Quantity", "Cost each", "Cost"]
        names += ["Selling", "Margin", "Share"]
        pen.write(sheet, 0, 0, f"For the installer alone: {option.option.name}", pen.title)
        pen.heads(sheet, 2, names, set(range(4, 10)))
        row = 3
        for one in option.margins:
            line = one.line
            when = line.price_date.isoformat() if line.price_date else ""
            for column, text in enumerate((line.item, line.supplier, line.supplier_code, when)):
                pen.write(sheet, row, column, text or "", pen.text)
            sheet.write_number(row, 4, float(line.quantity), pen.quantity)
            sheet.write_number(row, 5, float(line.cost_each), pen.price)
            cost = f"=ROUND(E{row + 1}*F{row + 1},{pen.decimals})"
            sheet.write_formula(row, 6, cost, pen.money, float(one.cost))
            sheet.write_number(row, 7, float(one.selling), pen.money)
            sheet.write_formula(row, 8, f"=H{row + 1}-G{row + 1}", pen.money, float(one.margin))
            share = f"=IF(H{row + 1}=0,0,I{row + 1}/H{row + 1})"
            sheet.write_formula(row, 9, share, pen.share, float(one.share))
            row += 1
        pen.write(sheet, row, 0, "In all, before tax", pen.strong_text)
        sums = (
            sum(float(one.cost) for one in option.margins),
            sum(float(one.selling) for one in option.margins),
            sum(float(one.margin) for one in option.margins),
        )
        for column, letter, value in zip((6, 7, 8), "GHI", sums, strict=True):
            formula = f"=SUM({letter}4:{letter}{row})"
            sheet.write_formula(row, column, formula, pen.strong, round(value, pen.decimals))
    pen.book.close()
    return pen.buffer.getvalue()


def _name(kind: str, option: PricedOption) -> str:
    return f"{kind} {option.option.design.hours} h"


def _overview(pen: Book, sheet: Worksheet, quote: Quote, totals: list[str]) -> None:
    write = texts.writer_for(quote)
    site = quote.job.site
    pen.write(sheet, 0, 0, f"{texts.title(quote)}: {site.name}", pen.title)
    facts = [quote.company.name, quote.company.customer]
    facts += [f"{write.day(quote.day)}, valid until {write.day(quote.valid_until)}"]
    row = 1
    for fact in (fact for fact in facts if fact):
        pen.write(sheet, row, 0, fact, pen.text)
        row += 1
    row += 1
    years = f"Over {site.horizon_in_words}, {site.currency}"
    names = ["Option", "Hours", f"Total, {site.currency}", years, "Bank and inverter", "Why"]
    pen.heads(sheet, row, names, {1, 2, 3})
    for option, reference in zip(quote.options, totals, strict=True):
        row += 1
        design = option.option.design
        pen.write(sheet, row, 0, option.option.name, pen.bold)
        sheet.write_number(row, 1, design.hours, pen.quantity)
        sheet.write_formula(row, 2, reference, pen.money, float(option.pricing.total))
        sheet.write_number(row, 3, round(design.life_cycle_cost, pen.decimals), pen.money)
        what = f"{texts.bank(option)} behind {texts.inverter_set(option)}"
        pen.write(sheet, row, 4, what, pen.text)
        opinion = texts.second_opinion(option.option.verdict, write)
        pen.write(sheet, row, 5, f"{option.option.why}. {opinion}", pen.text)
    row += 2
    for heading, lines in (
        ("Notes", quote.notes),
        ("Not included", quote.not_included),
        ("Terms", quote.company.terms),
    ):
        if lines:
            pen.write(sheet, row, 0, heading, pen.bold)
            for line in lines:
                row += 1
                sheet.merge_range(row, 0, row, 5, neutralised(line), pen.text)
            row += 2


def _money_sheet(pen: Book, quote: Quote, option: PricedOption) -> str:
    """Write one option's money; return the formula that points at its total."""
    write, pricing = texts.writer_for(quote), option.pricing
    name = _name("Price", option)
    sheet = pen.sheet(name, [52, 12, 8, 14, 16])
    pen.write(sheet, 0, 0, option.option.name, pen.title)
    pen.write(sheet, 1, 0, option.option.why, pen.text)
    names = ["Item", "Quantity", "Unit", f"Each, {pricing.currency}", f"Sum, {pricing.currency}"]
    pen.heads(sheet, 3, names, {1, 3, 4})
    row, total_row = _sum_rows(pen, sheet, 4, pricing.first, option)
    if pricing.plan:
        row += 1
        pen.write(sheet, row, 0, "To pay", pen.bold)
        first = row + 1
        for place, due in enumerate(pricing.plan):
            row += 1
            pen.write(sheet, row, 0, due.when, pen.text)
            sheet.write_number(row, 3, float(due.share), pen.share)
            if place == len(pricing.plan) - 1:  # the last takes what rounding leaves
                rest = f"-SUM(E{first + 1}:E{row})" if row > first else ""
                formula = f"=E{total_row + 1}{rest}"
            else:
                formula = f"=ROUND(E{total_row + 1}*D{row + 1},{pen.decimals})"
            sheet.write_formula(row, 4, formula, pen.money, float(due.amount))
        row += 1
    for one in pricing.replacements:
        row += 1
        when = texts.replacement_year(quote, one.year, write)
        pen.write(sheet, row, 0, f"Later, {when}, at today's prices: {one.item}", pen.bold)
        row, _ = _sum_rows(pen, sheet, row + 1, one.sum, option)
    row += 1
    for note in (
        texts.rounding(option, write),
        *(texts.old_price(item, write.day(day)) for item, day in option.old_prices),
    ):
        sheet.merge_range(row, 0, row, 4, neutralised(note), pen.text)
        sheet.set_row(row, 32)
        row += 1
    return f"='{name}'!E{total_row + 1}"


def _sum_rows(
    pen: Book, sheet: Worksheet, row: int, found: Sum, option: PricedOption
) -> tuple[int, int]:
    """Write lines and their sums from a row on; return the next row and that of the total."""
    pricing, first = option.pricing, row
    for line in found.lines:
        pen.write(sheet, row, 0, line.item, pen.text)
        sheet.write_number(row, 1, float(line.quantity), pen.quantity)
        pen.write(sheet, row, 2, line.unit, pen.text)
        sheet.write_number(row, 3, float(line.price_each), pen.price)
        formula = f"=ROUND(B{row + 1}*D{row + 1},{pen.decimals})"
        sheet.write_formula(row, 4, formula, pen.money, float(line.amount))
        row += 1

    def total(name: str, formula: str, value: Decimal, rate: Decimal | None = None) -> int:
        nonlocal row
        strong = name == "Total"
        pen.write(sheet, row, 0, name, pen.strong_text if strong else pen.text)
        if rate is not None:
            sheet.write_number(row, 3, float(rate), pen.share)
        sheet.write_formula(row, 4, formula, pen.strong if strong else pen.money, float(value))
        row += 1
        return row - 1

    net = total("Sum before tax", f"=SUM(E{first + 1}:E{row})", found.net)
    parts = f"E{net + 1}"
    if not pricing.markup_spread and pricing.markup_rate:
        formula = f"=ROUND(E{net + 1}*D{row + 1},{pen.decimals})"
        markup = total("Markup", formula, found.markup, pricing.markup_rate)
        parts += f"+E{markup + 1}"
    formula = f"=ROUND(({parts})*D{row + 1},{pen.decimals})"
    tax = total("Tax", formula, found.tax, pricing.tax_rate)
    at = total("Total", f"={parts}+E{tax + 1}", found.total)
    return row, at


def _electrical_sheet(pen: Book, quote: Quote, option: PricedOption) -> None:
    write = texts.writer_for(quote)
    sheet = pen.sheet(_name("Electrical", option), [42, 22, 10, 34, 44, 44, 50])
    pen.write(sheet, 0, 0, f"Electrical sheet: {option.option.name}", pen.title)
    pen.heads(sheet, 2, ["Figure", "Value", "Unit", "Formula", "Inputs", "Source", "Remark"], {1})
    row = 3
    for topic, figures in option.sheet.by_topic().items():
        pen.write(sheet, row, 0, topic, pen.bold)
        row += 1
        for figure in figures:
            pen.write(sheet, row, 0, figure.name, pen.text)
            if isinstance(figure.value, str | tuple):
                pen.write(sheet, row, 1, texts.value(figure, write), pen.text)
            else:
                sheet.write_number(row, 1, round(figure.value, 4), pen.price)
            remark = f"{texts.verdict_word(figure)} {figure.remark}".strip()
            for column, text in enumerate(
                (figure.unit, figure.formula, texts.inputs(figure, write), figure.source, remark),
                start=2,
            ):
                pen.write(sheet, row, column, text, pen.text)
            row += 1
    for line in (*option.sheet.room_notes, *option.sheet.cautions):
        sheet.merge_range(row, 0, row, 6, neutralised(line), pen.text)
        row += 1


def _handover_sheet(pen: Book, quote: Quote, option: PricedOption) -> None:
    write, found = texts.writer_for(quote), option.handover
    sheet = pen.sheet(_name("Handing over", option), [46, 18, 18, 18, 18])
    pen.write(sheet, 0, 0, f"Handing over: {option.option.name}", pen.title)
    seasons = [season.season for season in found.seasons]
    pen.heads(sheet, 2, ["Stays on", *(f"kWh a day, {name}" for name in seasons)], {1, 2, 3, 4})
    row = 3
    for kept in found.kept:
        pen.write(sheet, row, 0, kept.load, pen.text)
        for column, energy in enumerate(kept.kwh_day, start=1):
            sheet.write_number(row, column, round(energy, 3), pen.price)
        row += 1
    row += 1
    last = f"year {found.last_year + 1}"
    heads = ["Hours from the worst start", "All, year 1", f"All, {last}"]
    heads += [f"{found.first_tier} alone, year 1", f"{found.first_tier} alone, {last}"]
    pen.heads(sheet, row, heads, {1, 2, 3, 4})
    for season in found.seasons:
        row += 1
        pen.write(sheet, row, 0, season.season, pen.text)
        hours = (season.new, season.last, season.first_tier_new, season.first_tier_last)
        for column, value in enumerate(hours, start=1):
            sheet.write_number(row, column, int(value * 10 + 1e-6) / 10, pen.price)
    row += 2
    pen.heads(sheet, row, ["kWh one outage may take", "Year 1", _capital(last)], {1, 2})
    row += 1
    sheet.write_number(row, 1, round(found.outage_kwh_new, 2), pen.price)
    sheet.write_number(row, 2, round(found.outage_kwh_last, 2), pen.price)
    row += 2
    steps = texts.test_steps(found.test, found.last_year + 1, write)
    for line in (texts.switch_off(found, write), *steps):
        sheet.merge_range(row, 0, row, 4, neutralised(line), pen.text)
        sheet.set_row(row, 32)
        row += 1
    row += 1
    currency = quote.job.site.currency
    heads = ["Part", "Due", f"Today, {currency}", f"A month, {currency}"]
    pen.heads(sheet, row, heads, {2, 3})
    first = row + 1
    for part in found.parts:
        row += 1
        pen.write(sheet, row, 0, part.part, pen.text)
        pen.write(sheet, row, 1, write.day(part.due), pen.text)
        sheet.write_number(row, 2, float(part.amount), pen.money)
        formula = f"=ROUND(C{row + 1}/{part.after_years * 12},{pen.decimals})"
        sheet.write_formula(row, 3, formula, pen.money, float(part.monthly))
    row += 1
    pen.write(sheet, row, 0, "To set aside each month", pen.strong_text)
    formula = f"=SUM(D{first + 1}:D{row})"
    sheet.write_formula(row, 3, formula, pen.strong, float(found.monthly))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
