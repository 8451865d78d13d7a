"""The curve of cost against hours, as tables."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING, Final

from optimizer.report.grids.grid import Column, Grid, Kind
from optimizer.report.grids.simulation import capped
from optimizer.report.words.design import bank, inverter_set, replacements

if TYPE_CHECKING:
    from collections.abc import Mapping

    from optimizer.answers.curve import Curve
    from optimizer.model.design import Design
    from optimizer.report.grids.grid import Row
    from optimizer.report.words.writer import Writer

#: The name of the exact curve over all families.
OVERALL: Final = "overall"


def points(write: Writer, curve: Curve) -> Grid:
    """Return the whole curve, one row a point, with the step to the next."""
    site = curve.job.site
    columns = [
        Column("hours", write.say("Autonomy"), Kind.HOURS, unit="h"),
        Column("life_cycle_cost", write.say("Life-cycle cost"), Kind.MONEY),
        Column("upfront_cost", write.say("Upfront cost"), Kind.MONEY),
        Column("simulated_hours", write.say("Simulated hours*"), Kind.HOURS, 1),
        Column("bank", write.say("Bank, series × strings")),
        Column("inverter", write.say("Inverter set")),
        Column("replacements", write.say("Replaced")),
        Column("cost_per_hour", write.say("Next hours, each"), Kind.MONEY),
    ]
    rows: list[Row] = []
    for point, longer in zip_longest(curve.points, curve.points[1:]):
        hours, cost = step(point, longer)
        rows.append(
            [
                point.hours,
                point.life_cycle_cost,
                point.upfront_cost,
                capped(point.verdict.hours, point.verdict.horizon_hours),
                bank(write, point.banks[0], point.voltage_v),
                inverter_set(write, point),
                replacements(write, point.purchases),
                cost / hours if cost is not None and hours else None,
            ]
        )
    title = write.say(
        "{site}: life-cycle cost over {study:years} against autonomy, {currency}",
        site=site.name,
        study=site.horizon_years,
        currency=write.currency,
    )
    notes = [
        write.say(
            "* By the independent simulation, hour by hour, without margin, from the worst start "
            "in the worst year."
        ),
        write.say("Looked at: autonomies of up to {hours} h.", hours=site.max_hours),
    ]
    return Grid("curve", title, columns, rows, notes)


def step(here: Design, there: Design | None) -> tuple[int | None, float | None]:
    """Return the hours to the next point of a curve, and what they cost."""
    if there is None:
        return None, None
    return there.hours - here.hours, there.life_cycle_cost - here.life_cycle_cost


def file(write: Writer, overall: Curve, families: Mapping[str, Curve]) -> Grid:
    """Return every point of every curve with the step to the next, the overall curve first."""
    columns = [
        Column("curve", write.say("Curve")),
        Column("hours", write.say("Autonomy"), Kind.HOURS, unit="h"),
        Column("life_cycle_cost", write.say("Life-cycle cost"), Kind.CENTS),
        Column("upfront_cost", write.say("Upfront cost"), Kind.CENTS),
        Column("voltage_v", write.say("Voltage"), Kind.NUMBER, unit="V"),
        Column("bank", write.say("Bank, series × strings")),
        Column("inverter", write.say("Inverter set")),
        Column("replacements", write.say("Replacements")),
        Column("hours_to_next", write.say("To the next"), Kind.NUMBER, unit="h"),
        Column("cost_to_next", write.say("Cost to the next"), Kind.CENTS),
    ]
    rows: list[Row] = []
    for name, curve in ((OVERALL, overall), *families.items()):
        for point, longer in zip_longest(curve.points, curve.points[1:]):
            rows.append(
                [
                    name,
                    point.hours,
                    point.life_cycle_cost,
                    point.upfront_cost,
                    point.voltage_v,
                    bank(write, point.banks[0], point.voltage_v),
                    inverter_set(write, point),
                    replacements(write, point.purchases),
                    *step(point, longer),
                ]
            )
    return Grid("curve", write.say("Curve"), columns, rows)
