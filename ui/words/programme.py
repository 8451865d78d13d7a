"""Texts of the page of many sites."""

from typing import Final

from optimizer.report.words.writer import Writer
from ui.language import say

BACK: Final = say("Back to one site")
TABLE: Final = say("A table of sites")
BUDGETS: Final = say("Budgets")
BUDGETS_HELP: Final = say(
    "For all sites together at the start; up to four, with semicolons between."
)
GOAL: Final = say("What is made best")
FLOOR: Final = say("Autonomy at every site")
SHARE: Final = say("Each group gets at least")
SCENARIOS: Final = say("Try worse outages too")
START: Final = say("Work it out")
OLD: Final = say("The answer below is still the one before the last change.")
BY_SITE: Final = say("Every site")
CHANGES: Final = say("What a tenth less or more would change")
YEARS: Final = say("Spending by year")
REGRET: Final = say("If outages turn out worse")
PAGE: Final = say("One page to decide by")
WORKBOOK: Final = say("All tables")
SAMPLE: Final = say("The sample table")


def lead(write: Writer, site: str) -> str:
    """Return what the page does."""
    return write.say(
        "Who gets what, for the people they serve: every site's exact curve, then the best choice "
        "among all of them. A row of the table is like a bundled site or, where it names none, "
        "like {site}, with its own people, district and size.",
        site=site,
    )


def table_help(write: Writer, names: list[str]) -> str:
    """Return what a table of sites looks like."""
    return write.say("CSV or XLSX with the columns {names:list}.", names=names)


def waiting(write: Writer, done: int, whole: int) -> str:
    """Return how far the curves are."""
    return write.say("{done} of {whole} sites", done=done, whole=whole)


def sample(write: Writer, count: int) -> str:
    """Return that the bundled programme stands here until a table is dropped in."""
    return write.say(
        "Until a table is dropped in, these are {count} invented sites in three districts.",
        count=count,
    )
