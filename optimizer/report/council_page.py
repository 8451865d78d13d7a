"""One page for those who decide on a programme: what each budget does, and for whom."""

from collections.abc import Iterator
from typing import Final

from reportlab.platypus import Flowable

from optimizer.programme.answers import AllotAnswer
from optimizer.report.charts.allotment import allotment_chart
from optimizer.report.grids import allotment as grids
from optimizer.report.quote import pdf_style as look
from optimizer.report.quote.pdf_document import Paper, document
from optimizer.report.quote.pdf_style import PdfWriter, say
from optimizer.report.words import allotment as told
from optimizer.report.words import council as words
from optimizer.report.words import notes
from optimizer.report.words.refusals import refusals
from optimizer.report.words.writer import Writer

#: Sites named in a row at most, and the height of the chart's plot [points]: the first pair that
#: leaves all on one page, the last however it comes. A lower plot before fewer than nine names.
_ROOM: Final = (
    *((named, 84.0) for named in (24, 16, 12, 9)),
    *((named, 56.0) for named in (9, 6, 3, 1)),
)
#: Of the sites that need a second source so many times as many are named.
_CRITICAL: Final = 3


def council_pdf(answer: AllotAnswer, write: Writer) -> bytes:
    """Return the page, of two or three budgets best; the same answer gives the same bytes.

    As many sites are named as one page has room for.
    """
    own = PdfWriter(write.currency, str(write.locale))
    sheets: list[Paper] = []

    def story(sheet: Paper) -> Iterator[Flowable]:
        sheets.append(sheet)
        return _story(answer, sheet, *_ROOM[len(sheets) - 1])

    while True:
        made = document(
            own,
            story,
            title=words.title(own, answer),
            author="",
            subject=own.say("What each budget does, and for whom"),
        )
        if sheets[-1].pages == 1 or len(sheets) == len(_ROOM):
            return made


def _story(answer: AllotAnswer, sheet: Paper, named: int, high: float) -> Iterator[Flowable]:
    write, first = sheet.write, answer.answers[0]
    yield say(words.title(write, answer), look.TITLE)
    lead = [words.lead(write, answer), *words.terms(write, first.allotment)]
    yield say(" ".join(lead), look.LEAD_IN)
    budgets = grids.budgets(write, answer)
    yield sheet.table(budgets)
    yield say(" ".join(budgets.notes), look.NOTE)
    for text in refusals(write, answer.refused):
        yield say(text, look.TIGHT)
    yield say(" ".join(words.steps(write, answer)), look.TIGHT)
    yield say(told.curve_heading(write, answer)[0], look.SECTION)
    yield sheet.chart(allotment_chart(answer, sheet.canvas(high)))
    yield say(write.say("By group"), look.SECTION)
    yield sheet.table(grids.groups_by_budget(write, answer), is_small=True)
    yield say(write.say("Who gets equipment, and for how many hours"), look.SECTION)
    yield sheet.table(grids.added(write, answer, named), is_small=True)
    yield say(write.say("Later, and how sure this is"), look.SECTION)
    yield say(words.later(write, answer), look.TIGHT)
    yield say(" ".join(words.sureness(write, answer)), look.TIGHT)
    yield say(" ".join(told.critical(write, first.allotment, _CRITICAL * named)), look.TIGHT)
    for text in (words.left_out(write, answer), notes.caution(write)):
        if text:
            yield say(text, look.NOTE)
