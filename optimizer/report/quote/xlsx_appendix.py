"""The appendix as sheets of the workbook: every number behind its drawings."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from optimizer.report.quote import appendix_words as words
from optimizer.report.quote.texts import chemistry, localised
from optimizer.report.rivals_words import (
    cause_in_words,
    range_in_words,
    regions_in_words,
    value_in_words,
    winner_in_words,
)
from optimizer.report.words import plain
from optimizer.report.words.charts import family

if TYPE_CHECKING:
    from collections.abc import Sequence

    from xlsxwriter.worksheet import Worksheet

    from optimizer.quote.appendix import Appendix
    from optimizer.report.quote.xlsx import Book
    from optimizer.report.words.writer import Writer


def appendix_sheets(pen: Book, found: Appendix, write: Writer) -> None:
    """Add the sheets of the appendix to a workbook."""
    _sides(pen, found, write)
    if found.switch_points:
        _turning(pen, found, write)
    _sensitivities(pen, found, write)
    _budget(pen, found, write)
    _tiers(pen, found, write)


def _rows(
    pen: Book, sheet: Worksheet, row: int, heads: Sequence[str], rows: Sequence[Sequence[object]]
) -> int:
    """Write headings and rows, numbers as numbers, and return the row after them."""
    numbers = {
        column
        for column in range(len(heads))
        if any(isinstance(cells[column], int | float) for cells in rows)
    }
    pen.heads(sheet, row, list(heads), numbers)
    for cells in rows:
        row += 1
        for column, cell in enumerate(cells):
            if isinstance(cell, int):
                sheet.write_number(row, column, cell, pen.quantity)
            elif isinstance(cell, float):
                if math.isfinite(cell):
                    sheet.write_number(row, column, round(cell, max(pen.decimals, 3)), pen.price)
            elif cell is not None:
                pen.write(sheet, row, column, str(cell), pen.text)
    return row + 1


def _sides(pen: Book, found: Appendix, write: Writer) -> None:
    comparison, site = found.comparison, found.comparison.job.site
    names = [family(write, one.name) for one in comparison.families]
    sheet = pen.sheet("Appendix", [34, *([30] * max(5, len(names)))])
    pen.write(sheet, 0, 0, words.title(found, write), pen.title)
    row = 1
    for sentence in [words.verdict(found, write), *words.reasons(found, write)]:
        pen.write(sheet, row, 0, sentence, pen.plain)
        row += 1
    row = _rows(
        pen,
        sheet,
        row + 1,
        ["", *names],
        [
            [name, *(cell(one) for one in comparison.families)]
            for name, cell in words.sides(found, write)
        ],
    )
    row = _rows(
        pen,
        sheet,
        row + 1,
        [f"Paid by then, {site.currency} of today", *names],
        [
            ["start" if not year else f"after year {year}"]
            + [one.balances[year].real for one in comparison.families]
            for year in range(site.horizon_years + 1)
        ]
        + [["residual value at the end", *(-one.residual_value for one in comparison.families)]],
    )
    over = words.lifetime(write, site.horizon_years)
    _rows(
        pen,
        sheet,
        row + 1,
        ["Chemistry", f"{over}, {site.currency}", f"At the start, {site.currency}", "Hours",
         "Mass, kg", "Bank"],
        [
            [
                chemistry(one.name),
                one.design.life_cycle_cost,
                one.design.upfront_cost,
                one.design.hours,
                one.mass_kg,
                f"{one.design.banks[0].battery.battery}, {one.design.banks[0].series} × "
                f"{one.design.banks[0].strings}, {one.design.voltage_v} V",
            ]
            for one in comparison.chemistries
        ],
    )  # fmt: skip


def _turning(pen: Book, found: Appendix, write: Writer) -> None:
    sheet = pen.sheet("What would turn it", [34, 16, 28, 60])
    pen.write(sheet, 0, 0, words.turns(found, write), pen.plain)
    row = _rows(
        pen,
        sheet,
        2,
        ["", "Now", "Looked through", "Who wins"],
        [
            [
                words.spoken(one.parameter.name, found, write),
                localised(value_in_words(one.parameter, one.parameter.base), write),
                localised(range_in_words(one.parameter), write),
                words.spoken(regions_in_words(one), found, write),
            ]
            for one in found.switch_points
        ],
    )
    if found.break_even_line is None:
        return
    across, priced = (
        found.break_even_line.across,
        family(write, found.break_even_line.priced),
    )
    pen.write(sheet, row + 1, 0, words.break_even_line(found, write), pen.plain)
    share = across.unit == "%"
    _rows(
        pen,
        sheet,
        row + 2,
        [
            plain(across.name) + (f", {across.unit}" if across.unit else ""),
            f"Price of {priced} against today's, %",
            "Who wins",
        ],
        [
            [
                float(point.value * 100 if share else point.value),
                None if point.factor is None else (point.factor - 1) * 100,
                f"{priced} below this price"
                if point.always is None
                else f"{family(write, point.always)} at any price tried",
            ]
            for point in found.break_even_line.points
        ],
    )


def _sensitivities(pen: Book, found: Appendix, write: Writer) -> None:
    site = found.comparison.job.site
    sheet = pen.sheet("What moves it", [34, 18, 14, 10, 14, 18, 14, 10, 14])
    over = words.lifetime(write, site.horizon_years).lower()
    note = (
        f"Cost {over}, {site.currency}, of {found.hours} h; hours that "
        f"{write.number(math.ceil(found.sensitivities.budget))} {site.currency} at the start buys."
    )
    pen.write(sheet, 0, 0, note, pen.plain)
    side = ["Cost", "Hours", "Wins"]
    rows: list[list[object]] = []
    for sensitivity in found.sensitivities.sensitivities:
        cells: list[object] = [words.spoken(sensitivity.parameter.name, found, write)]
        for one in (sensitivity.low, sensitivity.high):
            value = localised(value_in_words(sensitivity.parameter, one.value), write)
            wins = words.spoken(winner_in_words(one.winner), found, write)
            cells += [value, one.cost, one.hours, wins]
        rows.append(cells)
    _rows(pen, sheet, 2, ["", "Lower value", *side, "Higher value", *side], rows)


def _budget(pen: Book, found: Appendix, write: Writer) -> None:
    currency = found.comparison.job.site.currency
    sheet = pen.sheet("Budget", [18, 10, 22, 24, 50, 30, 60])
    _rows(
        pen,
        sheet,
        0,
        [f"From, {currency} at the start", "Hours", "Each of its hours", f"Over the years, "
         f"{currency}", "Bank; inverter set", "What made the step", f"Bought later, {currency}"],
        [
            [
                step.budget,
                step.hours,
                step.price_of_hour,
                step.design.life_cycle_cost,
                words.bank_of(step),
                cause_in_words(step.cause),
                words.later(step.later, write) or "none",
            ]
            for step in found.stairs.steps
        ],
    )  # fmt: skip


def _tiers(pen: Book, found: Appendix, write: Writer) -> None:
    tiers, site = found.tiers, found.comparison.job.site
    sheet = pen.sheet("Tiers", [12, *([22] * (2 * len(tiers.curves)))])
    over = words.lifetime(write, site.horizon_years).lower()
    pen.write(sheet, 0, 0, f"Cost {over}, {site.currency}, tier by tier", pen.plain)
    rows: list[list[object]] = []
    for hours in sorted({*tiers.landmarks, site.target_hours}):
        cells: list[object] = [hours]
        for place, cost in enumerate(tiers.at(hours)):
            cells += [cost.cost, cost.extra] if place else [cost.cost]
        rows.append(cells)
    heads = ["Hours"]
    for place, one in enumerate(tiers.curves):
        name = plain(one.added)
        heads += [f"with {name}", "more by"] if place else [f"{name} alone"]
    _rows(pen, sheet, 2, heads, rows)
