"""What stands in charts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.report.words.design import chemistry as family
from optimizer.report.words.design import heading

if TYPE_CHECKING:
    from optimizer.comparison.break_even_line import BreakEvenLine
    from optimizer.comparison.budgets import Staircase
    from optimizer.comparison.sensitivities import Sensitivities
    from optimizer.comparison.side_by_side import Comparison
    from optimizer.comparison.tier_costs import Tiers
    from optimizer.report.words.writer import Writer


def wins(write: Writer, name: str) -> str:
    """Return that a family wins."""
    return write.say("{family} wins", family=family(write, name))


def wins_at(write: Writer, value: str, name: str) -> str:
    """Return that a family wins at a value."""
    return write.say("{value}: {family} wins", value=value, family=family(write, name))


def nothing_fits_at(write: Writer, value: str) -> str:
    """Return that no design fits at a value."""
    return write.say("{value}: nothing fits", value=value)


def today(write: Writer) -> str:
    """Return the mark of what is so today."""
    return write.say("today")


def autonomy(write: Writer) -> str:
    """Return the title of hours."""
    return write.say("Autonomy, h")


def required(write: Writer, hours: int) -> str:
    """Return the mark of the autonomy that the site asks for."""
    return write.say("required {hours} h", hours=hours)


def cost(write: Writer, years: int, *, upfront: bool = False) -> str:
    """Return what money is called: at the start, or over the study period."""
    if upfront:
        return write.say("Upfront cost, {currency}", currency=write.currency)
    return write.say(
        "Life-cycle cost over {years:years}, {currency}", years=years, currency=write.currency
    )


def paid_to_date(write: Writer) -> str:
    """Return the title of what has been paid by when."""
    return write.say("Paid to date, {currency} of today", currency=write.currency)


def limit(write: Writer, amount: float, *, upfront: bool) -> str:
    """Return a budget's mark."""
    if upfront:
        return write.say("upfront budget {amount:number}", amount=amount)
    return write.say("life-cycle budget {amount:number}", amount=amount)


def nothing_done(write: Writer, amount: float) -> str:
    """Return the mark of doing nothing."""
    return write.say("doing nothing {amount:number}", amount=amount)


def chosen(write: Writer, hours: int, amount: float, *, among: int = 1) -> str:
    """Return a chosen point's mark, short where it is one among several."""
    if among > 1:
        return write.say("{hours} h", hours=hours)
    return write.say("{hours} h for {amount:number}", hours=hours, amount=amount)


def point_aloud(
    write: Writer, hours: int, bank: str, inverter: str, *, costs: tuple[str, str]
) -> str:
    """Return a point of the curve for screen readers."""
    return write.say(
        "{hours} h: {bank} behind {inverter}, {upfront} upfront, {lifetime} life-cycle cost",
        hours=hours,
        bank=bank,
        inverter=inverter,
        upfront=costs[0],
        lifetime=costs[1],
    )


def point_fields(write: Writer, years: int) -> dict[str, str]:
    """Return what is named of a point of the curve, by field."""
    return {
        "hours": autonomy(write),
        "bank": write.say("Bank"),
        "inverter": write.say("Inverter-charger"),
        "upfront": cost(write, years, upfront=True),
        "lifetime": cost(write, years),
        "later": write.say("Replacements"),
    }


def start(write: Writer) -> str:
    """Return the first year's name."""
    return write.say("start")


def years_from_the_start(write: Writer) -> str:
    """Return the title of years."""
    return write.say("Years from the start")


def payment_kinds(write: Writer) -> dict[str, str]:
    """Return how kinds of payments are called."""
    return {
        "first": write.say("upfront cost"),
        "bought": write.say("replacement"),
        "running": write.say("running costs"),
        "value": write.say("residual value"),
    }


def payment_fields(write: Writer) -> dict[str, str]:
    """Return what is named of a payment, by field."""
    return {
        "year": years_from_the_start(write),
        "kind": write.say("What"),
        "text": write.say("Amount"),
    }


def since_failure(write: Writer) -> str:
    """Return the title of an outage's hours."""
    return write.say("Hours since the grid failed")


def charge_fields(write: Writer) -> dict[str, str]:
    """Return what is named of the charge in an outage, by field."""
    return {
        "hours": since_failure(write),
        "clock": write.say("Time of day"),
        "percent": write.say("State of charge, %"),
    }


def load_fields(write: Writer) -> dict[str, str]:
    """Return what is named of the loads in an outage, by field."""
    return {
        "tier": write.say("Tier"),
        "hours": since_failure(write),
        "watts": write.say("Loads, W"),
    }


def lowest_charge(write: Writer, share: float) -> str:
    """Return the mark of the lowest state of charge allowed."""
    return write.say("lowest allowed {share:share.0}", share=share)


def claimed(write: Writer, hours: int) -> str:
    """Return the mark of the hours that a design is sold for."""
    return write.say("{hours} h planned", hours=hours)


def generator_runs(write: Writer) -> str:
    """Return the mark of the hours in which the generator runs."""
    return write.say("generator runs")


def fuel_stored(write: Writer, litres: float) -> str:
    """Return the mark of the fuel stored."""
    return write.say("stored {litres:number.1} l", litres=litres)


def fuel_fields(write: Writer) -> dict[str, str]:
    """Return what is named of the fuel in an outage, by field."""
    return {"hours": since_failure(write), "litres": write.say("Fuel burnt, l")}


def let_go(write: Writer, tier: str) -> str:
    """Return the mark of the moment at which a tier is let go."""
    return write.say("{tier} let go", tier=tier)


def cut(write: Writer) -> str:
    """Return the mark of a scheduled cut."""
    return write.say("cut")


def time_of_day(write: Writer) -> str:
    """Return the title of hours of days."""
    return write.say("Hour of the day")


def clock(hour: float) -> str:
    """Return a time of day, to the minute."""
    minutes = round(hour * 60)
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"


def day_fields(write: Writer) -> dict[str, str]:
    """Return what is named of the charge over days of cuts, by field."""
    return {"clock": write.say("Time of day"), "percent": write.say("State of charge, %")}


def at_once(write: Writer, power_w: float) -> str:
    """Return the mark of the highest minute."""
    return write.say("{power:number} W at once", power=power_w)


def burst_fields(write: Writer) -> dict[str, str]:
    """Return what is named of the loads by the minute, by field."""
    return {"clock": write.say("Time of day"), "watts": write.say("Loads, W")}


def day_of_month(write: Writer) -> str:
    """Return the title of a month's days."""
    return write.say("Day of the month; peaks evenly spread")


def drawn_w(write: Writer) -> str:
    """Return the title of what is drawn from the supply."""
    return write.say("Drawn at the peaks, W")


def peak_fields(write: Writer) -> dict[str, str]:
    """Return what is named of a peak, by field."""
    return {
        "power": drawn_w(write),
        "minutes": write.say("Minutes"),
        "above": write.say("Above the contract, W"),
    }


def bank_adds(write: Writer, power_w: float) -> str:
    """Return the mark of what the bank adds at a peak."""
    return write.say("the bank adds {power:number} W", power=power_w)


def contract(write: Writer, power_w: float) -> str:
    """Return the mark of the contract's limit."""
    return write.say("contract {power:number} W", power=power_w)


def paid_in_the_end(write: Writer, name: str, amount: float) -> str:
    """Return what a family has cost in the end, at the end of its line."""
    return write.say("{family} {amount:number}", family=family(write, name), amount=amount)


def caught_up(write: Writer, name: str, years: int) -> str:
    """Return the mark of the year by which the dearer family has caught up."""
    return write.say(
        "{family} has caught up after {years:years}", family=family(write, name), years=years
    )


def paid_heading(write: Writer, found: Comparison) -> tuple[str, str]:
    """Return title and subtitle of what has been paid by when."""
    return (
        write.say("Paid to date, for {hours:hours} of autonomy", hours=found.hours),
        write.say(
            "{currency} of today; hollow: with the residual value deducted. {family} is cheaper "
            "by {margin:money} in present value.",
            currency=write.currency,
            family=heading(write, found.winner.name),
            margin=found.cheaper_by,
        ),
    )


def energy_of(write: Writer, name: str, energy_wh: float) -> str:
    """Return a bank as a point of a chart names it."""
    return write.say(
        "{family}, {energy:number.1} kWh", family=family(write, name), energy=energy_wh / 1000
    )


def trade_fields(write: Writer, years: int) -> dict[str, str]:
    """Return what is named of a design of the same hours, by field."""
    return {
        "bank": write.say("Bank"),
        "upfront": cost(write, years, upfront=True),
        "cost": cost(write, years),
    }


def price_axis(write: Writer, name: str) -> str:
    """Return the title of a family's battery price."""
    return write.say("Price of {family} batteries against today's, %", family=family(write, name))


def break_even_heading(write: Writer, line: BreakEvenLine) -> tuple[str, str]:
    """Return title and subtitle of the break-even line."""
    one, other = family(write, line.other), family(write, line.priced)
    return (
        write.say("Where {one} and {other} cost the same", one=one, other=other),
        write.say("Below the line {other} wins, above it {one}", one=one, other=other),
    )


def sensitivity_axis(write: Writer, found: Sensitivities, *, cost: bool) -> str:
    """Return the title of a sensitivity's axis."""
    if not cost:
        return autonomy(write)
    return write.say(
        "Life-cycle cost of {hours:hours} over {years:years}, {currency}",
        hours=found.hours,
        years=found.job.site.horizon_years,
        currency=write.currency,
    )


def sensitivity_heading(
    write: Writer, found: Sensitivities, now: float, *, cost: bool
) -> tuple[str, str]:
    """Return title and subtitle of a sensitivity."""
    if cost:
        return (
            write.say("What moves the life-cycle cost of {hours:hours}", hours=found.hours),
            write.say("Now {now:money}; hollow: lower value, full: higher value", now=now),
        )
    return (
        write.say("What moves the autonomy that {budget:money} upfront buys", budget=found.budget),
        write.say("Now {now:hours}; hollow: lower value, full: higher value", now=now),
    )


def budget_axis(write: Writer, *, lifetime: bool) -> str:
    """Return the title of a budget."""
    if lifetime:
        return write.say("Life-cycle budget, {currency}", currency=write.currency)
    return write.say("Upfront budget, {currency}", currency=write.currency)


def more(write: Writer, amount: float) -> str:
    """Return how much more money the next hour takes."""
    return write.say("+{amount:number}", amount=amount)


def step_fields(write: Writer, *, lifetime: bool) -> dict[str, str]:
    """Return what is named of a step, by field."""
    return {
        "budget": budget_axis(write, lifetime=lifetime),
        "hours": autonomy(write),
        "bank": write.say("Bank"),
        "later": write.say("Replacements"),
    }


def staircase_heading(write: Writer, found: Staircase) -> tuple[str, str]:
    """Return title and subtitle of what money buys."""
    if found.lifetime:
        title = write.say("What a life-cycle budget buys")
    else:
        title = write.say("What an upfront budget buys")
    below = write.say("Level where more money buys no more hours; marks: family of the first bank")
    return title, below


def tier(write: Writer, name: str, *, first: bool) -> str:
    """Return a tier's curve: the first alone, the others on top."""
    if first:
        return write.say("{tier} alone", tier=name)
    return write.say("+ {tier}", tier=name)


def tiers_heading(write: Writer, found: Tiers) -> tuple[str, str]:
    """Return title and subtitle of the tiers."""
    years = found.job.site.horizon_years
    return (
        write.say("Tier by tier: life-cycle cost over {years:years}", years=years),
        write.say("{currency}, residual value deducted", currency=write.currency),
    )
