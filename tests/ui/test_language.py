"""The page in a language that nobody speaks: no English word of its own is left on it.

The page's labels are said once, as it is loaded: so it is loaded by a process of its own.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from optimizer import load
from optimizer.inputs.appliances import appliances
from optimizer.inputs.demo import demo_titles, site_file
from optimizer.inputs.draft import draft_from_files
from optimizer.inputs.price_tables import PRICE_TABLES
from optimizer.report.words import catalogue
from tests.unit.report.words.test_pseudo_language import (
    LOCALE,
    UNITS,
    messages,
    names,
    pseudo,
    words_of,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["messages", "pseudo"]
pytestmark = pytest.mark.slow
#: Of an element: what a person never reads, or chose to write.
UNREAD = {"id", "element_id", "form_id", "key", "user_key", "spec", "format", "type", "icon"}
UNREAD |= {"mark_class", "url", "page", "selection_mode", "value", "raw_values"}
#: Words that are the same in every language, are to be typed like this, or colour a text.
KEPT = {
    "red",
    "small",
    "en",
    "keeplit",
    "CSV",
    "XLSX",
    "PNG",
    "SVG",
    "TOML",
    "JSON",
    "PDF",
    "ISO",
    "IEC",
    "hp",
    "agm",
}
BANK = "12 V 95 Ah agm"


def strings(message: Any) -> Iterator[str]:
    """Yield every text of an element that is shown."""
    for field, held in message.ListFields():
        if field.name in UNREAD:
            continue
        for one in held if field.is_repeated else [held]:
            if field.type == field.TYPE_STRING:
                yield one
            elif field.type == field.TYPE_MESSAGE:
                yield from strings(one)


def told(page: Any) -> Iterator[str]:
    for element in page.main:
        if element.proto is not None and element.type not in {"html", "code"}:
            yield from strings(element.proto)


def main(folder: str) -> None:
    """Open all of the page, and print what it tells in each state."""
    catalogue.FOLDER = Path(folder)
    from tests.ui.pages import PARTS, state_of, unopened
    from tests.ui.pages import site as small
    from ui.questions import QUESTIONS
    from ui.state import State
    from ui.words import quote, standing

    page = unopened()
    draft = draft_from_files(site_file(small())).with_site("resilience", "max_hours", 20)
    page.session_state["job"] = State(draft, draft, draft.job())
    for heading in (*PARTS, standing.HEADING):
        page.session_state[f"part {heading}"] = True
    page.run()
    found = {"first": list(told(page))}
    page.text_input(key="standing bank").set_value(BANK)
    next(one for one in page.button if one.label == quote.MAKE).click().run()
    page.text_input(key="quote locale").set_value(LOCALE)  # the customer's own
    page.text_input(key="limits.budget").set_value("much").run()
    found["opened"] = list(told(page))
    for question in QUESTIONS:
        state_of(page).question = question
        page.run()
        found[question] = list(told(page))
    page.text_input(key="limits.budget").set_value("10").run()
    found["poor"] = list(told(page))
    assert not page.exception
    print(json.dumps(found))


def test_nothing_english_is_left_on_the_page(pseudo, tmp_path):
    site = os.environ["KEEPLIT_SITE"]
    ran = subprocess.run(
        [sys.executable, "-m", "tests.ui.test_language", str(tmp_path)],
        env={**os.environ, "KEEPLIT_LOCALE": LOCALE},
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,  # what Streamlit says outside of a browser
        check=True,
    )
    found = json.loads(ran.stdout)
    job = load(site)
    kept = names(job) | UNITS | KEPT | set(PRICE_TABLES)
    for text in (*demo_titles(), *(one.name for one in appliances())):
        kept |= set(words_of(text))
    kept |= {word for one in appliances() for word in words_of(one.source)}
    left = {
        state: sorted({word for text in texts for word in words_of(text)} - kept)
        for state, texts in found.items()
    }
    assert {state: some for state, some in left.items() if some} == {}
    assert sum(map(len, found.values())) > 500


if __name__ == "__main__":
    main(sys.argv[1])
