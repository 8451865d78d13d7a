"""Texts of the section that sets the families against each other."""

from collections.abc import Sequence
from typing import Final

from optimizer.report.words.design import chemistry
from optimizer.report.words.writer import Writer
from ui.language import say

NOTHING_FITS: Final = say(
    "There is nothing to compare: nothing on offer carries so long within these limits."
)
ONE_FAMILY: Final = say("The price list holds one family only, so there is nothing to turn to.")
SWITCH_POINTS: Final = say("What would change the answer?")
SWITCH_POINTS_ALL: Final = say("Look along every other number")
SWITCH_POINTS_ALL_HELP: Final = say(
    "Prices and the tariff are solved for, other numbers looked through; that takes a few seconds."
)
SWITCH_POINT_SIDES: Final = say("Both sides of every switch point")
PAID: Final = say("What has been paid by when?")
PICTURE_PNG, PICTURE_SVG = say("Chart as PNG"), say("Chart as SVG")
PAID_ALT: Final = say(
    "Money paid by each year, one line a family; the table below has the figures."
)
BREAK_EVEN_LINE_ALT: Final = say(
    "The line on which both cost the same; the table below has its points."
)
SENSITIVITIES_ALT: Final = say(
    "One bar a number, the widest on top; the table below has the figures."
)
STAIRS_ALT: Final = say("Hours over the budget, as stairs; the table below has every step.")
TIERS_ALT: Final = say("Cost against hours, one line a tier; the table below has the figures.")

FURTHER: Final = say("Look further")
BREAK_EVEN_LINE: Final = say("Two numbers at once")
MOVES: Final = say("What moves the answer?")
BUDGETS: Final = say("What does a budget buy?")
TIERS: Final = say("What does each tier cost?")
WORKING: Final = say("Working it out")
AGAIN: Final = say("Work it out for the job as it is now")

ACROSS: Final = say("The number beside the battery price")
MOVED: Final = {"cost": say("Life-cycle cost"), "hours": say("Autonomy")}
HOW_SENSITIVITIES: Final = say("What is moved")
ALONE: Final = say("Each number by itself")
TOGETHER: Final = say("All of them at once")
NOTHING_MOVES: Final = say("None of the numbers moves it within what may be doubted.")
REGRET_TABLE: Final = say("How each first purchase fares")

HOW_BUDGET: Final = say("Budget")
BUDGET_KINDS: Final = {False: say("upfront"), True: say("life-cycle")}
READ_OFF: Final = say("A budget to read off")
BUDGET_HELP: Final = say("Type one to read off what it buys; blank for none.")
NO_TIERS: Final = say("Nothing on the price list carries any tier of these loads.")


def heading(write: Writer, families: Sequence[str]) -> str:
    """Return the question: which of the families."""
    names = [chemistry(write, family) for family in families]
    if len(names) < 2:  # noqa: PLR2004 - one alone is no choice
        return write.say("Which family?")
    text = write.say("{names:choice}?", names=names)
    return text[:1].upper() + text[1:]
