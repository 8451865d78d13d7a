"""What a person types: taken as meant, or kept as typed with what would be right; nothing lost."""

from dataclasses import replace

import pytest

from optimizer import choose
from optimizer.answers.site_survey import survey
from optimizer.inputs.appliances import appliances
from optimizer.inputs.cells import CellError
from optimizer.inputs.demo import site_file
from optimizer.inputs.draft import draft_from_files, loads_table, survey_rows
from optimizer.inputs.households import household, households
from optimizer.inputs.job_file import open_job, save_job
from tests.ui.pages import HOURS, WRITE, opened, plain, state_of, text_of, undo, unopened
from ui import memory, words
from ui.questions import loads
from ui.questions.seasons import months_of
from ui.state import State


@pytest.fixture
def state():
    draft = draft_from_files(site_file("house"))
    return State(draft, draft, draft.job())


def put(section, key, value):
    return lambda draft, _typed: draft.with_site(section, key, value)


def test_what_waits_is_taken_once_it_fits(state):
    state.offer("mean", "36", put("battery_room", "mean_degc", 36.0), "Mean")
    assert state.pending["mean"].text == "36"
    assert state.job.site.mean_degc < 36
    state.offer("max", "45", put("battery_room", "max_degc", 45.0), "Hottest")
    assert not state.pending
    assert (state.job.site.mean_degc, state.job.site.max_degc) == (36, 45)


def test_two_that_only_fit_together_are_taken_together(state):
    low, high = state.job.site.min_degc, state.job.site.max_degc
    state.offer("min", "50", put("battery_room", "min_degc", 50.0), "Coldest")
    state.offer("max", "55", put("battery_room", "max_degc", 55.0), "Hottest")
    assert state.job.site.max_degc == 55  # wider: fits by itself
    assert state.pending["min"].text == "50"
    state.offer("mean", "52", put("battery_room", "mean_degc", 52.0), "Mean")
    assert not state.pending
    assert state.job.site.min_degc == 50
    while state.past:
        state.undo()
    assert (state.job.site.min_degc, state.job.site.max_degc) == (low, high)


def test_undo_and_redo_name_what_they_do(state):
    first = state.draft
    state.offer("tariff", "0,4", put("economics", "tariff", 0.4), "Price of grid energy")
    state.offer("tariff", "0,5", put("economics", "tariff", 0.5), "Price of grid energy")
    assert [one.what for one in state.past] == ["Price of grid energy"] * 2
    state.undo()
    assert state.job.site.tariff == 0.4
    state.redo()
    assert state.job.site.tariff == 0.5
    state.undo()
    state.undo()
    assert state.draft == first
    assert len(state.future) == 2
    state.offer("name", "Mine", put("site", "name", "Mine"), "Name")
    assert not state.future


def test_tiers_that_no_load_has_drop_out(state):
    rows = survey_rows(state.draft.tables["loads"])
    mine = [{**row, "tier": "essential"} for row in rows[:2]]
    draft = loads._with(state.draft, mine)
    assert draft.job().site.tiers == ("essential",)
    other = loads._with(draft, [{**row, "tier": "life"} for row in mine])
    assert other.job().site.tiers == ("life",)
    with pytest.raises(CellError):
        loads._with(draft, [])


def test_a_load_that_another_leans_on_may_change_its_name(state):
    rows = survey_rows(state.draft.tables["loads"])
    rows[1]["with"] = rows[0]["load"]
    draft = loads._put(state.draft.with_table("loads", loads_table(rows)), 0, {"load": "Cooler"})
    assert draft.job().loads[1].only_with == "Cooler"


@pytest.mark.parametrize(
    ("text", "months"),
    [
        (
            "winter: 10-12, 1-3\nsummer: 4–9",
            {"winter": [10, 11, 12, 1, 2, 3], "summer": [*range(4, 10)]},
        )
    ],
)
def test_seasons_a_line_each(text, months):
    assert months_of(text) == months
    for wrong in ("winter 10-12", "winter: ten", "winter: 1-999999999", "winter: 1\nwinter: 2"):
        with pytest.raises(CellError):
            months_of(wrong)


def test_households_to_begin_from_are_answered_and_can_be_taken_back(state):
    assert set(households()) == set(words.HOUSEHOLDS)
    for name, differs in households().items():
        job = household(name).job()
        assert {load.load: load.count for load in job.loads} == differs["loads"], name
        assert choose(job).design.hours >= job.site.target_hours
    assert len(household("blank").job().loads) == 1
    assert {load.load for load in household("medical").job().loads if load.critical}
    state.replace(household("flat"), (), words.UNDO_OPEN)
    state.undo()
    assert state.job.site.name == draft_from_files(site_file("house")).job().site.name


def test_a_link_carries_the_job_and_nothing_else_opens(state):
    link = memory.link(state.good, state.kept)
    assert link is not None
    text = link.partition("=")[2]
    held = memory._unpacked(memory._from_text(text))
    assert held.draft.job() == state.job
    for wrong in ("", "????", text[:-40], "eJwDAAAAAAE"):
        packed = memory._from_text(wrong)
        assert packed is None or memory._unpacked(packed) is None


def test_the_server_holds_so_many_jobs_and_no_more(state, monkeypatch):
    address: dict[str, str] = {}

    class Address:
        get = staticmethod(address.get)

        @staticmethod
        def from_dict(new):
            address.clear()
            address.update(new)

    monkeypatch.setattr(memory.st, "query_params", Address)
    monkeypatch.setattr(memory, "MOST_JOBS", 2)
    memory._held.clear()
    tokens = []
    for watts in (0.31, 0.32, 0.33):
        address.clear()
        fresh = replace(state, past=[], held=None)
        fresh.keep()
        assert not address  # nobody's work yet
        fresh.offer("tariff", str(watts), put("economics", "tariff", watts), "Tariff")
        fresh.keep()
        tokens.append(dict(address))
    address.update(tokens[0])
    assert memory.found() == (None, True)
    address.update(tokens[2])
    held, is_lost = memory.found()
    assert held.draft.job().site.tariff == 0.33
    assert not is_lost
    address["kept"] = "known-to-others"
    fresh.offer("tariff", "0.5", put("economics", "tariff", 0.5), "Tariff")
    fresh.keep()
    assert address["kept"] not in {"known-to-others", *(one["kept"] for one in tokens)}


def test_a_job_that_is_gone_is_not_replaced_by_another():
    page = unopened()
    page.query_params["kept"] = "a-token-of-yesterday"
    page.run()
    assert [one.value for one in page.title] == [words.LOST_TITLE]
    assert [one.value for one in page.warning] == [words.LOST]
    assert "EUR" not in text_of(page)
    page.button(key="own farmhouse").click().run()
    assert not page.exception
    assert not page.warning
    assert state_of(page).job.site.name == household("farmhouse").job().site.name


@pytest.fixture
def page():
    """The page with a short curve: every change draws it anew."""
    page = opened()
    state_of(page).set_key("resilience", "target_hours", 2)
    state_of(page).set_key("resilience", "max_hours", 3)
    return page


def test_numbers_and_loads_on_the_page(page):
    state = state_of(page)
    before = state.job
    page.text_input(key=HOURS).set_value("200").run()
    assert page.text_input(key=HOURS).value == "200"
    assert "at most Curve drawn up to (3 h)" in text_of(page)
    assert state.job == before
    undo(page)
    assert page.text_input(key=HOURS).value == "2"

    state.question = words.ASK_LOADS
    page.run()
    name = state.job.loads[0].load
    key = f"load {state.generation} 0 running_w"
    page.text_input(key=key).set_value("7,5").run()
    assert state.job.loads[0].running_w == 7.5
    page.text_input(key=key).set_value("1,200").run()
    assert "1200 if thousands are meant, 1,2 if decimals are" in text_of(page)
    assert state.job.loads[0].running_w == 7.5
    page.text_input(key=key).set_value("1.5 kW").run()
    assert state.job.loads[0].running_w == 7.5  # it would start at less than it runs at
    assert "for “Starting” empty, or at least Running" in text_of(page)
    page.text_input(key=f"load {state.generation} 0 starting_w").set_value("3x").run()
    assert (state.job.loads[0].running_w, state.job.loads[0].starting_w) == (1500, 4500)
    page.text_input(key=f"load {state.generation} 0 hours").set_value("6 h").run()
    assert state.job.loads[0].duty == 0.25
    page.text_input(key=f"load {state.generation} 0 hours").set_value("6-8; 22:00-5:30").run()
    drawn = f"load {state.generation} 0 hours 1 drawn"
    page.select_slider(key=drawn).set_value((21.75, 29.5)).run()
    assert state.job.loads[0].windows == ((6, 8), (21.75, 29.5))
    found, rows = survey(state.job), survey_rows(state.draft.tables["loads"])
    assert words.load_day(WRITE, rows[0], found) in text_of(page)
    page.button_group(key="appliance group").set_value("kitchen").run()
    kettle = next(at for at, one in enumerate(appliances()) if one.name == "Kettle")
    page.button_group(key="appliance").set_value(kettle).run()
    assert state.job.loads[-1].tier in state.job.site.tiers, "what is added must stay on"
    assert survey(state.job).counted_kwh_day > found.counted_kwh_day
    page.selectbox(key=f"load {state.generation} {len(rows)} tier").set_value("comfort").run()
    assert "left out, as comfort need not stay on" in text_of(page)
    undo(page)
    undo(page)
    page.button_group(key=f"load {state.generation}").set_value(rows[0]["load"]).run()
    before = state.job
    page.multiselect(key="resilience.tiers").set_value([]).run()
    assert plain(words.NEEDED) in text_of(page), "an emptied field asks"
    assert open_job(save_job(state.draft)).draft.job() == before, "and what is saved still opens"
    undo(page)
    page.text_input(key=f"load {state.generation} 0 load").set_value("Cooler").run()
    assert (state.job.loads[0].load, state.load) == ("Cooler", "Cooler")
    assert name != "Cooler"


def test_outages_prices_and_currency_on_the_page(page):
    state = state_of(page)
    state.question = words.ASK_OUTAGES
    page.run()
    logged = state.draft
    page.button_group(key="outages form").set_value("daily").run()
    assert state.draft == logged  # to look at another form changes nothing
    cuts, days = (f"outages.daily {state.generation} {place}" for place in (0, 1))
    page.text_input(key=cuts).set_value("06:00-08:00; 18:00-21:00").run()
    assert state.draft == logged
    page.text_input(key=days).set_value("200").run()
    assert state.job.outages.daily == ((6, 8), (18, 21))
    page.button_group(key="outages form").set_value("typed").run()
    hours, times = (f"outages.typed {state.generation} 0 {place}" for place in (0, 1))
    page.text_input(key=hours).set_value("2,5").run()
    assert words.row_lacks(WRITE, words.HOURS_TIMES[1], 1) in text_of(page)
    page.text_input(key=times).set_value("12").run()
    assert state.job.outages.typed == ((2.5, 12),)
    page.button_group(key="outages form").set_value("log").run()
    assert state.draft == logged
    page.text_area(key="outages.log").set_value("05.01.2024 18:00 – 20:30").run()
    assert state.job.outages.log[0].hours == 2.5

    state.question = words.ASK_PRICES
    page.run()
    price = f"batteries 0 price {state.generation}"
    page.text_input(key=price).set_value("1 234,50 €").run()
    assert state.job.catalog.batteries[0].price == 1234.5
    battery = state.job.catalog.batteries[0]
    told = [plain(one.value) for one in page.caption]
    assert f"assumed: {battery.sources['peukert']}" in told, "in place"
    key = f"batteries 0 peukert {state.generation}"
    assert page.text_input(key=key).placeholder == str(battery.peukert)
    page.text_input(key=key).set_value("1,15").run()
    assert state.job.catalog.batteries[0].peukert == 1.15
    volts = f"batteries 0 voltage_v {state.generation}"
    page.text_input(key=volts).set_value("100").run()
    told = [one for one in text_of(page).splitlines() if "Not taken" in one]
    assert len(told) == 1
    assert "within 0.95…1.10 times one of 2, 3, 6" in told[0]
    assert "“" not in told[0], "of this very field, whatever the site calls by the same key"
    state.undo()
    state.question = words.ASK_MONEY
    page.run()
    assert "assumed: this project's choice" in [plain(one.value) for one in page.caption]
    page.text_input(key="currency EUR").set_value("kes").run()
    page.text_input(key="rate EUR").set_value("140").run()
    next(one for one in page.button if one.label == words.CONVERT).click().run()
    assert state.job.site.currency == "KES"
    assert state.job.catalog.batteries[0].price == pytest.approx(1234.5 * 140)
    assert not page.exception
    assert not page.error
