"""Alternatives for the same hours, as tables."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.report.grids.grid import Cell, Column, Grid, Kind
from optimizer.report.words.comparison import equipment, floor, next_replacement, side
from optimizer.report.words.design import replacements

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from optimizer.comparison.side_by_side import Alternative, Comparison
    from optimizer.report.grids.grid import Value
    from optimizer.report.words.writer import Writer


#: Figures of `side_by_side` that a buyer compares first.
FIRST: Final = ("energy", "mass", "replacement", "upfront_cost", "life_cycle_cost")


def side_by_side(
    write: Writer, alternatives: Sequence[Alternative], only: Sequence[str] = ()
) -> Grid:
    """Return alternatives side by side, one column each.

    Parameters
    ----------
    write : Writer
        Of the site's currency.
    alternatives : sequence of Alternative
        At least one; in this order.
    only : sequence of str
        Which figures, all where left out.
    """

    def row(
        name: str, value: Callable[[Alternative], Value], *kind: Kind | int
    ) -> list[Value | Cell]:
        return [name, *(Cell(value(one), *kind) for one in alternatives)]  # type: ignore[arg-type] # kind, decimals

    rows = {
        "equipment": row(write.say("Bank; inverter set"), lambda one: equipment(write, one.design)),
        "energy": row(
            write.say("Bank, kWh"),
            lambda one: one.design.banks[0].energy_wh / 1000,
            Kind.NUMBER,
            1,
        ),
        "usable": row(
            write.say("Usable when new, kWh at the battery"),
            lambda one: one.usable_kwh,
            Kind.NUMBER,
            1,
        ),
        "hours": row(write.say("Autonomy, h"), lambda one: one.design.hours, Kind.HOURS),
        "mass": row(write.say("Bank and inverter, kg"), lambda one: one.mass_kg, Kind.NUMBER),
        "floor": row(write.say("Floor"), lambda one: floor(write, one)),
        "replacement": row(write.say("Next replacement"), lambda one: next_replacement(write, one)),
        "replacements": row(write.say("Replacements"), lambda one: _later(write, one)),
        "residual_value": row(
            write.say("Residual value, {currency} of today", currency=write.currency),
            lambda one: one.residual_value,
            Kind.MONEY,
        ),
        "upfront_cost": row(
            write.say("Upfront cost, {currency}", currency=write.currency),
            lambda one: one.design.upfront_cost,
            Kind.MONEY,
        ),
        "life_cycle_cost": row(
            write.say("Life-cycle cost, {currency}", currency=write.currency),
            lambda one: one.life_cycle_cost,
            Kind.MONEY,
        ),
        "monthly": row(
            write.say("Paid for by a month, {currency}", currency=write.currency),
            lambda one: one.monthly_sum,
            Kind.CENTS,
        ),
        "hour": row(
            write.say("Cost of an hour, {currency}", currency=write.currency),
            lambda one: one.cost_per_hour,
            Kind.MONEY,
        ),
        "kwh": row(
            write.say("Cost of a usable kWh, {currency}", currency=write.currency),
            lambda one: one.cost_per_kwh,
            Kind.MONEY,
        ),
    }
    columns = [
        Column("figure", ""),
        # a few short figures stand to the right; equipment by name is read from the left
        *(
            Column(one.name, side(write, one.name), Kind.NUMBER if only else Kind.TEXT)
            for one in alternatives
        ),
    ]
    # the next replacement is the first of all replacements
    kept = [rows[key] for key in only or (key for key in rows if key != "replacement")]
    study = alternatives[0].design.banks[-1].end
    title = write.say("Side by side over {study:years}", study=study)
    return Grid("side_by_side", title, columns, kept, has_alternatives=True)


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
    left: list[Value | Cell] = [write.say("residual value")]
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
