"""The states a person meets, each reached from the address alone or by a few clicks."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.inputs.demo import site_file
from optimizer.inputs.draft import draft_from_files, loads_table, survey_rows
from optimizer.inputs.households import household
from optimizer.inputs.typed import WHOLE_DAY
from ui import memory, words
from ui.answers.rivals_further import BUDGET
from ui.words import quote, rivals, standing

if TYPE_CHECKING:
    from collections.abc import Callable

    from optimizer.inputs.draft import Draft
    from tests.ui.conftest import Visit

#: More loads than a household lists, under names longer than a field.
MANY: Final = 40
_LOAD: Final = {"tier": "essential", "count": 1, "running_w": 12.0, "power_factor": 0.9}
_LOAD |= {"starting_w": None, "hours": WHOLE_DAY, "duty": 0.5, "seasons": ""}
_LONG: Final = "Ventilation of the cellar behind the northern staircase, fan"


def demo(name: str) -> Draft:
    return draft_from_files(site_file(name))


def with_load(draft: Draft, **changes) -> Draft:
    rows = survey_rows(draft.tables["loads"])
    return draft.with_table("loads", loads_table([*rows, {**_LOAD, **changes}]))


def crowded() -> Draft:
    draft = household("flat")
    for place in range(MANY):
        draft = with_load(draft, load=f"{_LONG} {place}", tier=f"tier {place % 9}")
    return draft


def show(visit: Visit, draft: Draft, *questions: str) -> None:
    """Open a job by its link, where it is not open already, and questions."""
    hours = draft.site["resilience"]["target_hours"]
    link = memory.link(draft.with_site("resilience", "max_hours", 2 * hours), ())
    assert link is not None
    if not visit.page.url.endswith(link):
        visit.page.goto(f"{visit.server.url}/{link}")
        visit.page.wait_for_selector(".st-key-questions")
        visit.settle()
    for one in questions:
        visit.question(one)


def open_parts(visit: Visit, draft: Draft, *headings: str) -> None:
    show(visit, draft)
    for one in headings:
        visit.open_part(one)


def fault(visit: Visit) -> None:
    show(visit, household("flat"), words.ASK_LOADS)
    field = visit.page.get_by_role("textbox", name=f"{words.COLUMNS['running_w']}, W")
    field.fill("1,200")
    field.press("Enter")
    visit.page.get_by_text("if thousands are meant").wait_for()


def bank(visit: Visit) -> None:
    open_parts(visit, household("flat"), standing.HEADING)
    field = visit.page.get_by_label(standing.BANK)
    field.fill("12 V 95 Ah agm")
    field.press("Enter")
    visit.page.get_by_text("Assumed", exact=True).wait_for()


def further(visit: Visit) -> None:
    open_parts(visit, household("farmhouse"), "Lead-acid or lithium?")
    visit.page.get_by_role("radio", name=rivals.TIERS).click()
    visit.page.locator(".st-key-plain-tiers svg.marks").wait_for()
    visit.page.get_by_role("radio", name=rivals.BUDGETS).click()
    visit.page.locator(".st-key-plain-budget svg.marks").wait_for()
    visit.page.locator(f".st-key-{BUDGET.replace(' ', '-')} input").fill("4.000,00")
    visit.page.keyboard.press("Enter")


def priced(visit: Visit) -> None:
    show(visit, household("flat"))
    visit.page.get_by_role("button", name=quote.MAKE, exact=True).click()
    visit.page.get_by_role("tab").first.wait_for()


def sites(visit: Visit) -> None:
    visit.page.goto(f"{visit.server.url}/sites")
    visit.page.get_by_text(words.MANY_SITES).first.wait_for()


def gone(visit: Visit) -> None:
    visit.page.goto(f"{visit.server.url}/?kept=yesterday")
    visit.page.get_by_text(words.LOST_TITLE).wait_for()


def _question(name: str) -> Callable[[Visit], None]:
    return lambda visit: show(visit, household("farmhouse"), name)


STATES: Final[dict[str, Callable[[Visit], None]]] = {
    "first": lambda visit: show(visit, demo("house")),
    "blank": lambda visit: show(visit, household("blank"), words.ASK_LOADS),
    "own-house": lambda visit: show(visit, household("medical"), words.ASK_LOADS),
    "fault": fault,
    "impossible": lambda visit: show(
        visit, with_load(household("flat"), load="Kiln", running_w=90_000.0)
    ),
    "poor": lambda visit: show(visit, household("flat").with_site("limits", "budget", 300)),
    "bank": bank,
    "prices": lambda visit: show(visit, household("flat"), words.ASK_PRICES),
    "cuts": lambda visit: open_parts(visit, demo("clinic"), words.CUTS, words.OUTAGE, words.BURSTS),
    "contract": lambda visit: open_parts(
        visit, demo("house"), words.PEAKS, words.THREE_DAYS, words.FIGURES, words.SIMULATION
    ),
    "money": lambda visit: open_parts(
        visit, demo("hall"), words.MONEY, words.TRADES, words.BINDING, words.STEP
    ),
    "further": further,
    "quote": priced,
    "sites": sites,
    "gone": gone,
    "crowded": lambda visit: show(visit, crowded(), words.ASK_LOADS),
    **{
        name: _question(label)
        for name, label in {
            "outages": words.ASK_OUTAGES,
            "supply": words.ASK_SUPPLY,
            "place": words.ASK_PLACE,
            "money-question": words.ASK_MONEY,
            "files": words.ASK_FILES,
        }.items()
    },
}
