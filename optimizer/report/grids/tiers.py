"""What each tier of loads and each load costs, as tables."""

from collections.abc import Sequence

from optimizer.comparison.load_costs import LoadCost, LoadCosts
from optimizer.comparison.tier_costs import Tiers
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Value
from optimizer.report.words.writer import Writer


def tiers(write: Writer, found: Tiers, hours: Sequence[int]) -> Grid:
    """Return what each tier costs at the same hours, one row an autonomy."""
    site = found.job.site
    columns = [Column("hours", write.say("Autonomy"), Kind.HOURS, unit="h")]
    for place, one in enumerate(found.curves):
        if not place:
            columns.append(Column(one.added, write.say("{tier} alone", tier=one.added), Kind.MONEY))
            continue
        columns += [
            Column(one.added, write.say("with {tier}", tier=one.added), Kind.MONEY),
            Column(f"{one.added}_extra", write.say("more by"), Kind.MONEY),
        ]
    none = write.say("none")
    rows: list[list[Value | Cell]] = []
    for hour in hours:
        row: list[Value | Cell] = [hour]
        for place, cost in enumerate(found.at(hour)):
            row.append(none if cost.cost is None else cost.cost)
            if place:
                row.append(cost.extra)
        rows.append(row)
    title = write.say(
        "Life-cycle cost tier by tier over {study:years}, {currency}",
        study=site.horizon_years,
    )
    note = write.say("Required: {hours:hours}.", hours=site.target_hours)
    notes = [note]
    if found.staying_on:
        notes.append(
            write.say(
                "Of later tiers, these stay on whatever the hours and count with “{tier}”: "
                "{loads:list}.",
                tier=found.curves[0].added,
                loads=found.staying_on,
            )
        )
    return Grid("tiers", title, columns, rows, notes)


def loads(write: Writer, found: LoadCosts) -> Grid:
    """Return what each tier and each load costs: the least cost with it less that without it."""
    columns = [
        Column("tier", write.say("Tier")),
        Column("loads", write.say("Load")),
        Column("carried", write.say("Carried today"), Kind.YES_NO),
        Column("life_cycle_cost", write.say("It costs"), Kind.MONEY),
        Column("upfront_cost", write.say("Upfront"), Kind.MONEY),
        Column("stays_on", write.say("Stays on"), Kind.YES_NO),
    ]
    none = write.say("none")
    rows = [
        [
            one.tier,
            _what(write, one),
            one.carried,
            none if one.life_cycle_cost is None else one.life_cycle_cost,
            none if one.upfront_cost is None else one.upfront_cost,
            one.stays_on and not one.is_tier,
        ]
        for one in found
    ]
    title = write.say(
        "What each tier and each load costs at {hours:hours} over {study:years}, {currency}",
        hours=found.hours,
        study=found.job.site.horizon_years,
    )
    notes = [
        write.say(
            "Solved again without it, or with it where it is not carried today; upfront against "
            "the least upfront cost, be it of another design. These costs do not add up: loads "
            "share bank and inverter."
        )
    ]
    costs = [cost for one in found for cost in (one.life_cycle_cost, one.upfront_cost)]
    if any(cost is not None and cost < 0 for cost in costs):
        notes.append(
            write.say(
                "Less than nothing: with less to carry a bank lasts longer, and the site lets none "
                "be replaced before {share:share} of its life.",
                share=found.job.site.min_service_share,
            )
        )
    if any(one.stays_on for one in found):
        notes.append(
            write.say(
                "A load that stays on is priced for information only: it is not to be left out. Of "
                "its tier, only what may go is priced."
            )
        )
    return Grid("loads", title, columns, rows, notes)


def _what(write: Writer, one: LoadCost) -> str:
    if not one.is_tier:
        return write.say("{loads:list}", loads=one.loads)
    return write.say("what may go of it") if one.stays_on else write.say("all of it")
