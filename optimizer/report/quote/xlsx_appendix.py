"""The appendix as sheets of the workbook: every number behind its drawings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.report.grids import budgets, comparison, sensitivity, switch_points, tiers
from optimizer.report.quote import appendix_words as words
from optimizer.report.sheets import write_grid
from optimizer.report.words.switch_points import break_even

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.quote.appendix import Appendix
    from optimizer.report.grids.grid import Grid
    from optimizer.report.quote.xlsx import Book
    from optimizer.report.words.writer import Writer


def appendix_sheets(pen: Book, found: Appendix, write: Writer) -> None:
    """Add the sheets of the appendix to a workbook, one a table."""

    def sheet(name: str, grid: Grid, sentences: Sequence[str] = ()) -> None:
        page = pen.sheet(name, [])
        for row, sentence in enumerate(sentences):
            pen.write(page, row, 0, sentence, pen.plain)
        after = len(sentences) + 1 if sentences else 0
        end = write_grid(pen.book, page, grid, write, first_row=after)
        for row, note in enumerate(grid.notes, start=end + 1):
            pen.write(page, row, 0, note, pen.plain)

    said = [words.title(found, write), words.verdict(found, write), *words.reasons(found, write)]
    sheet("Appendix", comparison.side_by_side(write, found.comparison), said)
    sheet("Paid", comparison.paid(write, found.comparison))
    sheet("Chemistries", comparison.chemistries(write, found.comparison))
    if found.switch_points:
        turns = words.turns(found, write)
        sheet("What would turn it", switch_points.switch_points(write, found.switch_points), turns)
    line = found.break_even_line
    if line is not None:
        sheet("Break-even", switch_points.break_even_line(write, line), break_even(write, line))
    sheet("What moves it", sensitivity.one_at_a_time(write, found.sensitivities))
    sheet("Budget", budgets.steps(write, found.stairs))
    sheet("Tiers", tiers.tiers(write, found.tiers, found.tiers.landmarks))
