"""Texts of the section that sets the families against each other."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from optimizer.report.rivals_words import range_in_words
from optimizer.report.words import money, plain
from optimizer.report.words.english import family
from ui.markup import safe
from ui.words.sentences import hours_text, over

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.comparison.budgets import Staircase, Step
    from optimizer.comparison.side_by_side import Comparison
    from optimizer.comparison.switch_points import SwitchPoints

NOTHING_FITS: Final = (
    "There is nothing to compare: nothing on offer holds that long within these limits."
)
ONE_FAMILY: Final = "The price list holds one family only, so there is nothing to turn to."
SWITCH_POINTS: Final = "What would change the answer?"
SWITCH_POINTS_ALL: Final = "Look along every other number"
SWITCH_POINTS_ALL_HELP: Final = (
    "Each switch point is solved for, not scanned; that takes about two seconds."
)
SWITCH_POINTS_COLUMNS: Final = ("All else equal", "Now", "Who wins")
SWITCH_POINT_SIDES: Final = "Both sides of every switch point"
SWITCH_POINT_SIDES_COLUMNS: Final = (
    "Number",
    "From",
    "To",
    "Winner",
    "Cost below",
    "Cost above",
    "Kind",
)
RANGES_COLUMNS: Final = ("Number", "Looked through")
NONE: Final = "none"
PAID: Final = "What has been paid by when?"
SIDE_BY_SIDE: Final = "Side by side"
CHEMISTRIES: Final = "Each chemistry by itself"
PAID_TABLE: Final = "What has been paid by when, as a table"
PICTURE_PNG, PICTURE_SVG = "Chart as PNG", "Chart as SVG"
PAID_ALT: Final = "Money paid by each year, one line a family; the table below has the figures."
BREAK_EVEN_LINE_ALT: Final = "The line on which both cost the same; the table below has its points."
SENSITIVITIES_ALT: Final = "One bar a number, the widest on top; the table below has the figures."
STAIRS_ALT: Final = "Hours over the budget, as stairs; the table below has every step."
TIERS_ALT: Final = "Cost against hours, one line a tier; the table below has the figures."

FURTHER: Final = "Look further"
BREAK_EVEN_LINE: Final = "Two numbers at once"
MOVES: Final = "What moves the answer?"
BUDGETS: Final = "What does a budget buy?"
TIERS: Final = "What does each tier cost?"
WORKING: Final = "Working it out"
AGAIN: Final = "Work it out for the job as it is now"

ACROSS: Final = "The number beside the battery price"
COST_SENSITIVITIES: Final = "Cost"
HOURS_SENSITIVITIES: Final = "Hours"
HOW_SENSITIVITIES: Final = "What is moved"
ALONE: Final = "Each number by itself"
TOGETHER: Final = "All of them at once"
NOTHING_MOVES: Final = "None of the numbers moves it within what may be doubted."
REGRET_TABLE: Final = "How each first purchase fares"
HOW_DRAWN: Final = "How the futures are drawn"
STRANDED: Final = "left stranded"
SAFEST: Final = "safest"
TODAY: Final = "cheapest today"

HOW_BUDGET: Final = "Budget"
BUDGET_START: Final = "at the start"
BUDGET_LIFETIME: Final = "over the years"
LATER_HELP: Final = "What may be bought in any one later year; blank for no limit."
BUDGET_HELP: Final = "Type one to read off what it buys; blank for none."
NO_STAIRS: Final = "No budget buys anything within that limit on later years."
NO_TIERS: Final = "Nothing on the price list carries any tier of these loads."


def heading(families: Sequence[str]) -> str:
    """Return the question: which of the families."""
    if len(families) < 2:  # noqa: PLR2004 - one alone is no choice
        return "Which family?"
    names = [family(safe(name)) for name in families]
    text = f"{', '.join(names[:-1])} or {names[-1]}?"
    return text[:1].upper() + text[1:]


def named(name: str) -> str:
    """Return a family's name for people."""
    return family(safe(name))


def missing(names: Sequence[str]) -> str:
    """Return which families and chemistries carry nothing."""
    listed = " or ".join(family(safe(name)) for name in names)
    return f"Nothing {listed} on offer lasts that long."


def others(comparison: Comparison) -> str:
    """Return the families that come third and later."""
    currency = comparison.job.site.currency
    listed = "; ".join(
        f"{family(safe(one.name))} {money(one.design.life_cycle_cost, currency)}"
        for one in comparison.families[2:]
    )
    return f"Further behind: {listed}."


def unbroken(text: str) -> str:
    """Return a short cell that stays on one line."""
    return safe(text).replace(" ", "\N{NO-BREAK SPACE}")


def unproven(pieces: int) -> str:
    """Return how many pieces of a range were left open."""
    return "" if pieces == 0 else f" ({pieces} pieces of the range left unproven)"


def steady(along: Sequence[SwitchPoints]) -> str:
    """Return the numbers that turn nothing, each with the range looked through."""
    listed = "; ".join(
        f"{safe(one.parameter.name)}, {safe(range_in_words(one.parameter))}" for one in along
    )
    return f"No switch point anywhere in the range looked through: {listed}."


def equipment(name: str, design: str, later: str) -> str:
    """Return a family's equipment and what is bought later."""
    named = family(safe(name))
    return f"**{named[:1].upper() + named[1:]}**: {safe(design)}. Bought later: {safe(later)}."


def paid_title(currency: str) -> str:
    """Return what the cumulative money shows."""
    return f"{currency} of today, summed up; hollow: less the residual value."


def paid_columns(names: Sequence[str]) -> list[str]:
    """Return the headings of the cumulative money."""
    kinds = ("money of today", "money of the day", "present value")
    columns = [f"{family(safe(name))}, {kind}" for name in names for kind in kinds]
    return ["When", *columns, "Bought"]


def side_rows(currency: str, years: int) -> tuple[str, ...]:
    """Return the names of the figures side by side, in order."""
    return (
        f"Cost {over(years)}, {currency}",
        f"Paid at the start, {currency}",
        f"Left at the end, {currency} of today",
        f"A month that pays for all of it, {currency}",
        f"An hour held, {currency}",
        f"A usable kWh, {currency}",
        "Holds, h",
        "Usable when new, kWh",
        "Mass, kg",
        "Floor, m²",
    )


def chemistry_columns(currency: str, years: int) -> tuple[str, ...]:
    """Return the headings of the chemistries."""
    return (
        "Chemistry",
        f"Cost {over(years)}, {currency}",
        f"At the start, {currency}",
        f"Left at the end, {currency}",
        "Holds, h",
        "Mass, kg",
        "Bank and inverter-charger",
        "Bought later",
    )


def break_even_line_columns(across: str, priced: str) -> tuple[str, str]:
    """Return the headings of the break-even line's points."""
    return safe(across), f"Both cost the same with {safe(priced)} batteries"


def wins_anyway(name: str) -> str:
    """Return that one side wins at any price."""
    return f"{safe(name)} wins at any price tried"


def sensitivities_title(currency: str, hours: int, budget: float, *, what: str) -> str:
    """Return what the sensitivities show."""
    how = "Hollow at the low value, full at the high one; the line is today's answer."
    if what == "cost":
        return f"Cost of {hours_text(hours)}, {currency}. {how}"
    return f"Hours that {money(budget, currency)} at the start buy. {how}"


def sensitivities_columns(currency: str, *, what: str) -> tuple[str, ...]:
    """Return the headings of the sensitivities."""
    unit = currency if what == "cost" else "h"
    amounts = tuple(f"{when}, {unit}" for when in ("At low", "Now", "At high"))
    return ("Number", "Low", "Now", "High", *amounts, "Winner at low, now, high")


def regret_columns(currency: str) -> tuple[str, ...]:
    """Return the headings of the first purchases."""
    return (
        "First purchase",
        "Family",
        "Cheapest in, %",
        f"Largest regret, {currency}",
        f"Mean regret, {currency}",
        f"Mean cost, {currency}",
        "",
    )


def later_label(currency: str) -> str:
    """Return the label of the limit on later years."""
    return f"Any later year at most, {currency}"


def budget_label(currency: str) -> str:
    """Return the label of a budget to read off."""
    return f"A budget to read off, {currency}"


def stairs_title(currency: str, years: int, *, lifetime: bool) -> str:
    """Return what the staircase shows."""
    kind = over(years) if lifetime else "at the start"
    return (
        f"Hours that a budget {kind} buys, {currency}. Level: more money buys no more hours. "
        "Marks: family of the first bank."
    )


def stairs_columns(currency: str, years: int, *, lifetime: bool) -> tuple[str, ...]:
    """Return the headings of the steps."""
    other = "At the start" if lifetime else f"Cost {over(years)}"
    return (
        f"From, {currency}",
        "Hours",
        f"Each hour of the step, {currency}",
        f"{other}, {currency}",
        "Bank and inverter-charger",
        "Bought later",
        "What made the step",
    )


def reach(stairs: Staircase, hours: int, budget: float | None) -> list[str]:
    """Return budget and hours both ways, in sentences."""
    site = stairs.job.site
    kind = over(site.horizon_years) if stairs.lifetime else "at the start"
    first = next((step for step in stairs.steps if step.hours >= hours), None)
    if first is None:
        said = [f"No budget buys {hours_text(hours)}."]
    else:
        said = [
            f"{hours_text(hours)} ask for {money(math.ceil(first.budget), site.currency)} {kind}."
        ]
    if budget is not None:
        said.append(_bought(stairs, budget, kind))
    return said


def _bought(stairs: Staircase, budget: float, kind: str) -> str:
    currency = stairs.job.site.currency
    here = stairs.at(budget)
    after: Step | None = next((step for step in stairs.steps if step.budget > budget), None)
    more = (
        "No money buys more."
        if after is None
        else f"{hours_text(after.hours)} begin at {money(math.ceil(after.budget), currency)}."
    )
    if here is None:
        return f"{money(budget, currency)} {kind} buy nothing yet. {more}"
    bought = family(safe(here.design.banks[0].battery.family))
    return f"{money(budget, currency)} {kind} buy {hours_text(here.hours)}, {bought}. {more}"


def tiers_title(currency: str, years: int) -> str:
    """Return what the tiers' curves show."""
    return f"Cost {over(years)}, {currency}, of the first tier alone, then with one more each."


def tier_columns(added: Sequence[str], currency: str) -> list[str]:
    """Return the headings of the tiers: each one's cost, and how much more it is."""
    columns = ["Hours"]
    for number, name in enumerate(added):
        if number == 0:
            columns.append(f"{safe(name)} alone, {currency}")
        else:
            columns += [f"with {safe(name)}, {currency}", f"more by, {currency}"]
    return columns


def tier_hours(hours: int, target: int) -> str:
    """Return the hours of a row, the target's marked."""
    return f"target {hours}" if hours == target else str(hours)


def winners(names: Sequence[str | None]) -> str:
    """Return one name where they agree, else all three."""
    told = [NONE if name is None else family(plain(name)) for name in names]
    return safe(told[0] if len(set(told)) == 1 else ", ".join(told))
