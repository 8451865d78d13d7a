"""What was understood of a site, as tables."""

from collections.abc import Sequence
from dataclasses import replace

from optimizer.answers.site_survey import Survey
from optimizer.model.job import Load
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row, quantities
from optimizer.report.words.writer import Writer


def loads(write: Writer, found: Survey) -> Grid:
    """Return the energy of each tier in each season."""
    kwh_day = {(one.tier, one.season): one.kwh_day for one in found.energy}
    columns = [
        Column("tier", write.say("Tier")),
        *(Column(season, season, Kind.NUMBER, 2) for season in found.seasons),
        Column("counted", write.say("Counted"), Kind.YES_NO),
    ]
    rows: list[Row] = [
        [
            tier,
            *(kwh_day[tier, season] for season in found.seasons),
            tier in found.tiers_counted,
        ]
        for tier in dict.fromkeys(tier for tier, _ in kwh_day)
    ]
    return Grid("loads", write.say("Loads, kWh a day"), columns, rows)


def each_load(write: Writer, loads: Sequence[Load], found: Survey) -> Grid:
    """Return every load with its energy a day, and all that count together."""
    grid = by_load(write, found, loads)
    total = [write.say("Tiers that must stay on"), "", None, None, found.counted_kwh_day]
    return replace(grid, rows=[*grid.rows, total], has_total=True)


def by_load(write: Writer, found: Survey, loads: Sequence[Load] | None = None) -> Grid:
    """Return every load, or those named, with its energy a day."""
    columns = [
        Column("load", write.say("Load")),
        Column("tier", write.say("Tier")),
        Column("count", write.say("Quantity"), Kind.NUMBER),
        Column("running_w", write.say("Running"), Kind.FIGURE, unit="W"),
        Column("kwh_day", write.say("A day"), Kind.NUMBER, 2, "kWh"),
    ]
    rows: list[Row] = [
        [one.load, one.tier, one.count, one.running_w, found.load_kwh_day[one.load]]
        for one in (found.job.loads if loads is None else loads)
    ]
    return Grid("each_load", write.say("Loads, mean over the year"), columns, rows)


def demand(write: Writer, found: Survey) -> Grid:
    """Return what must be carried."""
    rows: list[Row] = [
        [write.say("All at once"), found.peak_w, "W"],
        [write.say("All at once, apparent"), found.peak_va, "VA"],
        [write.say("With the largest motor starting"), found.surge_w, "W"],
        [write.say("Mean over the year"), found.mean_w, "W"],
    ]
    for hours, energy_kwh in found.worst_window_kwh.items():
        window = write.say("Worst {hours} h of any season", hours=hours)
        rows.append([window, Cell(energy_kwh, Kind.NUMBER, 2), "kWh"])
    return Grid("demand", write.say("What must be carried"), quantities(Kind.NUMBER), rows)


def grid_supply(write: Writer, found: Survey) -> Grid:
    """Return what a year's grid failures leave undone without any equipment."""
    one = Kind.NUMBER
    rows: list[Row] = [
        [write.say("Outages"), Cell(found.outages_per_year, one, 1), ""],
        [write.say("Hours without supply"), Cell(found.outage_hours_per_year, one, 1), "h"],
        [
            write.say("Unserved energy if nothing is done"),
            Cell(found.unserved_kwh_per_year, one, 1),
            "kWh",
        ],
    ]
    if found.value_of_unserved_per_year is not None:
        costs = write.say("What that costs, at the site's value of lost load")
        rows.append([costs, found.value_of_unserved_per_year, write.currency])
    return Grid("grid", write.say("The grid, in a year"), quantities(Kind.NUMBER), rows)


def old_prices(write: Writer, found: Survey) -> Grid:
    """Return the prices that may have changed."""
    columns = [
        Column("table", write.say("Table")),
        Column("name", write.say("Name")),
        Column("price_date", write.say("Date"), Kind.DATE),
    ]
    rows: list[Row] = [[one.table, one.name, one.price_date] for one in found.old_prices]
    return Grid("old_prices", write.say("Prices older than a year"), columns, rows)


def all_of(write: Writer, found: Survey) -> list[Grid]:
    """Return every table of a site."""
    grids = [loads(write, found), demand(write, found), grid_supply(write, found)]
    return [*grids, old_prices(write, found)] if found.old_prices else grids
