"""A supplier's own list on its way into the job."""

from __future__ import annotations

import pytest

from optimizer import InputError
from optimizer.inputs.supplier_list import read_list
from optimizer.report.grids.grid import Column, Grid
from optimizer.report.sheets import as_xlsx
from optimizer.suppliers.conversion import convert
from optimizer.suppliers.joining import Stays, join
from optimizer.suppliers.mapping import mapping_from, read_mapping
from tests.ui.pages import (
    DEMO,
    WRITE,
    alone,
    job,
    state_of,
    table_under,
    text_of,
)
from ui.questions import supplier as question
from ui.words import supplier as heard

NOVEMBER = DEMO / "supplier" / "gorseholm-2026-11.csv"
MAPPING = DEMO / "supplier" / "gorseholm.toml"
GORSEHOLM = "Gorseholm Trading"


def listed(*, mapped=True, **settings):
    """The page with the demo supplier's list dropped in."""
    page = alone("from ui.questions import supplier\nsupplier.draw(current())")
    draft = page.session_state["supplier"]
    if mapped:
        question._take_map(draft, (MAPPING.name, MAPPING.read_bytes()))
    question._take_list(state_of(page), draft, (NOVEMBER.name, NOVEMBER.read_bytes()))
    for key, value in settings.items():
        setattr(draft, key, value)
    page.run()
    assert not page.exception
    return page


def the_button(page, start: str):
    return next(button for button in page.button if button.label.startswith(start))


def test_rows_that_cannot_be_read_are_listed_and_left_out_only_on_request():
    page = listed()
    shown = text_of(page).replace("\\", "")
    assert "6 rows read for batteries, 1 filtered out" in shown
    assert "1 row cannot be read" in shown
    assert "'on request'" in shown
    assert the_button(page, "Take 6 rows").disabled
    page.checkbox(key="supplier leave_out").check().run()
    assert not the_button(page, "Take 6 rows").disabled


def test_rows_are_taken_beside_others_and_undo_gives_them_back():
    page = listed(leave_out=True)
    before = state_of(page).draft
    the_button(page, "Take 6 rows").click().run()
    assert not page.exception
    assert heard.TAKEN in text_of(page)
    catalog = {one.battery: one for one in state_of(page).job.catalog.batteries}
    assert len(catalog) == len(job().catalog.batteries) + 6
    assert catalog["=Fulmar 51 Plus"].price == pytest.approx(4390 * 0.82)  # arithmetic
    assert catalog["Gannet Ledge 6"].mass_kg == pytest.approx(64 * 0.45359237, rel=1e-5)
    state_of(page).undo()
    assert state_of(page).draft == before


def test_changed_and_vanished_prices_are_shown_against_the_last_list():
    page = listed(leave_out=True)
    may = convert(read_list(DEMO / "supplier" / "gorseholm-2026-05.csv"), read_mapping(MAPPING))
    state = state_of(page)
    joined = join(state.draft.tables["batteries"], [may]).table
    state.change(state.draft.with_table("batteries", joined))
    page.run()
    shown = text_of(page).replace("\\", "")
    prices = {row[0]: row[1:] for row in table_under(page, "Name")}
    assert prices["Gannet Ledge 6"] == ["116.44", "121.77", "+\N{NO-BREAK SPACE}4.6%"]
    assert prices["Fulmar 25"] == ["1,681.00", "1,553.90", "−7.6%"]
    assert "No longer listed: Petrel 12 Old." in shown
    assert "New: =Fulmar 51 Plus." in shown
    page.button_group(key="supplier stay").set_value(Stays.NONE).run()
    assert "Netherlume Stove" in text_of(page)


def test_a_second_mapping_of_a_supplier_follows_the_first():
    both = MAPPING.read_text()
    ours = [
        both.replace('["Stationary"]', f'["Stationary"]\nTechnology = {kinds}')
        for kinds in ('["Wet deep cycle", "Fleece", "Gel"]', '["Li-FePO4"]')
    ]
    page = listed(leave_out=True)
    state, draft = state_of(page), page.session_state["supplier"]
    for number, text in enumerate(ours):
        question._take_map(draft, (f"{number}.toml", text.encode()))
        draft.leave_out = True
        page.run()
        page.button_group(key="supplier stay").set_value(Stays.ALL).run()
        the_button(page, "Take 3 rows").click().run()
        assert heard.TAKEN in text_of(page)
    theirs = {one.battery for one in state.job.catalog.batteries if one.supplier == GORSEHOLM}
    whole = convert(read_list(NOVEMBER), read_mapping(MAPPING))
    assert theirs == {row["battery"] for row in whole.rows}
    page.button_group(key="supplier stay").set_value(Stays.OTHERS).run()
    assert "No longer listed: Gannet Ledge 6" in text_of(page).replace("\\", "")


def test_the_next_list_and_its_mapping_come_in_any_order_once_rows_are_taken():
    """Each is of a sheet that the other's workbook has not."""
    page = listed(mapped=False)
    state, draft = state_of(page), page.session_state["supplier"]
    columns, rows = [Column("Article", ""), Column("Price", "")], [["Gannet", "12.5"]]
    lists, mappings = [], []
    for name in ("Lead", "Lithium"):
        lists.append((f"{name}.xlsx", as_xlsx([Grid(name, "", columns, rows)], WRITE)))
        text = MAPPING.read_text().replace("[list]", f'[list]\nsheet = "{name}"')
        mappings.append((f"{name}.toml", text.encode()))
    question._take_list(state, draft, lists[0])
    question._take_map(draft, mappings[0])
    with pytest.raises(InputError, match="Lithium"):
        question._take_map(draft, mappings[1])
    with pytest.raises(InputError, match="Lead"):
        question._take_list(state, draft, lists[1])
    assert draft.file == lists[0]
    draft.taken = True
    question._take_map(draft, mappings[1])
    assert (draft.file, draft.supplier, draft.mapped) == (None, None, True)
    question._take_list(state, draft, lists[1])
    assert (draft.supplier.sheet, draft.mapped) == ("Lithium", True)
    draft.taken = True
    question._take_list(state, draft, lists[0])
    assert (draft.supplier.sheet, draft.mapped) == ("Lead", False)


def test_rows_that_spoil_the_price_list_are_refused_with_a_reason():
    page = listed(leave_out=True)
    page.session_state["supplier"].columns["chemistry"] = {"value": "moonstone"}
    page.run()
    before = state_of(page).draft
    the_button(page, "Take 6 rows").click().run()
    assert state_of(page).draft == before
    assert "moonstone" in text_of(page)


def test_choices_by_hand_read_what_the_mapping_file_reads():
    page = listed(mapped=False)
    assert not page.dataframe[1:], "nothing is read before every word is chosen"
    assert "Still to be chosen: what “Wet deep cycle”" in text_of(page).replace("\\", "")
    page.multiselect(key="supplier filters").set_value(["Group"]).run()
    page.multiselect(key="supplier filter Group").set_value(["Stationary"]).run()
    for theirs, ours in (
        ("Wet deep cycle", "flooded"),
        ("Fleece", "agm"),
        ("Li-FePO4", "lfp"),
    ):
        page.selectbox(key=f"supplier word chemistry {theirs}").select(ours).run()
    page.selectbox(key="supplier column supplier").select(" ").run()
    page.text_input(key="supplier value supplier").set_value("Gorseholm Trading").run()
    page.text_input(key="supplier factor").set_value("0,82").run()
    assert not page.exception
    draft = page.session_state["supplier"]
    own = convert(read_list(NOVEMBER), mapping_from(draft.content("EUR")))
    assert own == convert(read_list(NOVEMBER), read_mapping(MAPPING))


def test_other_currency_needs_its_rate():
    page = listed()
    page.text_input(key="supplier currency").set_value("gbp").run()
    assert [one.value for one in page.warning] == [heard.WRONG]
    page.text_input(key="supplier exchange").set_value("1,25").run()
    meaning = page.selectbox(key="supplier meaning €")  # a list in pounds has no euros
    assert meaning.label.startswith("“€” in row 8, List price → price")
    meaning.select("ignore").run()
    draft = page.session_state["supplier"]
    found = convert(read_list(NOVEMBER), mapping_from(draft.content("EUR")))
    price = found.rows[0]["price"]
    assert float(price) == pytest.approx(148.5 * 1.25 * 0.82, abs=0.005)  # arithmetic


def test_required_columns_are_asked_for():
    page = listed()
    page.selectbox(key="supplier column mass_kg").set_value(None).run()
    assert "Still to be chosen: Mass, kg." in text_of(page)
    page.selectbox(key="supplier table").select("fuses").run()
    assert not page.exception
    assert "Rating, A" in text_of(page)


def test_a_number_of_a_cell_is_taken_by_its_place_or_by_a_template():
    page = listed()
    key, template = "supplier piece capacity_ah", "supplier template capacity_ah"
    chosen = page.session_state["supplier"].columns["capacity_ah"]
    chosen["piece"] = "first"  # as a mapping may say
    page.run()
    page.selectbox(key=key).select("#*").run()
    page.text_input(key=template).set_value("# Ah (*)").run()
    assert (chosen["piece"], page.selectbox(key=key).value) == ("# Ah (*)", "# Ah (*)")
    assert "6 rows read for batteries" in text_of(page).replace("\\", "")
    page.selectbox(key=key).select("first").run()
    assert chosen["piece"] == "first"
    assert template not in [one.key for one in page.text_input]
    page.selectbox(key=key).select("").run()
    assert "piece" not in chosen
    page.selectbox(key="supplier dates price_date").select("%d/%m/%Y").run()
    assert page.session_state["supplier"].columns["price_date"]["dates"] == "%d/%m/%Y"
    assert not page.exception
