"""Texts of the section that sets the families against each other."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from optimizer.report.words import money
from optimizer.report.words.english import family
from ui.markup import safe
from ui.words.sentences import hours_text, over

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.comparison.budgets import Staircase, Step

NOTHING_FITS: Final = (
    "There is nothing to compare: nothing on offer holds that long within these limits."
)
ONE_FAMILY: Final = "The price list holds one family only, so there is nothing to turn to."
SWITCH_POINTS: Final = "What would change the answer?"
SWITCH_POINTS_ALL: Final = "Look along every other number"
SWITCH_POINTS_ALL_HELP: Final = (
    "Prices and the tariff are solved for, other numbers looked through; that takes a few seconds."
)
SWITCH_POINT_SIDES: Final = "Both sides of every switch point"
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


def paid_title(currency: str) -> str:
    """Return what the cumulative money shows."""
    return f"{currency} of today, summed up; hollow: less the residual value."


def sensitivities_title(currency: str, hours: int, budget: float, *, what: str) -> str:
    """Return what the sensitivities show."""
    how = "Hollow at the low value, full at the high one; the line is today's answer."
    if what == "cost":
        return f"Cost of {hours_text(hours)}, {currency}. {how}"
    return f"Hours that {money(budget, currency)} at the start buy. {how}"


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
