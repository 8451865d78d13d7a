"""Alternatives for the same hours, as tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.report.grids.grid import Cell, Column, Grid, Kind
from optimizer.report.words.comparison import equipment, floor, side
from optimizer.report.words.design import replacements

if TYPE_CHECKING:
    from collections.abc import Callable

    from optimizer.comparison.side_by_side import Alternative, Comparison
    from optimizer.report.grids.grid import Value
    from optimizer.report.words.writer import Writer


def side_by_side(write: Writer, comparison: Comparison) -> Grid:
    """Return the alternatives side by side, one column each, the cheapest first."""
    alternatives = comparison.alternatives

    def row(
        name: str, value: Callable[[Alternative], Value], *kind: Kind | int
    ) -> list[Value | Cell]:
        return [name, *(Cell(value(one), *kind) for one in alternatives)]  # type: ignore[arg-type]

    rows = [
        row(write.say("Bank; inverter set"), lambda one: equipment(write, one.design)),
        row(write.say("Life-cycle cost"), lambda one: one.life_cycle_cost, Kind.MONEY),
        row(write.say("Upfront cost"), lambda one: one.design.upfront_cost, Kind.MONEY),
        row(write.say("Replacements"), lambda one: _later(write, one)),
        row(
            write.say("Residual value, money of today"), lambda one: one.residual_value, Kind.MONEY
        ),
        row(write.say("Paid for by a month"), lambda one: one.monthly_sum, Kind.CENTS),
        row(write.say("Cost of an hour"), lambda one: one.cost_per_hour, Kind.MONEY),
        row(write.say("Cost of a usable kWh"), lambda one: one.cost_per_kwh, Kind.MONEY),
        row(write.say("Autonomy, h"), lambda one: one.design.hours, Kind.HOURS),
        row(write.say("Usable when new, kWh"), lambda one: one.usable_kwh, Kind.NUMBER, 1),
        row(write.say("Mass, kg"), lambda one: one.mass_kg, Kind.NUMBER),
        row(write.say("Floor"), lambda one: floor(write, one)),
    ]
    columns = [
        Column("figure", ""),
        *(Column(one.name, side(write, one.name)) for one in alternatives),
    ]
    title = write.say(
        "Side by side over {study:years}, {currency}",
        study=comparison.job.site.horizon_years,
        currency=write.currency,
    )
    return Grid("side_by_side", title, columns, rows)


def chemistries(write: Writer, comparison: Comparison) -> Grid:
    """Return the best design of each chemistry, the cheapest first."""
    columns = [
        Column("chemistry", write.say("Chemistry")),
        Column("life_cycle_cost", write.say("Life-cycle cost"), Kind.MONEY),
        Column("upfront_cost", write.say("Upfront cost"), Kind.MONEY),
        Column("residual_value", write.say("Residual value"), Kind.MONEY),
        Column("hours", write.say("Autonomy"), Kind.HOURS, unit="h"),
        Column("mass_kg", write.say("Mass"), Kind.NUMBER, unit="kg"),
        Column("equipment", write.say("Bank; inverter set")),
        Column("replacements", write.say("Replacements")),
    ]
    rows: list[list[Value | Cell]] = [
        [
            side(write, one.name),
            one.life_cycle_cost,
            one.design.upfront_cost,
            one.residual_value,
            one.design.hours,
            one.mass_kg,
            equipment(write, one.design),
            _later(write, one),
        ]
        for one in comparison.chemistries
    ]
    title = write.say("Each chemistry, {currency}", currency=write.currency)
    return Grid("chemistries", title, columns, rows)


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
    rows: list[list[Value | Cell]] = []
    for year in range(site.horizon_years + 1):
        row: list[Value | Cell] = [year]
        for one in alternatives:
            balance = one.balances[year]
            bought = write.listed(balance.bought) if balance.bought else None
            row += [balance.real, balance.nominal, balance.present, bought]
        rows.append(row)
    left: list[Value | Cell] = [Cell(write.say("residual value"))]
    for one in alternatives:
        real, years = one.residual_value, site.horizon_years
        nominal, present = (
            real * (1 + site.inflation) ** years,
            real / (1 + site.discount_rate) ** years,
        )
        left += [-real, -nominal, -present, None]
    title = write.say("Paid by then, {currency}, residual value apart", currency=write.currency)
    note = write.say(
        "Nominal: {inflation:share.1} inflation a year; present: {rate:share.1} real a year.",
        inflation=site.inflation,
        rate=site.discount_rate,
    )
    return Grid("paid", title, columns, [*rows, left], [note])


def _later(write: Writer, one: Alternative) -> str:
    return replacements(write, one.design.replacements, one.later_purchases)
