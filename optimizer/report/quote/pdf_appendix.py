"""The appendix of the PDF: families against each other, and what would change the answer."""

from collections.abc import Iterator, Sequence
from typing import Any

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, PageBreak, Spacer

from optimizer.quote import Quote
from optimizer.quote.appendix import Appendix
from optimizer.report.charts.break_even_line import break_even_chart
from optimizer.report.charts.paid import paid_chart
from optimizer.report.charts.sensitivity import moving, sensitivity_chart
from optimizer.report.charts.staircase import staircase_chart
from optimizer.report.charts.tiers import tiers_chart
from optimizer.report.grids import switch_points, tiers
from optimizer.report.grids.grid import Grid
from optimizer.report.quote import appendix_grids as grids
from optimizer.report.quote import pdf_style as look
from optimizer.report.quote.pdf_document import Paper
from optimizer.report.quote.pdf_style import say
from optimizer.report.words import appendix as words
from optimizer.report.words import comparison

#: These begin on a page that has room for their drawing and table [points].
_TURNING_HIGH, _SENSITIVITIES_HIGH = 480.0, 400.0
#: Heights of plots, of one with a page to itself, and of a bar with its room [points].
_HIGH, _BUDGET_HIGH, _BAR_HIGH = 126.0, 160.0, 15.0


def appendix(quote: Quote, found: Appendix, paper: Paper) -> Iterator[Flowable]:
    """Yield the pages of the appendix."""
    yield PageBreak()
    yield from _sides(found, paper, words.beside_the_offer(paper.write, quote))
    if found.switch_points:
        yield CondPageBreak(_TURNING_HIGH)
        yield from _turning(found, paper)
    if moving(found.sensitivities):
        yield CondPageBreak(_SENSITIVITIES_HIGH)
        yield from _sensitivities(found, paper)
    if len(found.tier_costs.curves) > 1:  # one tier is the curve of the first page
        yield from _tiers(found, paper)
    yield PageBreak()
    yield from _budget(found, paper)


def _noted(grid: Grid, paper: Paper, **how: Any) -> list[Flowable]:  # noqa: ANN401 - passed on
    """Return a grid with its notes below it."""
    table = paper.table(grid, is_small=True, **how)
    return [Spacer(0, 4), table, *(say(note, look.NOTE) for note in grid.notes)]


def _sides(found: Appendix, paper: Paper, told: Sequence[str]) -> Iterator[Flowable]:
    write, compared = paper.write, found.comparison
    yield say(words.title(write, found.families), look.TITLE)
    yield say(comparison.verdict(write, compared), look.LEAD_IN)
    for sentence in words.reasons(write, compared):
        yield say(sentence, look.BODY)
    for sentence in told:
        yield say(sentence, look.NOTE)
    yield Spacer(0, 2)
    sides = grids.side_by_side_short(write, found)
    yield paper.table(sides, soft=frozenset({sides.columns[0].key}), has_names=True)
    paid = grids.paid_short(write, found)
    chart = paper.chart(paid_chart(compared, paper.canvas(_HIGH)))
    yield KeepTogether([say(paid.title, look.SECTION), chart, *_noted(paid, paper)])
    if len(compared.chemistries) > 1:
        chemistries = grids.chemistries_short(write, found)
        yield KeepTogether([say(chemistries.title, look.SECTION), *_noted(chemistries, paper)])


def _turning(found: Appendix, paper: Paper) -> Iterator[Flowable]:
    write, line = paper.write, found.break_even_line
    yield say(write.say("What would turn it"), look.TITLE_BELOW)
    for sentence in words.turns(write, found.switch_points, found.comparison):
        yield say(sentence, look.LEAD_IN)
    grid = switch_points.switch_points(write, found.switch_points)
    yield from _noted(grid, paper, soft=frozenset({"range"}))
    yield say(words.jumps(write), look.NOTE)
    if line is not None:
        drawing: list[Flowable] = []
        if any(point.factor is not None for point in line.points):
            chart = paper.chart(break_even_chart(line, paper.canvas(_HIGH)))
            drawing = [chart, Spacer(0, 3)]
        said = [say(text, look.BODY) for text in words.break_even(write, line, found.families)]
        heading = say(words.break_even_title(write, line), look.SECTION)
        yield KeepTogether([heading, *drawing, *said])


def _sensitivities(found: Appendix, paper: Paper) -> Iterator[Flowable]:
    write = paper.write
    bars = _BAR_HIGH * len(moving(found.sensitivities))
    yield say(write.say("What moves the cost, one number at a time"), look.TITLE_BELOW)
    yield paper.chart(sensitivity_chart(found.sensitivities, paper.canvas(bars)))
    yield say(words.bars(write), look.NOTE)
    grid = grids.sensitivity_short(write, found)
    note = say(words.sensitivity_note(write, found.sensitivities), look.NOTE)
    yield KeepTogether([*_noted(grid, paper), note])


def _tiers(found: Appendix, paper: Paper) -> Iterator[Flowable]:
    write = paper.write
    grid = tiers.tiers(write, found.tier_costs, grids.hours_shown(found.tier_costs))
    chart = paper.chart(tiers_chart(found.tier_costs, paper.canvas(_HIGH)))
    title = write.say("Tier by tier: what it costs to keep more on")
    heading = say(words.alone(write, title, found.stairs.family), look.SECTION)
    note = say(words.tiers_note(write), look.NOTE)
    yield KeepTogether([heading, chart, *_noted(grid, paper), note])


def _budget(found: Appendix, paper: Paper) -> Iterator[Flowable]:
    write, stairs = paper.write, found.stairs
    title = write.say("What a budget buys")
    yield say(words.alone(write, title, stairs.family), look.TITLE)
    yield say(words.budget_note(write), look.BODY)
    yield paper.chart(staircase_chart(stairs, paper.canvas(_BUDGET_HIGH)))
    yield from _noted(grids.steps_short(write, found), paper, soft=frozenset({"replacements"}))
