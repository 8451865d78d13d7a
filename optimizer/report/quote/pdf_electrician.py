"""The pages of the electrician's paper: cautions, each option's circuit, its record of tests."""

from collections.abc import Iterator, Sequence

from reportlab.platypus import Flowable, KeepTogether, PageBreak, Spacer

from optimizer.quote import PricedOption, Quote
from optimizer.report.grids import circuit, record_of_tests
from optimizer.report.quote import pdf_style as look
from optimizer.report.quote.pdf_circuit import LayoutDrawing
from optimizer.report.quote.pdf_document import Paper, quote_pdf
from optimizer.report.quote.pdf_pages import letterhead, section
from optimizer.report.quote.pdf_style import bulleted, say
from optimizer.report.words import electrical, letter
from optimizer.report.words import quote as words
from optimizer.report.words.design import inverter_set
from optimizer.report.words.warnings import supposed
from optimizer.report.words.writer import Writer

#: A line to be filled in by hand [points].
_LINE_HIGH = 20.0


def electrician_pdf(quote: Quote) -> bytes:
    """Return the electrician's paper."""
    return quote_pdf(quote, _story)


def _story(quote: Quote, paper: Paper) -> Iterator[Flowable]:
    """Yield what the electrician's paper holds, in order."""
    yield from _cautions(quote, paper)
    for option in quote.options:
        yield PageBreak()
        yield from _circuit(option, paper)
        yield from _record(option, paper)


def _cautions(quote: Quote, paper: Paper) -> Iterator[Flowable]:
    """Yield the page that comes before the circuits: each caution once."""
    write = paper.write
    told = electrical.cautions(write, quote.job.critical_loads)
    yield from letterhead(quote, paper)
    title = letter.title(write, quote.company)
    yield say(write.say("{title}: for the electrician", title=title), look.TITLE)
    for text in supposed(write, quote.job):
        yield say(text, look.NOTE)
    yield say(write.say("Before anybody connects anything"), look.SECTION)
    lines = [[told[one] for one in option.sheet.cautions] for option in quote.options]
    yield from bulleted(_once(quote, write, lines))
    yield say(write.say("Room and clearances"), look.SECTION)
    lines = []
    for option in quote.options:
        notes = electrical.room_notes(write, option.design)
        lines.append([notes[one] for one in option.sheet.room_notes])
    yield from bulleted(_once(quote, write, lines))
    legend = circuit.symbols(write)
    yield section(legend.title, paper.table(legend, is_small=True))


def _once(quote: Quote, write: Writer, found: Sequence[Sequence[str]]) -> Iterator[str]:
    """Yield lines of options once each, with the options they are for unless for all."""
    for line in dict.fromkeys(line for lines in found for line in lines):
        names = [
            words.option_name(write, option.design)
            for option, lines in zip(quote.options, found, strict=True)
            if line in lines
        ]
        if len(names) == len(found):
            yield line
        else:
            yield write.say("{line} (For {names:list}.)", line=line, names=names)


def _circuit(option: PricedOption, paper: Paper) -> Iterator[Flowable]:
    write, design = paper.write, option.design
    name = words.option_name(write, design)
    yield say(write.say("Electrical sheet: {name}", name=name), look.TITLE)
    yield say(
        write.say(
            "For whoever connects it, after the cautions. Every figure with formula, inputs, "
            "source."
        ),
        look.BODY,
    )
    yield LayoutDrawing(option.sheet.circuit, inverter_set(write, design), paper)
    yield Spacer(0, 8)
    parts = circuit.circuit(write, option.sheet.circuit)
    currents = circuit.currents(write, option.sheet)
    yield paper.table(parts, is_small=True, soft=frozenset({"unit"}))
    notes = [say(note, look.NOTE) for note in currents.notes]
    yield section(currents.title, paper.table(currents, is_small=True), *notes)
    yield paper.table(
        circuit.figures(write, option.sheet),
        is_small=True,
        below={"meaning": "figure", "inputs": "formula"},
        soft=frozenset({"unit", "source"}),
    )


def _record(option: PricedOption, paper: Paper) -> Iterator[Flowable]:
    """Yield the record of tests: below the figures where it has room, else on a page of its own."""
    write, design = paper.write, option.design
    name = words.option_name(write, design)
    tests, serials = record_of_tests.tests(write, design), record_of_tests.serials(write, design)
    told = write.say("Filled in before it is handed over; one copy stays with the household.")
    yield KeepTogether(
        [
            say(write.say("Test record: {name}", name=name), look.TITLE_BELOW),
            say(told, look.BODY),
            paper.table(tests, is_small=True, row_high=_LINE_HIGH),
            *(say(note, look.NOTE) for note in tests.notes),
            say(serials.title, look.SECTION),
            paper.table(serials, is_small=True, row_high=_LINE_HIGH),
        ]
    )
