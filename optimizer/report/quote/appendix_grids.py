"""The tables of a quote's appendix: whole for the workbook, and what a page has room for."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from optimizer.comparison.budgets import Step
from optimizer.comparison.tier_costs import Tiers
from optimizer.quote.appendix import Appendix
from optimizer.report.grids import budgets, comparison, sensitivity, switch_points, tiers
from optimizer.report.grids.grid import Column, Grid, Kind, Row
from optimizer.report.words.comparison import side
from optimizer.report.words.writer import Writer

#: Steps of a budget that a page has room for; the workbook has all of them.
STEPS_SHOWN = 16
#: Families that stand side by side on a page; the cheapest ones.
_SIDE_BY_SIDE = 4
#: Years of a table on a page, about.
_YEARS_SHOWN = 10


def appendix_grids(write: Writer, found: Appendix) -> Iterator[tuple[str, Grid]]:
    """Yield every table behind the appendix, whole, each with the name of its sheet."""
    yield write.say("Appendix"), comparison.side_by_side(write, found.comparison.alternatives)
    yield write.say("Paid"), comparison.paid(write, found.comparison)
    yield write.say("Chemistries"), comparison.chemistries(write, found.comparison)
    if found.switch_points:
        grid = switch_points.switch_points(write, found.switch_points)
        yield write.say("What would turn it"), grid
    if found.break_even_line is not None:
        grid = switch_points.break_even_line(write, found.break_even_line)
        yield write.say("Two numbers at once"), grid
    yield write.say("What moves it"), sensitivity.one_at_a_time(write, found.sensitivities)
    yield write.say("Budget"), budgets.steps(write, found.stairs)
    yield write.say("Tiers"), tiers.tiers(write, found.tier_costs, hours_shown(found.tier_costs))


def side_by_side_short(write: Writer, found: Appendix) -> Grid:
    """Return the cheapest families side by side."""
    grid = comparison.side_by_side(write, found.comparison.alternatives)
    return grid.only(*(column.key for column in grid.columns[: 1 + _SIDE_BY_SIDE]))


def paid_short(write: Writer, found: Appendix) -> Grid:
    """Return what has been paid by some years, one row a family."""
    compared, money = found.comparison, Kind.MONEY
    years = years_shown(compared.job.site.horizon_years)
    columns = [Column("family", "")]
    columns += [
        Column(f"year_{year}", write.say("year {year}", year=year), money) for year in years
    ]
    columns[1] = Column("year_0", write.say("start"), money)
    columns.append(Column("end", write.say("at the end"), money))
    rows: list[Row] = []
    for one in compared.alternatives:
        paid = [one.balances[year].real for year in years]
        rows.append([side(write, one.name), *paid, paid[-1] - one.residual_value])
    note = write.say(
        "Money of today, each year's running costs and replacements as they come; the last column, "
        "hollow in the drawing, has the residual value deducted. The life-cycle cost above counts "
        "later money at {rate:share} a year less.",
        rate=compared.job.site.discount_rate,
    )
    return Grid("paid", write.say("What has been paid by when"), columns, rows, [note])


def chemistries_short(write: Writer, found: Appendix) -> Grid:
    """Return the best of each chemistry, in a few columns."""
    grid = comparison.chemistries(write, found.comparison)
    keys = ("chemistry", "life_cycle_cost", "upfront_cost", "hours", "mass_kg", "equipment")
    title = write.say("The best of each chemistry for {hours:hours}", hours=found.comparison.hours)
    return replace(grid.only(*keys), title=title)


def sensitivity_short(write: Writer, found: Appendix) -> Grid:
    """Return the numbers that move something, at their low and high values."""
    grid = sensitivity.one_at_a_time(write, found.sensitivities)
    rows = [
        row
        for row, one in zip(grid.rows, found.sensitivities.sensitivities, strict=True)
        if one.cost_span or one.hours_span
    ]
    keys = ("parameter", "low", "high", "cost_low", "cost_high", "hours_low", "hours_high")
    winner = ("winner",) if len(found.families) > 1 else ()
    return replace(grid, rows=rows).only(*keys, *winner)


def steps_short(write: Writer, found: Appendix) -> Grid:
    """Return the steps of a budget that add most hours."""
    stairs = found.stairs
    shown = large_steps([run[0] for run in stairs.runs])
    kept = [run for run in stairs.runs if run[0] in shown]
    grid = budgets.steps(write, replace(stairs, steps=tuple(step for run in kept for step in run)))
    keys = ("budget", "hours", "price_of_hour", "equipment", "replacements", "cause")
    left_out = len(stairs.runs) - len(shown)
    note = write.say_number(
        "{n} smaller step left out here; the drawing and the workbook have all of them.",
        "{n} smaller steps left out here; the drawing and the workbook have all of them.",
        left_out,
    )
    return replace(grid.only(*keys), notes=[*grid.notes, *([note] if left_out else [])])


def hours_shown(tiers: Tiers) -> list[int]:
    """Return the hours that something on offer carries with some of the tiers."""
    wanted = sorted({*tiers.landmarks, tiers.job.site.target_hours})
    return [hours for hours in wanted if any(one.cost is not None for one in tiers.at(hours))]


def years_shown(horizon_years: int) -> list[int]:
    """Return the years of a short table: all of few, else about ten, the last among them."""
    step = -(-horizon_years // _YEARS_SHOWN)
    return sorted({*range(0, horizon_years + 1, step), horizon_years})


def large_steps(steps: Sequence[Step]) -> list[Step]:
    """Return the steps that a page has room for: the ends and those that add most hours."""
    if len(steps) <= STEPS_SHOWN:
        return list(steps)
    before = [0, *(one.hours for one in steps)]
    added = {step.hours: step.hours - less for step, less in zip(steps, before, strict=False)}
    inner = sorted(steps[1:-1], key=lambda step: -added[step.hours])[: STEPS_SHOWN - 2]
    kept = {step.hours for step in (steps[0], steps[-1], *inner)}
    return [step for step in steps if step.hours in kept]
