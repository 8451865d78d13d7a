"""What moves the answer, as tables."""

import math

from optimizer.comparison.regrets import Record, Regret
from optimizer.comparison.sensitivities import Sensitivities
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Value
from optimizer.report.words import parameters
from optimizer.report.words.comparison import side
from optimizer.report.words.design import models
from optimizer.report.words.regret import distributions, means
from optimizer.report.words.writer import Writer


def one_at_a_time(write: Writer, found: Sensitivities) -> Grid:
    """Return every number at its low, base and high value, the widest in cost first."""
    columns = [
        Column("parameter", write.say("One at a time")),
        Column("low", write.say("Low")),
        Column("base", write.say("Now")),
        Column("high", write.say("High")),
        Column("cost_low", write.say("Cost, low"), Kind.MONEY),
        Column("cost_base", write.say("Cost, now"), Kind.MONEY),
        Column("cost_high", write.say("Cost, high"), Kind.MONEY),
        Column("hours_low", write.say("Hours, low"), Kind.HOURS),
        Column("hours_base", write.say("Hours, now"), Kind.HOURS),
        Column("hours_high", write.say("Hours, high"), Kind.HOURS),
        Column("winner", write.say("Winner")),
    ]
    none = write.say("none")
    rows = []
    for one in found.sensitivities:
        settings = (one.low, one.base, one.high)
        winners = dict.fromkeys(side(write, setting.winner) for setting in settings)
        rows.append(
            [
                parameters.name(write, one.parameter),
                *(parameters.value(write, one.parameter, each.value) for each in settings),
                *(each.cost if math.isfinite(each.cost) else none for each in settings),
                *(each.hours for each in settings),
                "; ".join(
                    winners
                    if len(winners) == 1
                    else [side(write, setting.winner) for setting in settings]
                ),
            ]
        )
    title = write.say(
        "Life-cycle cost of {hours:hours}, and hours that {budget:money} buys upfront",
        hours=found.hours,
        budget=found.budget,
    )
    return Grid("sensitivities", title, columns, rows)


def regret(write: Writer, found: Regret) -> Grid:
    """Return how each first purchase fares, the smallest largest regret first."""
    columns = [
        Column("first_purchase", write.say("First purchase")),
        Column("family", write.say("Family")),
        Column("cheapest_share", write.say("Cheapest in"), Kind.SHARE, 1),
        Column("largest_regret", write.say("Largest regret"), Kind.MONEY),
        Column("mean_regret", write.say("Mean regret"), Kind.MONEY),
        Column("mean_cost", write.say("Mean cost"), Kind.MONEY, is_detail=True),
        Column("over_today", write.say("Against today's cheapest"), Kind.MONEY),
        Column("mark", ""),
    ]

    def cells(record: Record) -> list[Value | Cell]:
        marks = []
        if record is found.safest:
            marks.append(write.say("safest"))
        if record.first == found.cheapest_today:
            marks.append(write.say("cheapest today"))
        carried = math.isfinite(record.largest_regret)
        stranded = write.say("{share:share.0} stranded", share=record.stranded)
        return [
            models(write, record.first),
            side(write, record.first.family),
            record.best_share,
            record.largest_regret if carried else stranded,
            record.mean_regret if math.isfinite(record.mean_regret) else None,
            record.mean_cost if math.isfinite(record.mean_cost) else None,
            record.over_today if math.isfinite(record.over_today) else None,
            write.listed(marks) if marks else None,
        ]

    title = write.say(
        "All at once: {n} drawn scenarios (seed {seed}), {currency} more than the best of each",
        n=found.scenarios,
        seed=found.seed,
    )
    notes = distributions(write)
    if any(one.stranded for one in found.records):
        notes.insert(0, means(write))
    return Grid("regret", title, columns, [cells(one) for one in found.records], notes)
