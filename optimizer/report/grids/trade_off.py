"""Pay now or pay later, as a table."""

from optimizer.answers.curve import TradeOff
from optimizer.report.grids.grid import Column, Grid, Kind
from optimizer.report.words.comparison import equipment
from optimizer.report.words.design import replacements
from optimizer.report.words.writer import Writer


def designs(write: Writer, found: TradeOff) -> Grid:
    """Return every design: what it costs at the start, later and in all, and what is renewed."""
    columns = (
        Column("upfront_cost", write.say("Upfront cost"), Kind.MONEY),
        Column("later", write.say("Bought later"), Kind.MONEY),
        Column("life_cycle_cost", write.say("Life-cycle cost"), Kind.MONEY),
        Column("hours", write.say("Autonomy"), Kind.HOURS, unit="h"),
        Column("equipment", write.say("Bank, series × strings; inverter set; generator")),
        Column("replacements", write.say("Replaced")),
    )
    rows = [
        (
            point.upfront_cost,
            sum(one.amount for one in point.purchases if one.year > 0),
            point.life_cycle_cost,
            point.hours,
            equipment(write, point),
            replacements(write, point.replacements),
        )
        for point in found.points
    ]
    title = write.say(
        "{site}: {hours:hours}, paid now or later, {currency}",
        site=found.site,
        hours=found.hours,
    )
    return Grid("trade_off", title, columns, rows)
