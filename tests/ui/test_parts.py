"""The page's small parts: edits of tables, safe text, appliances, words."""

import json
import re
from types import SimpleNamespace

import pytest

from optimizer.answers.site_survey import survey
from optimizer.inputs.appliances import appliances, named, with_figures_of
from optimizer.inputs.columns import columns_of
from optimizer.inputs.demo import site_file
from optimizer.inputs.draft import draft_from_files, load_rows, loads_table
from optimizer.inputs.job_file import save_job
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.site_keys import SECTIONS
from optimizer.report.grids.grid import Column, Grid, Kind
from tests.ui.pages import WRITE, opened, plain, site, state_of
from ui import cached, words
from ui.fields import facts_of, on_screen, range_of, told, unit_of
from ui.look import safe, shown
from ui.state import State, of_the_command


@pytest.mark.parametrize(
    "text",
    ["![x](http://a.b/c.png)", "<script>", "`code`", "a|b", "$x^2$", ":smile:", "www.a.b", "#1"],
)
def test_text_of_people_is_no_markup(text):
    made = safe(text)
    assert made.replace("\\", "").replace("\u2060", "") == text
    for mark in "<>`|$![]#":
        assert mark not in made.replace(f"\\{mark}", "")
    assert "://" not in made
    assert ":s" not in made
    assert "www\\." not in made


def test_names_are_text_and_never_markup():
    page = opened()
    state = state_of(page)
    state.set_key("site", "name", "<img src=x> ![a](http://b.c) :red[x] $y$")
    page.run()
    shown = page.markdown[0].value
    assert "<img" not in shown.replace("\\<", "")
    assert "\\!\\[a\\]" in shown
    assert ":red" not in shown
    assert json.loads(save_job(state.draft))["site"]["site"]["name"].startswith("<img")


def test_grid_has_a_line_for_every_row_and_numbers_to_the_right():
    columns = [Column("a", "Load"), Column("b", "Mass", Kind.NUMBER, unit="kg")]
    made = shown(Grid("loads", "Loads", columns, [["x|y", 1200], ["z", None]], ["A note"]), WRITE)
    assert made.splitlines() == [
        "| Load | Mass, kg |",
        "| --- | ---: |",
        "| x\\|y | 1,200 |",
        "| z |  |",
        "",
        "A note",
    ]


def test_field_takes_range_unit_and_help_from_the_facts_of_the_key():
    drop = facts_of("max_drop")
    assert range_of(drop) == "a number above 0 and at most 10 %"
    assert unit_of(drop, "EUR") == "%"
    assert on_screen(drop, 0.02) == "2"
    assert unit_of(facts_of("tariff"), "GBP") == "GBP per kWh"
    assert told(drop.help) == "In the battery cable at full power."


def test_every_appliance_is_a_load_that_reads_back():
    draft = draft_from_files(site_file("house"))
    rows = [one.row for one in appliances()]
    tiers = sorted({row["tier"] for row in rows})
    draft = draft.with_table("loads", loads_table(rows)).with_site("resilience", "tiers", tiers)
    read = load_rows(draft.job().loads)
    assert [row["load"] for row in read] == [row["load"] for row in rows]
    assert [row["running_w"] for row in read] == [row["running_w"] for row in rows]
    assert len(rows) >= 20


def test_every_appliance_says_where_its_figures_come_from():
    for one in appliances():
        assert "common practice" in one.source or "from memory" in one.source, one.name
        assert with_figures_of({**one.row, "load": "Mine"}).source == one.source
        stated = re.search(r"\((\S+) to (\S+) kWh a day\)", one.source)
        if stated is not None:
            assert float(stated[1]) <= one.kwh_day <= float(stated[2]), one.name
    assert list(dict.fromkeys(one.group for one in appliances())) == list(words.GROUPS)


def test_energy_of_an_appliance_is_the_surveys():
    draft = draft_from_files(site_file("house"))
    job = draft.with_table("loads", loads_table([one.row for one in appliances()])).job()
    found = survey(job).load_kwh_day
    assert [found[one.name] for one in appliances()] == pytest.approx(
        [one.kwh_day for one in appliances()]
    )


def test_every_number_that_may_be_assumed_says_where_it_comes_from():
    facts = [one for model in SECTIONS.values() for one in columns_of(model).values()]
    assumed = [one for one in facts if one.kind.is_numeric and one.default is not None]
    assert len(assumed) > 10
    assert [one.name for one in assumed if not one.source] == []


def test_a_step_that_saves_says_so():
    here = SimpleNamespace(hours=18, life_cycle_cost=8000.0, upfront_cost=100.0)
    there = SimpleNamespace(hours=23, life_cycle_cost=5326.0, upfront_cost=290.0)
    told = words.next_step(WRITE, here, there, 48)
    assert "takes €2,674 off the life-cycle cost" in told
    assert "Upfront it costs €190 more" in told


def test_name_of_an_added_appliance_is_free():
    rows = [{"load": "Kettle"}, {"load": "Kettle 2"}]
    assert named(rows, "Kettle") == "Kettle 3"


def test_every_key_of_the_site_can_be_set_on_the_page():
    # widgets of their own: tables that are typed into
    elsewhere = {"seasons", "loads", "catalog"}
    elsewhere |= {"log", "typed", "daily", "tier_hours", "monthly_degc", "contracts", "peaks"}
    keys = {key for model in SECTIONS.values() for key in columns_of(model)}
    assert keys - elsewhere == set(words.FIELDS)


def test_every_column_of_a_price_list_has_a_label():
    columns = {name for table in TABLES.values() for name in table.columns}
    assert columns <= set(words.PRICE_COLUMNS)


def test_what_everybody_is_told_first_is_worked_out_once_and_given_to_no_other_job(monkeypatch):
    monkeypatch.setattr(cached, "_first", {})
    cached.prepare(of_the_command())

    def solves(*_, **__):
        raise AssertionError

    monkeypatch.setattr(cached, "compare", solves)
    mine = of_the_command()
    answer = cached.answer(mine)
    assert answer.design is not None
    assert cached.beside(mine, answer).winner.design == answer.design
    mine.draft = mine.good = mine.good.with_site("limits", "budget", 9000)
    with pytest.raises(AssertionError):
        cached.answer(mine)


def test_demo_prices_of_a_site_of_ones_own_are_told_as_invented():
    page = opened()
    text = words.invented(WRITE, words.ASK_PRICES)
    assert text not in [plain(one.value) for one in page.caption]
    draft = draft_from_files(site_file(site()))
    mine = draft.with_section("site", {**draft.site["site"], "name": "Elm Row 2"})
    page.session_state["job"] = State(mine, mine, mine.job())
    page.run()
    assert [plain(one.value) for one in page.caption].count(text) == 1
