"""The glossary as a table."""

from optimizer.report.grids.grid import Column, Grid, Row
from optimizer.report.words.faults import said
from optimizer.report.words.glossary import Term
from optimizer.report.words.writer import Writer


def glossary(write: Writer) -> Grid:
    """Return every term with its meaning and the standard that it follows."""
    columns = [
        Column("term", write.say("Term"), is_short=True),
        Column("meaning", write.say("Meaning")),
        Column("source", write.say("After"), is_short=True),
    ]
    rows: list[Row] = [
        [said(write, one.called), said(write, one.meaning), one.source] for one in Term
    ]
    note = write.say("Told in plain words, from memory; the current edition prevails.")
    return Grid("glossary", write.say("Terms"), columns, rows, [note])
