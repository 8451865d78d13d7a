"""Alternatives for the same hours, as tables."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from optimizer.comparison.side_by_side import Alternative, Comparison
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row, Value
from optimizer.report.words.comparison import equipment, floor, next_replacement, side
from optimizer.report.words.design import replacements
from optimizer.report.words.writer import Writer

#: Figures of `side_by_side` that a buyer compares first.
FIRST: Final = ("hours", "energy", "mass_kg", "replacement", "upfront_cost", "life_cycle_cost")


def side_by_side(
    write: Writer, alternatives: Sequence[Alternative], only: Sequence[str] = ()
) -> Grid:
    """Return alternatives side by side, one column each; ``only`` some figures where it says so."""
    whole = _figures(write, alternatives, write.currency)
    # the next replacement is the first of all replacements
    every = [one.key for one in whole.columns[1:] if one.key != "replacement"]
    # a few short figures stand to the right; equipment by name is read from the left
    kind = Kind.NUMBER if only else Kind.TEXT
    names = [Column(one.name, side(write, one.name), kind) for one in alternatives]
    study = alternatives[0].design.banks[-1].end
    title = write.say("Side by side over {study:years}", study=study)
    return replace(whole.only(*only or every).turned(names), title=title)


def chemistries(write: Writer, comparison: Comparison) -> Grid:
    """Return the best design of each chemistry, the cheapest first."""
    keys = ("life_cycle_cost", "upfront_cost", "residual_value", "hours", "mass_kg")
    grid = _figures(write, comparison.chemistries)
    grid = grid.only("chemistry", *keys, "equipment", "replacements")
    title = write.say("Each chemistry, {currency}")
    return replace(grid, key="chemistries", title=title)


def _figures(write: Writer, alternatives: Sequence[Alternative], money: str | None = None) -> Grid:
    """Return all that a buyer compares, one alternative a row.

    With ``money``, the unit of costs, a heading stands alone and has room for more words.
    """
    mass = write.say("Bank and inverter") if money else write.say("Mass")
    of_today = money and write.say("{currency} of today", currency=money)
    at_battery = write.say("kWh at the battery")
    columns = [
        Column("chemistry", write.say("Chemistry")),
        Column("equipment", write.say("Bank; inverter set")),
        Column("energy", write.say("Bank"), Kind.NUMBER, 1, "kWh"),
        Column("usable", write.say("Usable when new"), Kind.NUMBER, 1, at_battery),
        Column("hours", write.say("Autonomy"), Kind.HOURS, unit="h"),
        Column("mass_kg", mass, Kind.NUMBER, unit="kg"),
        Column("floor", write.say("Floor")),
        Column("replacement", write.say("Next replacement")),
        Column("replacements", write.say("Replacements")),
        Column("residual_value", write.say("Residual value"), Kind.MONEY, unit=of_today),
        Column("upfront_cost", write.say("Upfront cost"), Kind.MONEY, unit=money),
        Column("life_cycle_cost", write.say("Life-cycle cost"), Kind.MONEY, unit=money),
        Column("monthly", write.say("Paid for by a month"), Kind.CENTS, unit=money),
        Column("hour", write.say("Cost of an hour"), Kind.MONEY, unit=money),
        Column("kwh", write.say("Cost of a usable kWh"), Kind.MONEY, unit=money),
    ]
    rows: list[Row] = [
        [
            side(write, one.name),
            equipment(write, one.design),
            one.design.banks[0].energy_wh / 1000,
            one.usable_kwh,
            one.design.hours,
            one.mass_kg,
            floor(write, one),
            next_replacement(write, one),
            replacements(write, one.design.replacements, one.later_purchases),
            one.residual_value,
            one.design.upfront_cost,
            one.life_cycle_cost,
            one.monthly_sum,
            one.cost_per_hour,
            one.cost_per_kwh,
        ]
        for one in alternatives
    ]
    return Grid("side_by_side", "", columns, rows)


def paid(write: Writer, comparison: Comparison) -> Grid:
    """Return what has been paid by each year: money of today, nominal and discounted."""
    site, alternatives = comparison.job.site, comparison.alternatives
    columns = [Column("year", write.say("After"), Kind.NUMBER, unit=write.say("years"))]
    for one in alternatives:
        name = side(write, one.name)
        columns += [
            Column(f"{one.name}_real", write.say("{side}, money of today", side=name), Kind.MONEY),
            Column(f"{one.name}_nominal", write.say("{side}, nominal", side=name), Kind.MONEY),
            Column(f"{one.name}_present", write.say("{side}, present", side=name), Kind.MONEY),
            Column(f"{one.name}_bought", write.say("{side} buys", side=name)),
        ]
    rows: list[Row] = []
    for year in range(site.horizon_years + 1):
        row: list[Value | Cell] = [year]
        for one in alternatives:
            balance = one.balances[year]
            bought = write.listed(balance.bought) if balance.bought else None
            row += [balance.real, balance.nominal, balance.present, bought]
        rows.append(row)
    left: list[Value | Cell] = [write.say("residual value")]
    for one in alternatives:
        real, years = one.residual_value, site.horizon_years
        nominal = real * (1 + site.inflation) ** years
        left += [-real, -nominal, -real / (1 + site.discount_rate) ** years, None]
    title = write.say("Paid by then, {currency}, residual value apart")
    note = write.say(
        "Nominal: {inflation:share.1} inflation a year; present: {rate:share.1} real a year.",
        inflation=site.inflation,
        rate=site.discount_rate,
    )
    return Grid("paid", title, columns, [*rows, left], [note])
