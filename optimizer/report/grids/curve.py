"""The curve of cost against hours, as tables."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise, zip_longest
from typing import Final

from optimizer.answers.curve import Curve, Point
from optimizer.model.design import Design
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row, Value
from optimizer.report.grids.simulation import capped
from optimizer.report.words.comparison import bank_and_set
from optimizer.report.words.design import bank, inverter_set, replacements, stopped
from optimizer.report.words.writer import Writer

#: The name of the exact curve over all families.
OVERALL: Final = "overall"


def points(write: Writer, curve: Curve) -> Grid:
    """Return the whole curve with the step to the next, one row for what differs in fuel alone."""
    site, runs = curve.job.site, curve.runs
    columns = [
        Column("hours", write.say("Autonomy"), Kind.HOURS, 0, unit="h"),
        Column("life_cycle_cost", write.say("Life-cycle cost"), Kind.MONEY),
        Column("upfront_cost", write.say("Upfront cost"), Kind.MONEY),
        Column("simulated_hours", write.say("Simulated hours*"), Kind.HOURS, 1),
        Column("equipment", write.say("Bank, series × strings; inverter set")),
        *_beside_columns(write, curve),
        Column("replacements", write.say("Replaced")),
        Column("cost_per_hour", write.say("Next hours, each"), Kind.MONEY),
    ]
    rows = [
        [
            Cell(run[0].hours, last=run[-1].hours),
            Cell(run[0].life_cycle_cost, last=run[-1].life_cycle_cost),
            Cell(run[0].upfront_cost, last=run[-1].upfront_cost),
            _simulated(run),
            bank_and_set(write, run[0]),
            *_beside_cells(write, curve, run),
            replacements(write, run[0].replacements),
            _each_hour(run if len(run) > 1 else [*run, *(longer or ())[:1]]),
        ]
        for run, longer in zip_longest(runs, runs[1:])
    ]
    title = write.say(
        "{site}: life-cycle cost over {study:years} against autonomy, {currency}",
        site=site.name,
        study=site.horizon_years,
    )
    notes = [
        write.say(
            "* By the independent simulation, hour by hour, without margin, from the worst start "
            "in the worst year."
        ),
        write.say("Looked at: autonomies of up to {hours} h.", hours=site.max_hours),
    ]
    if curve.stopped_by is not None:
        notes.append(stopped(write, curve.stopped_by, curve.points[-1].hours))
    if len(runs) < len(curve.points):
        notes.append(
            write.say(
                "A range of hours is one set of equipment; only the fuel stored grows, and an hour "
                "more costs what it takes."
            )
        )
    return Grid("curve", title, columns, rows, notes)


def _simulated(run: Sequence[Point]) -> Cell:
    """Return the simulated hours; beside a generator each outage is followed to its own end."""
    first = capped(run[0].verdict.hours, run[0].verdict.horizon_hours)
    return replace(first, last=run[-1].verdict.hours) if len(run) > 1 else first


def _each_hour(points: Sequence[Point]) -> Cell | None:
    """Return what an hour more costs from point to point: the range, to the cent where small."""
    costs = [
        (there.life_cycle_cost - here.life_cycle_cost) / (there.hours - here.hours)
        for here, there in pairwise(points)
    ]
    if not costs:
        return None
    if min(costs) < 1:
        return Cell(min(costs), Kind.FIGURE, 2, last=max(costs))
    return Cell(min(costs), last=max(costs))


def _beside_columns(write: Writer, curve: Curve) -> list[Column]:
    """Return the columns of contract and generator, where the site offers a choice of them."""
    found = []
    if curve.job.site.contracts:
        found.append(Column("contract_kw", write.say("Contract"), Kind.FIGURE, unit="kW"))
    if any(point.generator for point in curve.points):
        found.append(Column("generator", write.say("Generator")))
        found.append(Column("fuel_l", write.say("Fuel"), Kind.NUMBER, 1, unit="l"))
    return found


def _beside_cells(write: Writer, curve: Curve, run: Sequence[Point]) -> list[Value | Cell]:
    first = run[0]
    found: list[Value | Cell] = []
    if curve.job.site.contracts:
        found.append(None if first.contract is None else first.contract.power_w / 1000)
    if any(point.generator for point in curve.points):
        name = write.say("none") if first.generator is None else first.generator.generator
        fuel = Cell(first.fuel_l, last=run[-1].fuel_l)
        found += [name, None if first.generator is None else fuel]
    return found


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
        Column("contract_w", write.say("Contract"), Kind.NUMBER, unit="W"),
        Column("generator", write.say("Generator")),
        Column("fuel_l", write.say("Fuel"), Kind.NUMBER, 2, unit="l"),
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
                    None if point.contract is None else point.contract.power_w,
                    None if point.generator is None else point.generator.generator,
                    None if point.generator is None else point.fuel_l,
                    replacements(write, point.replacements),
                    *step(point, longer),
                ]
            )
    return Grid("curve", write.say("Curve"), columns, rows)
