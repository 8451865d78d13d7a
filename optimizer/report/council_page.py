"""One page for those who decide on a programme: what each budget does, and for whom."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.report.charts.allotment import allotment_chart
from optimizer.report.grids import allotment as grids
from optimizer.report.quote.pdf_document import document
from optimizer.report.quote.pdf_style import (
    LEAD_IN,
    NOTE,
    SECTION,
    TIGHT,
    TITLE,
    PdfWriter,
    say,
)
from optimizer.report.words import allotment as told
from optimizer.report.words import council as words
from optimizer.report.words import notes

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reportlab.platypus import Flowable

    from optimizer.programme.answers import AllotAnswer
    from optimizer.report.quote.pdf_paper import Paper
    from optimizer.report.words.writer import Writer

#: Height of the chart's plot [points].
_HIGH: Final = 105.0


def council_pdf(answer: AllotAnswer, write: Writer) -> bytes:
    """Return the page; the same answer gives the same bytes.

    Parameters
    ----------
    answer : AllotAnswer
        From `optimizer.programme.answers.allot_answer`, best of two or three budgets.
    write : Writer
        Of its currency and language.
    """
    own = PdfWriter(write.currency, str(write.locale))
    return document(
        own,
        lambda sheet: _story(answer, sheet),
        title=words.title(own, answer),
        author="",
        subject=own.say("What each budget does, and for whom"),
    )


def _story(answer: AllotAnswer, sheet: Paper) -> Iterator[Flowable]:
    write, first = sheet.write, answer.answers[0]
    yield say(words.title(write, answer), TITLE)
    lead = [words.lead(write, answer), *words.terms(write, first.allotment)]
    yield say(" ".join(lead), LEAD_IN)
    budgets = grids.budgets(write, answer)
    yield sheet.table(budgets)
    yield say(" ".join(budgets.notes), NOTE)
    yield say(told.curve_heading(write, answer)[0], SECTION)
    yield sheet.chart(allotment_chart(answer, sheet.canvas(_HIGH)))
    yield say(write.say("By group"), SECTION)
    yield sheet.table(grids.groups_by_budget(write, answer), is_small=True)
    yield say(write.say("Who gets equipment, and for how many hours"), SECTION)
    yield sheet.table(grids.added(write, answer), is_small=True)
    yield say(write.say("Later, and how sure this is"), SECTION)
    yield say(words.later(write, answer), TIGHT)
    yield say(" ".join(words.sureness(write, answer)), TIGHT)
    for text in (words.left_out(write, answer), notes.caution(write)):
        if text:
            yield say(text, NOTE)
