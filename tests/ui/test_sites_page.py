"""The page of many sites, on two sites that are like the job of the main page."""

from __future__ import annotations

import shutil

import pytest

from optimizer import load
from optimizer.inputs.demo import FOLDER
from optimizer.inputs.programme import programme_from_table
from optimizer.report.grids.grid import Column, Grid
from optimizer.report.sheets import as_xlsx
from optimizer.report.words.writer import Writer
from tests.unit.programme.programmes import write_programme
from ui import words as common
from ui.apart import read_apart
from ui.state import SITE_VARIABLE
from ui.words import programme as words

from .pages import button, plain, press, text_of, unopened

ROWS = "Mill House,,Town,4,,\nAnchor *Court*,,Shore,9,2,1.3\nElsewhere,nowhere,,1,,\n"


@pytest.fixture
def page(tmp_path, monkeypatch):
    """The page as it opens, with a table of three sites in the place of the bundled one."""
    table = write_programme(tmp_path, ROWS)
    shutil.copytree(tmp_path / "home", tmp_path / "island" / "home")
    shutil.copy(table, tmp_path / "island" / "sites.csv")
    shutil.copytree(FOLDER / "prices", tmp_path / "prices", dirs_exist_ok=True)
    monkeypatch.setenv(SITE_VARIABLE, str(tmp_path / "home"))
    monkeypatch.setattr("ui.programme.FOLDER", tmp_path)
    opened = unopened().switch_page("pages/sites.py").run()
    assert not opened.exception
    assert not opened.error
    return opened


def field(page, label):
    return next(one for one in (*page.text_input, *page.number_input) if one.label == label)


def test_who_gets_what_is_told_and_an_answer_grows_old(page):
    assert [one.value for one in page.title] == [common.MANY_SITES]
    field(page, words.BUDGETS).set_value("2700, 9000").run()
    press(page, words.START)
    assert not page.exception
    heads = [plain(one.value) for one in page.subheader]
    assert len(heads) == 2
    assert all("of 2 sites" in head for head in heads)
    told = text_of(page)
    assert "Proven: no other choice within these limits does better." in told
    assert "Anchor *Court*" in told
    assert "Elsewhere is left out" in told
    assert words.OLD not in [one.value for one in page.caption]
    field(page, f"{words.FLOOR}, h").set_value("2").run()
    assert words.OLD in [one.value for one in page.caption]


def test_what_cannot_be_paid_is_told_with_the_least_money(page):
    field(page, words.BUDGETS).set_value("100").run()
    next(one for one in page.button if one.label == words.START).click().run()
    assert "at the least" in plain(page.warning[0].value)


def test_a_budget_that_is_no_number_is_asked_for_again(page):
    for typed in ("much", "60,000", "60000,120000", "1; 2; 3; 4; 5", ""):
        field(page, words.BUDGETS).set_value(typed).run()
        assert field(page, words.BUDGETS).value == typed
        assert "Not taken" in text_of(page)
        assert button(page, words.START).disabled
    field(page, words.BUDGETS).set_value("3000").run()
    assert "Not taken" not in text_of(page)
    assert not button(page, words.START).disabled


def test_a_budget_too_small_is_told_above_the_answers_to_the_others(page):
    field(page, words.BUDGETS).set_value("100, 9000").run()
    press(page, words.START)
    assert not page.exception
    assert "the budget is €100.00" in plain(page.warning[0].value)
    assert len(page.subheader) == 1


def test_a_table_is_read_once_and_a_workbook_in_a_process_of_its_own(page, monkeypatch):
    monkeypatch.setattr("ui.programme.read_apart", lambda *_: pytest.fail("read again"))
    field(page, words.BUDGETS).set_value("2700").run()
    assert not page.exception
    columns, own = [Column("site", ""), Column("group", ""), Column("people", "")], load("house")
    raw = as_xlsx([Grid("sites", "", columns, [["Mill House", "Town", "4"]])], Writer("EUR"))
    [site] = read_apart(("sites.xlsx", raw), programme_from_table, "sites.xlsx", raw, own)
    assert (site.name, site.people, site.job.loads) == ("Mill House", 4, own.loads)
