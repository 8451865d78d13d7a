"""Sentences and cells that hold figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.answers.age_stage import AgeStage
from optimizer.report.grids.curve import OVERALL
from optimizer.report.words import money, plain
from optimizer.report.words.checks import check_name, check_unit
from optimizer.report.words.english import family
from optimizer.report.words.writer import Writer
from ui.markup import safe
from ui.words.fixed import CURVE_WAIT, TABLES

if TYPE_CHECKING:
    from optimizer.answers.choice import Choice, Explained
    from optimizer.answers.curve import Curve
    from optimizer.answers.independent_simulation import AgeHours, IndependentSimulation
    from optimizer.answers.nothing_done import NothingDone
    from optimizer.errors import Fault
    from optimizer.model.design import BankPeriod, CableRun, Design
    from optimizer.model.job import Job
    from optimizer.simulate import Verdict
    from ui.appliances import Appliance


_STAGES = {
    AgeStage.NEW: "new",
    AgeStage.MID_LIFE: "mid-life",
    AgeStage.LAST_YEAR: "last year",
}


def answer(choice: Choice, asked: int | None) -> tuple[str, str]:
    """Return the answer: its headline, and the sentences below it."""
    design, site = choice.design, choice.job.site
    currency = site.currency
    headline = (
        f"{hours_text(design.hours)} without the grid: {money(design.upfront_cost, currency)} "
        f"today, {money(design.life_cycle_cost, currency)} {over(site.horizon_years)}."
    )
    sentences = [
        "Running costs and later purchases are counted in, the value left at the end is taken "
        f"off. {equipment(design)}."
    ]
    if asked is not None and asked < design.hours:
        sentences.insert(0, f"Asked for {asked} h, the cheapest holds {design.hours} h.")
    return headline, " ".join(sentences)


def hours_text(hours: int) -> str:
    """Return hours in words."""
    return "1 hour" if hours == 1 else f"{hours} hours"


def years(count: float) -> str:
    """Return a number of years."""
    return f"{count:.1f} years"


def over(years: int) -> str:
    """Return the horizon in words."""
    return "over one year" if years == 1 else f"over {years} years"


def equipment(design: Design) -> str:
    """Return bank and inverter set in a sentence."""
    count = "one" if design.inverter_units == 1 else str(design.inverter_units)
    return (
        f"{_first_up(bank(design.banks[0]))} at {design.voltage_v} V behind {count} "
        f"{safe(design.inverter.inverter)}"
    )


def _first_up(text: str) -> str:
    return text[:1].upper() + text[1:]


def bank(period: BankPeriod) -> str:
    """Return a bank in words."""
    model = f"{safe(period.battery.battery)} ({family(safe(period.battery.family))})"
    if period.units == 1:
        return f"one {model}"
    if period.strings == 1:
        return f"{period.series} {model} in series"
    if period.series == 1:
        return f"{period.strings} {model} in parallel"
    return f"{period.strings} strings of {period.series} {model}"


def short_opinion(found: Verdict) -> str:
    """Return the second opinion in one clause."""
    if not found.holds:
        return f"The second opinion: it falls short, {found.hours:.1f} h from the worst start."
    return (
        f"The second opinion: it holds, {int(found.hours)} h from the worst start in its hardest "
        "year."
    )


def opinion(found: Verdict) -> str:
    """Return the second opinion in full."""
    at_least = "at least " if found.capped and found.hours >= found.horizon_hours else ""
    return (
        f"It {found.word}. Run hour by hour, it lasts {at_least}"
        f"{int(found.hours)} h from the worst start ({safe(found.season)}, "
        f"{found.start_hour}:00, year {found.year + 1}), {int(found.first_year_hours)} h in its "
        f"first year."
    )


def nothing(found: NothingDone, currency: str) -> str:
    """Return the cost of doing nothing."""
    text = (
        f"Doing nothing: {found.outages_per_year:,.0f} outages a year, "
        f"{found.hours_per_year:,.0f} h and {found.unserved_kwh_per_year:,.0f} kWh without supply"
    )
    if found.life_cycle_cost is None:
        return f"{text}; what that is worth is not set."
    worth = money(found.life_cycle_cost, currency)
    return f"{text}, worth {worth} {over(found.horizon_years)}."


def curve_caption(currency: str, years: int, *, upfront: bool, budget: float | None) -> str:
    """Return what the curve shows."""
    what = "Paid at the start" if upfront else f"Life-cycle cost {over(years)}"
    text = (
        f"{what}, {currency}. Each step is the cheapest equipment that holds that long; the grey "
        "band is the cheapest of all."
    )
    if budget is not None:
        text += f" Faded and hollow: more than {money(budget)} at the start."
    return text


def curve_file_caption(job: Job) -> str:
    """Return what stands below the heading of the curve's picture."""
    site = job.site
    return f"{plain(site.name)}. Cost {over(site.horizon_years)}, {site.currency} of today."


def waiting(done: int, whole: int) -> str:
    """Return how far a slow answer is."""
    return f"{CURVE_WAIT}: {done} of {whole} hours"


def binding(one: Explained, currency: str) -> str:
    """Return a requirement that binds."""
    check, write = one.check, Writer(currency)
    unit = check_unit(write, check)
    needs = "at most" if check.at_most else "at least"
    text = (
        f"{safe(check_name(write, check))}: {needs} {check.required:,.4g} {unit}, here "
        f"{check.provided:,.4g} {unit}."
    )
    if one.binds:
        return f"{text} Without it the answer would cost {money(one.saving, currency)} less."
    return f"{text} Nothing cheaper waits behind it; it has the least to spare."


def next_step(here: Design, there: Design | None, currency: str, max_hours: int) -> str:
    """Return what the next step costs."""
    if there is None:
        return f"No design is offered that holds longer, up to {max_hours} h."
    hours, cost = there.hours - here.hours, there.life_cycle_cost - here.life_cycle_cost
    upfront = there.upfront_cost - here.upfront_cost
    word = "more" if upfront >= 0 else "less"
    return (
        f"The next step holds {there.hours} h: {hours} h more for {money(cost, currency)} more "
        f"over the years, {money(cost / hours, currency)} an hour; "
        f"{money(abs(upfront), currency)} {word} at the start."
    )


def over_budget(amount: float, currency: str) -> str:
    """Return that a picked design costs more than may be paid."""
    return f"It costs {money(amount, currency)} more at the start than the budget."


def within_budget(design: Design, budget: float, currency: str) -> str:
    """Return the longest that a budget buys."""
    return (
        f"{money(budget, currency)} at the start buy {hours_text(design.hours)} at most, for "
        f"{money(design.life_cycle_cost, currency)} over the years."
    )


def appliance(one: Appliance) -> str:
    """Return an appliance and its usual figures in a line."""
    row = one.row
    start = row["starting_w"]
    starts = "" if start is None else f", {start:,.0f} W starting"
    return f"{one.name}: {row['running_w']:,.0f} W{starts}, duty {row['duty']:.0%}"


def no_design(hours: int) -> str:
    """Return the headline where nothing fits."""
    return f"Nothing on offer holds {hours_text(hours)} within these limits."


def design_heading(design: Design) -> str:
    """Return the heading above the design shown."""
    return f"The design for {hours_text(design.hours)}"


def cost_over(years: int) -> str:
    """Return what the life-cycle cost is called."""
    return f"Cost {over(years)}"


def wiring(run: CableRun) -> str:
    """Return cable and fuse."""
    runs = "" if run.runs == 1 else f"{run.runs} runs of "
    return f"{runs}{run.cable.section_mm2:g} mm², fuse {run.fuse.rating_a:g} A"


def requirement_columns(currency: str) -> tuple[str, ...]:
    """Return the headings of the requirements."""
    return ("Requirement", "Required", "Provided", "Unit", f"Without it, {currency} less")


def figure(value: float) -> str:
    """Return a quantity with the digits it deserves."""
    return f"{value:,.0f}" if abs(value) >= 100 or value == int(value) else f"{value:,.3g}"  # noqa: PLR2004


def strain(said: IndependentSimulation) -> str:
    """Return what larger loads would leave."""
    parts = [f"{int(one.hours)} h with {one.factor - 1:.0%} more load" for one in said.stressed]
    text = f"Strained, it lasts {' and '.join(parts)}."
    if said.burst_hours is not None:
        text += f" Minute by minute, motors in bursts, it lasts {int(said.burst_hours)} h."
    if said.replay is not None:
        count = len(said.replay.outages)
        text += f" Of the {count} outages logged, it carries {said.replay.carried} from end to end."
    return text


def age(one: AgeHours) -> str:
    """Return a bank and its age."""
    return f"{safe(one.battery)}, {_STAGES[one.stage]} (year {one.year + 1})"


def tier(name: str, *, counted: bool) -> str:
    """Return a tier and whether it is counted."""
    return safe(name) if counted else f"{safe(name)} (left out now)"


def capped(hours: float, horizon: float) -> str:
    """Return hours, or that they are more than was looked at."""
    return f"over {horizon:.0f}" if hours >= horizon else f"{hours:.1f}"


def outage(worst: Verdict, hours: float) -> str:
    """Return which outage is drawn."""
    return (
        f"The grid fails at {worst.start_hour}:00 in {safe(worst.season)} of year "
        f"{worst.year + 1}, the worst start of all; the bank is at its lowest allowed charge "
        f"after {int(hours)} h."
    )


def money_title(currency: str) -> str:
    """Return the title of the payments."""
    return f"Paid, {currency} of today"


def when(year: int) -> str:
    """Return a point in time of the payments."""
    return "start" if year == 0 else f"after year {year}"


def curve_name(name: str) -> str:
    """Return a curve's name for people."""
    return "cheapest of all" if name == OVERALL else family(name)


def curve_alt(curve: Curve, currency: str) -> str:
    """Return the curve in a sentence, for those who do not see it."""
    first, last = curve.points[0], curve.points[-1]
    return (
        f"Cost against hours without the grid: {len(curve.points)} steps from {first.hours} h for "
        f"{money(first.life_cycle_cost, currency)} to {last.hours} h for "
        f"{money(last.life_cycle_cost, currency)}. The table below the chart has them all."
    )


def log_summary(count: int, years: float | None, longest: float) -> str:
    """Return what a log holds."""
    covered = "" if years is None else f" in {years:g} years"
    return f"{count} outages{covered}, the longest {longest:.1f} h."


def table_name(name: str, rows: int) -> str:
    """Return a table and its size."""
    return f"{TABLES[name]}: {rows}"


def fault_row(fault: Fault) -> list[str]:
    """Return a fault's cells."""
    row = "" if fault.row is None else str(fault.row)
    column = "" if fault.column is None else fault.column
    return [safe(fault.file), row, safe(column), safe(fault.found), safe(fault.wanted)]
