"""The quotes of a register as a table."""

from collections.abc import Sequence

from optimizer.quote.register import Record
from optimizer.report.grids.grid import Column, Grid, Kind, Row
from optimizer.report.words.writer import Writer


def quotes(write: Writer, found: Sequence[Record]) -> Grid:
    """Return quotes, one a row, as the register gives them."""
    columns = [
        Column("number", write.say("Number"), is_short=True),
        Column("revision", write.say("Revision"), Kind.NUMBER),
        Column("day", write.say("Day"), Kind.DATE),
        Column("customer", write.say("Customer")),
        Column("site", write.say("Site")),
        Column("totals", write.say("Upfront cost of the options")),
    ]
    rows: list[Row] = [
        [
            one.number,
            one.revision,
            one.day,
            one.customer,
            one.site,
            f"{' / '.join(one.totals)} {one.currency}",
        ]
        for one in found
    ]
    title = write.say_number("{n} quote", "{n} quotes", len(found))
    return Grid("quotes", title, columns, rows)
