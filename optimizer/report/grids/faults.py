"""What is wrong with the input, as a table."""

from collections.abc import Sequence

from optimizer.errors import SHOWN_FAULTS, Fault
from optimizer.report.grids.grid import Column, Grid, Kind, Row
from optimizer.report.words.faults import more, said
from optimizer.report.words.writer import Writer


def faults(write: Writer, found: Sequence[Fault]) -> Grid:
    """Return the first faults: where it is, what stands there and what would be right."""
    columns = [
        Column("file", write.say("File")),
        Column("row", write.say("Row"), Kind.NUMBER),
        Column("column", write.say("Column")),
        Column("found", write.say("Found")),
        Column("wanted", write.say("Wanted")),
    ]
    rows: list[Row] = [
        [one.file, one.row, one.column, said(write, one.found), said(write, one.wanted)]
        for one in found[:SHOWN_FAULTS]
    ]
    rest = more(write, found)
    notes = [rest] if rest else []
    return Grid("faults", write.say("What must be put right"), columns, rows, notes)
