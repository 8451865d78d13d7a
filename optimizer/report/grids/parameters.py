"""The numbers of a site that may be supposed otherwise: names, values and ranges."""

from collections.abc import Sequence

from optimizer.comparison.parameters import Parameter
from optimizer.report.grids.grid import Column, Grid
from optimizer.report.words import parameters as words
from optimizer.report.words.writer import Writer


def numbers(write: Writer, parameters: Sequence[Parameter]) -> Grid:
    """Return the table: what each number is called, what it is, how it stands, how far it goes."""
    columns = (
        Column("name", write.say("Name"), is_short=True),
        Column("what", write.say("What it is")),
        Column("now", write.say("As it stands")),
        Column("range", write.say("Range")),
    )
    rows = [
        (
            one.key,
            words.name(write, one),
            words.value(write, one, one.base),
            words.between(write, one, one.low, one.high),
        )
        for one in parameters
    ]
    return Grid("numbers", write.say("Numbers for --set"), columns, rows)
