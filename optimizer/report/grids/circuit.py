"""The tables of the electrical sheet: the circuit's parts, the bank's currents, every figure."""

from itertools import zip_longest
from typing import Final

from optimizer.quote.circuit import Circuit
from optimizer.quote.electrical import Sheet
from optimizer.quote.figures import Figure, FigureKind, State
from optimizer.report.grids.grid import Column, Grid, Kind, Row
from optimizer.report.words import circuit as words
from optimizer.report.words import electrical, figure_notes
from optimizer.report.words import figures as figure_words
from optimizer.report.words.writer import Writer

#: What is drawn from a bank or flows into it, in the order of the table.
_CURRENTS: Final = (
    FigureKind.RUNNING_CURRENT,
    FigureKind.START_CURRENT,
    FigureKind.LARGEST_CURRENT,
    FigureKind.CHARGING_CURRENT,
    FigureKind.SHORT_CIRCUIT,
)


def circuit(write: Writer, found: Circuit) -> Grid:
    """Return the parts from the cells to the loads: how many, rated for what, how far settled."""
    columns = [
        Column("part", write.say("Part")),
        Column("quantity", write.say("Quantity"), Kind.FIGURE, is_short=True),
        Column("unit", write.say("Unit")),
        Column("rating", write.say("Rating"), is_short=True),
        Column("state", write.say("State")),
        Column("offered", write.say("Price")),
    ]
    rows: list[Row] = [
        [
            words.named(write, part),
            part.quantity,
            part.unit,
            words.rating(write, part),
            write.say(electrical.STATES[part.state].english),
            write.say(words.OFFERED[part.offered].english),
        ]
        for part in found.parts
    ]
    return Grid("circuit", write.say("Circuit, from the cells to the loads"), columns, rows)


def currents(write: Writer, sheet: Sheet) -> Grid:
    """Return the currents of the bank beside what bounds each of them."""
    columns = [
        Column("current", write.say("Current of the bank")),
        Column("value", write.say("Value"), Kind.FIGURE),
        Column("limit", write.say("Limit"), Kind.FIGURE),
        Column("unit", write.say("Unit")),
        Column("state", write.say("State")),
    ]
    found = {figure.kind: figure for figure in sheet.figures if figure.kind in _CURRENTS}
    rows: list[Row] = [
        [
            write.say(figure_words.NAMES[kind].english),
            one.value if isinstance(one.value, float) else None,
            one.limit,
            one.unit,
            electrical.current_state(write, one),
        ]
        for kind in _CURRENTS
        if (one := found.get(kind)) is not None
    ]
    note = write.say(
        "Limits: what the battery's maker allows, the charge included; of the short circuit, what "
        "the fuse breaks."
    )
    return Grid("currents", write.say("Currents of the bank"), columns, rows, [note])


def figures(write: Writer, sheet: Sheet) -> Grid:
    """Return the figures of the electrical sheet: what, how much, how it follows, from where."""
    columns = [
        Column("figure", write.say("Figure")),
        Column("value", write.say("Value"), Kind.FIGURE),
        Column("unit", write.say("Unit")),
        Column("formula", write.say("Formula")),
        Column("inputs", write.say("Inputs")),
        Column("source", write.say("Source")),
        Column("meaning", write.say("Meaning")),
    ]
    formulas, sources = figure_words.formulas(write), figure_words.sources(write)
    labels = electrical.labels(write)
    usual = write.say("usual for the chemistry; the maker's sheet prevails")

    def row(figure: Figure) -> Row:
        text = electrical.value(write, figure)
        # a value that reads so already needs no second word
        is_said = figure.value is None and figure.state is State.NOT_YET_KNOWN
        kept = None if is_said else electrical.kept(write, figure)
        told = [kept, *figure_notes.minded(write, figure)]
        return [
            write.say(figure_words.NAMES[figure.kind].english),
            figure.value if text is None else text,  # type: ignore[list-item] # a number
            None if text is not None and not isinstance(figure.value, tuple) else figure.unit,
            formulas.get(figure.kind),
            "; ".join(electrical.given(write, one, labels) for one in figure.inputs),
            usual if figure.is_usual else sources.get(figure.kind, write.say("arithmetic")),
            " ".join(one for one in told if one),
        ]

    rows: list[Row] = []
    for topic, found in sheet.by_topic().items():
        rows.append([write.say(electrical.TOPICS[topic].english), *[None] * (len(columns) - 1)])
        rows += [row(figure) for figure in found]
    return Grid("electrical", write.say("Electrical sheet"), columns, rows)


def symbols(write: Writer) -> Grid:
    """Return what the symbols of the sheet's formulas and inputs stand for, two side by side."""
    told = [*electrical.symbols(write).items()]
    half = (len(told) + 1) // 2
    columns = [
        Column(f"{key}_{side}", title, is_short=key == "symbol")
        for side in (1, 2)
        for key, title in (("symbol", write.say("Symbol")), ("meaning", write.say("Meaning")))
    ]
    empty = ("", "")
    rows: list[Row] = [
        [*left, *right] for left, right in zip_longest(told[:half], told[half:], fillvalue=empty)
    ]
    return Grid("symbols", write.say("Symbols"), columns, rows)
