"""What money buys, as tables."""

from optimizer.comparison.budgets import BudgetTable, Staircase, Step
from optimizer.comparison.study import side_of
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Value
from optimizer.report.words.budgets import cause, ended
from optimizer.report.words.comparison import equipment, side
from optimizer.report.words.design import replacements
from optimizer.report.words.writer import Writer


def steps(write: Writer, stairs: Staircase) -> Grid:
    """Return every step of a budget: money, hours, the price of an hour, what made it.

    Steps that buy nothing but more fuel are one row with the step that they go on from. Budgets
    are rounded up to what can be paid, so that each buys what its row says.
    """
    other = write.say("Upfront cost") if stairs.lifetime else write.say("Life-cycle cost")
    columns = [
        Column("budget", write.say("From"), Kind.CENTS),
        Column("hours", write.say("Autonomy"), Kind.HOURS, unit="h"),
        Column("price_of_hour", write.say("Each of its hours"), Kind.MONEY),
        Column("upfront_cost" if stairs.lifetime else "life_cycle_cost", other, Kind.MONEY),
        Column("equipment", write.say("Bank; inverter set")),
        Column("replacements", write.say("Replacements")),
        Column("cause", write.say("What made the step")),
    ]

    def cost(step: Step) -> float:
        return step.design.upfront_cost if stairs.lifetime else step.design.life_cycle_cost

    rows: list[list[Value | Cell]] = [
        [
            Cell(run[0].budget, last=run[-1].budget),
            Cell(run[0].hours, last=run[-1].hours),
            run[0].price_of_hour,
            Cell(cost(run[0]), last=cost(run[-1])),
            equipment(write, run[0].design),
            replacements(write, run[0].replacements, run[0].later),
            cause(write, run[0].cause),
        ]
        for run in stairs.runs
    ]
    notes = []
    if len(stairs.runs) < len(stairs.steps):
        notes.append(
            write.say(
                "A range of hours is one set of equipment; with more money more fuel is stored. "
                "The price of an hour is that of its first hours."
            )
        )
    if stairs.stopped_by is not None:
        notes.append(ended(write, stairs.stopped_by, stairs.steps[-1].hours))
    return Grid("budget", _title(write, lifetime=stairs.lifetime), columns, rows, notes)


def budgets(write: Writer, table: BudgetTable) -> Grid:
    """Return what each of many budgets buys."""
    columns = [
        Column("budget", write.say("Budget"), Kind.CENTS),
        Column("hours", write.say("Autonomy"), Kind.HOURS, unit="h"),
        Column("upfront_cost", write.say("Upfront cost"), Kind.MONEY),
        Column("life_cycle_cost", write.say("Life-cycle cost"), Kind.MONEY),
        Column("family", write.say("Family")),
        Column("equipment", write.say("Bank; inverter set")),
        Column("replacements", write.say("Replacements")),
        Column("next_budget", write.say("Next step at"), Kind.CENTS),
    ]
    found: list[list[Value | Cell]] = []
    for row in table:
        design = row.design
        if design is None:
            nothing = write.say("nothing")
            found.append([row.budget, 0, None, None, None, nothing, None, row.next_budget])
            continue
        found.append(
            [
                row.budget,
                design.hours,
                design.upfront_cost,
                design.life_cycle_cost,
                side(write, side_of(design)),
                equipment(write, design),
                replacements(write, row.replacements, row.later),
                row.next_budget,
            ]
        )
    notes = []
    longest = max((row.design.hours for row in table if row.design is not None), default=0)
    ends = any(row.design is not None and row.next_budget is None for row in table)
    if table.stopped_by is not None and ends:
        notes.append(ended(write, table.stopped_by, longest))
    return Grid("budgets", _title(write, lifetime=table.lifetime), columns, found, notes)


def _title(write: Writer, *, lifetime: bool) -> str:
    if lifetime:
        return write.say("What a life-cycle budget buys, {currency}")
    return write.say("What an upfront budget buys, {currency}")
