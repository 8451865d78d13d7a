"""How many hours are worth buying, as a table."""

from optimizer.comparison.hours_worth import HoursWorth
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row
from optimizer.report.words import simulation
from optimizer.report.words.comparison import equipment
from optimizer.report.words.writer import Writer


def rows(write: Writer, found: HoursWorth) -> Grid:
    """Return each autonomy: what it costs, what is still missed, both together, the step to it."""
    columns = [
        Column("hours", write.say("Autonomy"), Kind.HOURS, unit="h"),
        Column("life_cycle_cost", write.say("Life-cycle cost"), Kind.MONEY),
        Column("kwh_unserved", write.say("Unserved a year"), Kind.FIGURE, unit="kWh"),
        Column("lost", write.say("Value lost"), Kind.MONEY),
        Column("in_all", write.say("Together"), Kind.MONEY),
        Column("kwh_price", write.say("A kWh spared costs"), Kind.FIGURE),
        Column("equipment", write.say("Bank; inverter set")),
    ]
    prices = dict(zip((one.hours for one in found), found.kwh_prices, strict=True))
    shown: list[Row] = [
        [
            Cell(first.hours, last=last.hours),
            Cell(first.life_cycle_cost, last=last.life_cycle_cost),
            Cell(first.kwh_unserved, last=last.kwh_unserved),
            Cell(first.lost, last=last.lost),
            Cell(first.in_all, last=last.in_all),
            prices[first.hours],
            write.say("nothing") if first.design is None else equipment(write, first.design),
        ]
        for first, *_, last in ((run[0], *run) for run in found.runs)
    ]
    title = write.say(
        "{site}: hours worth buying at {value:figure} {currency}/kWh, over {study:years}, "
        "{currency}",
        site=found.job.site.name,
        value=found.value_of_lost_load,
        study=found.job.site.horizon_years,
    )
    notes = [
        write.say(
            "Unserved energy of {years:number} simulated years, the same outages in each row. What "
            "a kWh costs that a row spares and the one before it misses: the value of lost load at "
            "which that step begins to be worth it.",
            years=found.years,
        )
    ]
    if any(one.design is not None and one.design.generator is not None for one in found):
        notes.append(simulation.fuel_made_up(write))
    return Grid("worth", title, columns, shown, notes)
