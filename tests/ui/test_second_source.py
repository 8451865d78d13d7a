"""Whoever marks a load as critical on the page hears of a second source at once."""

from __future__ import annotations

from optimizer.report.words.notes import second_source
from tests.ui.pages import WRITE, change_load, opened, plain, state_of
from ui.questions import QUESTIONS


def test_a_critical_load_brings_its_caution():
    page = opened()
    told = second_source(WRITE, ["Television"])
    assert told not in [plain(one.value) for one in page.warning]
    change_load(state_of(page), "Television", critical=True)
    state_of(page).question = next(iter(QUESTIONS))
    page.run()
    assert not page.exception
    warned = [plain(one.value) for one in page.warning]
    assert warned.count(told) == 2, "beside the answer, and beside the loads"
