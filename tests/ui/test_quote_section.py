"""The quote that the page leaves, and a supplier's own list on its way into the job."""

from __future__ import annotations

import csv
import io
import json
import tomllib
from datetime import date
from pathlib import Path

import pytest
from openpyxl import load_workbook
from PIL import Image
from streamlit.testing.v1 import AppTest

from optimizer import InputError, frontier, make_quote
from optimizer.inputs.supplier_list import read_list
from optimizer.quote import read_company
from optimizer.report.quote import quote_bytes
from optimizer.report.words.letter import title
from optimizer.report.words.quote import option_name
from optimizer.report.words.quote_lines import item, stage
from optimizer.report.words.writer import Writer
from optimizer.suppliers.conversion import convert
from optimizer.suppliers.joining import join
from optimizer.suppliers.mapping import mapping_from, read_mapping
from tests.ui.pages import (
    DEMO,
    WRITE,
    change_load,
    job,
    opened,
    press,
    state_of,
    table_under,
    text_of,
)
from ui.answers import quote as section
from ui.answers import quote_sender
from ui.look import safe
from ui.questions import supplier as question
from ui.words import quote as said
from ui.words import supplier as heard

COMPANY = (DEMO / "company.toml").read_bytes()
NOVEMBER = DEMO / "supplier" / "gorseholm-2026-11.csv"
MAPPING = DEMO / "supplier" / "gorseholm.toml"
DAY = date(2026, 11, 25)


def alone(lines: str) -> AppTest:
    """A section without the rest of the page, which its own tests look at."""
    return AppTest.from_string(f"from ui.state import current\n{lines}", default_timeout=60).run()


def quote_page() -> AppTest:
    return alone(
        "from ui import cached\nfrom ui.answers import quote\n"
        "quote.draw(current(), cached.curves(current()))"
    )


def priced(**settings) -> AppTest:
    """The section with its options priced on one day, as the demo's company."""
    page = quote_page()
    press(page, said.MAKE)
    draft = page.session_state["quote"]
    quote_sender._take(draft, ("company.toml", COMPANY))
    draft.day = DAY
    for key, value in settings.items():
        setattr(draft, key, value)
    page.run()
    assert not page.exception
    return page


def test_nothing_is_priced_before_it_is_asked_for(monkeypatch):
    def never(*_args, **_settings):
        raise AssertionError("priced")

    monkeypatch.setattr(section, "make_quote", never)
    page = opened()
    assert "quote" not in page.session_state or page.session_state["quote"].made is None
    assert said.MAKE in [button.label for button in page.button]
    assert not page.tabs


def test_preview_holds_every_line_of_every_option_to_the_cent():
    page = priced()
    quote = make_quote(job(), company=read_company(DEMO / "company.toml"), day=DAY)
    names = [safe(option_name(WRITE, option.option.design)) for option in quote.options]
    assert [tab.label for tab in page.tabs] == names
    assert len(quote.options) == 3
    for tab, option in zip(page.tabs, quote.options, strict=True):
        shown = "\n".join(one.value for one in tab.markdown)
        cells = [
            [cell.strip() for cell in line.strip("|").split("|")]
            for line in shown.splitlines()
            if line.startswith("| ")
        ]
        amounts = {row[0].replace("\\", ""): row[-1].replace("\\", "") for row in cells}
        for line in option.pricing.first.lines:
            assert amounts[item(WRITE, line.item)] == f"{line.amount:,.2f}"
        assert amounts["Total"] == f"{option.pricing.total:,.2f}"
        for due in option.pricing.plan:
            assert amounts[stage(WRITE, due.stage)] == f"{due.amount:,.2f}"


def test_files_are_the_librarys_own_and_hold_no_margin():
    page = priced()
    quote = page.session_state["quote"].made[1]
    twin = make_quote(job(), company=quote.company, day=DAY)
    for ending in (".csv", ".json"):
        assert section.customer_bytes(quote, None, ending) == quote_bytes(twin, ending)
    assert "margin" not in section.customer_bytes(quote, None, ".json").decode().lower()
    book = load_workbook(io.BytesIO(section.customer_bytes(quote, None, ".xlsx")), data_only=True)
    cells = [cell for sheet in book for row in sheet.iter_rows(values_only=True) for cell in row]
    totals = [float(option.pricing.total) for option in quote.options]
    assert all(any(cell == pytest.approx(total) for cell in cells) for total in totals)
    built = tomllib.loads(next(iter(quote.as_built_files.values())))
    assert built["paid"] == float(quote.options[0].pricing.total)


def test_hours_by_hand_start_from_the_rule_and_are_priced():
    page = priced()
    by_rule = [option.option.design.hours for option in page.session_state["quote"].made[1].options]
    page.button_group(key="quote by hand").set_value(True).run()
    assert page.session_state["quote"].hours == by_rule
    curve = frontier(job()).points
    two = [curve[1], curve[-2]]
    page.multiselect(key="quote hours").set_value([one.hours for one in two]).run()
    names = [safe(option_name(WRITE, one)) for one in two]
    assert [tab.label for tab in page.tabs] == names
    page.multiselect(key="quote hours").set_value([]).run()
    assert [one.value for one in page.warning] == [said.NOT_PRICED]
    assert not page.tabs


def test_fields_go_over_the_company_file():
    page = priced()
    assert page.text_input(key="quote name").value == "Fennimoor Electrical"
    assert page.text_input(key="quote deposit").value == "30"
    page.text_input(key="quote number").set_value("7 <b>").run()
    page.text_input(key="quote locale").set_value("de").run()
    page.text_input(key="quote valid_days").set_value("10").run()
    quote = page.session_state["quote"].made[1]
    assert (quote.company.number, quote.company.locale) == ("7 <b>", "de")
    assert quote.company.terms  # the file's own, which has no field
    total = Writer("EUR", "de").amount(quote.options[0].pricing.total)
    assert "." in total
    assert total in text_of(page)
    shown = next(one.value for one in page.caption if "holds until" in one.value)
    assert "05.12.2026" in shown.replace("\\", "")
    assert "<b>" not in shown.replace("\\<", "")


def test_details_at_fault_are_listed_and_the_rest_of_the_page_stays():
    page = priced()
    page.text_input(key="quote deposit").set_value("140").run()
    assert "Not taken: wanted is a number from 0 to 100 %" in text_of(page)
    assert page.tabs, "priced as before"
    page.text_input(key="quote deposit").set_value("40").run()  # stages no longer make up one
    assert [one.value for one in page.warning] == [said.NOT_PRICED]
    assert "1.1 in all" in text_of(page).replace("\\", "")
    page.text_input(key="quote locale").set_value("xx_YY").run()
    assert "xx_YY" in text_of(page).replace("\\", "")


def test_quote_needs_no_company():
    page = quote_page()
    press(page, said.MAKE)
    assert page.session_state["quote"].made[1].company.name is None
    assert len(page.tabs) == 3


def test_changed_job_is_priced_only_when_asked_again():
    page = priced()
    change_load(state_of(page), "Refrigerator", running_w=400.0)
    page.run()
    assert not page.tabs
    assert said.STALE in text_of(page)
    before = page.session_state["quote"].made[1].options[0].pricing.total
    press(page, said.MAKE_AGAIN)
    assert page.session_state["quote"].made[1].options[0].pricing.total > before


def test_company_file_that_is_broken_says_where():
    draft = quote_sender.QuoteDraft()
    with pytest.raises(InputError) as caught:
        quote_sender._take(
            draft, ("mine.toml", b'[company]\nname = "X"\n[quote]\nvalid_days = "soon"\n')
        )
    fault = caught.value.faults[0]
    assert (fault.file, fault.row, fault.column) == ("mine.toml", 4, "quote.valid_days")
    assert draft.content == {}


def test_company_file_opens_no_file_of_this_machine():
    draft = quote_sender.QuoteDraft()
    here = str(Path(__file__).resolve())
    quote_sender._take(
        draft, ("mine.toml", f'[company]\nname = "X"\nlogo = {json.dumps(here)}\n'.encode())
    )
    assert draft.logo_named
    assert draft.company().logo is None


def test_logo_is_drawn_and_leaves_no_file(tmp_path, monkeypatch):
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    picture = io.BytesIO()
    Image.new("RGB", (40, 20), "#7a3b8f").save(picture, "PNG")
    draft = quote_sender.QuoteDraft()
    quote_sender._take_logo(draft, ("mark.png", picture.getvalue()))
    quote = make_quote(job(), options=[6], day=DAY)
    plain = section.customer_bytes(quote, None, ".pdf")
    with_logo = section.customer_bytes(quote, draft.logo, ".pdf")
    assert with_logo.count(b"/Subtype /Image") > plain.count(b"/Subtype /Image")
    with pytest.raises(InputError):
        quote_sender._take_logo(draft, ("mark.png", b"no picture"))
    assert list(tmp_path.iterdir()) == []


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
    page.button_group(key="supplier replace_all").set_value(True).run()
    assert "Netherlume Stove" in text_of(page)


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


@pytest.mark.slow
def test_quote_and_list_in_a_browser(visit, tmp_path):
    page = visit()
    leave_a_quote(page, tmp_path)
    take_a_list(page, tmp_path)
    page.page.set_viewport_size({"width": 420, "height": 900})
    section_shot(page, heard.READ, "supplier-420")
    page.page.get_by_role("button", name=said.MAKE_AGAIN).click()  # the job is another by now
    page.page.get_by_role("tab").first.wait_for()
    section_shot(page, said.LEAVE, "quote-420")
    width = page.page.evaluate("document.querySelector('[data-testid=stMain]').scrollWidth")
    assert width <= 420, "nothing to scroll sideways"


def leave_a_quote(page, tmp_path) -> None:
    page.page.get_by_role("button", name=said.MAKE, exact=True).click()
    page.page.get_by_role("tab").first.wait_for()
    page.page.get_by_text(said.SENDER).click()
    page.settle()
    drop = page.page.locator("[data-testid=stFileUploaderDropzoneInput]")
    drop.first.set_input_files(DEMO / "company.toml")
    page.page.get_by_text(title(WRITE, read_company(DEMO / "company.toml"))).first.wait_for()
    page.settle()
    with page.page.expect_download() as waiting:
        page.page.get_by_role("button", name="PDF", exact=True).click()
    waiting.value.save_as(tmp_path / "quote.pdf")
    assert (tmp_path / "quote.pdf").read_bytes().startswith(b"%PDF")
    section_shot(page, said.LEAVE, "quote-1440")
    page.page.get_by_role("tabpanel").first.scroll_into_view_if_needed()
    page.page.get_by_role("button", name="PDF", exact=True).scroll_into_view_if_needed()
    page.shot("quote-lines-1440")


def take_a_list(page, tmp_path) -> None:
    from axe_playwright_python.sync_playwright import Axe

    from tests.ui.test_browser import _serious

    page.question(heard.ASK_SUPPLIER)
    place = page.page.locator(".st-key-question_open [data-testid=stFileUploaderDropzoneInput]")
    place.first.set_input_files(NOVEMBER)
    page.page.get_by_text(heard.WHICH).wait_for()
    page.settle()
    section_shot(page, heard.WHICH, "supplier-guess-1440")
    place.nth(1).set_input_files(MAPPING)
    page.page.get_by_text("6 rows read for batteries").wait_for()
    page.page.get_by_text(heard.LEAVE_OUT).click()
    page.settle()
    parts = {"include": [[".st-key-quote_section"], [".st-key-question_open"]]}
    assert _serious(Axe().run(page.page, context=parts).response) == []
    with page.page.expect_download() as waiting:
        page.page.get_by_role("button", name=heard.TAKE_MAP).click()
    waiting.value.save_as(tmp_path / "map.toml")
    assert read_mapping(tmp_path / "map.toml").columns == read_mapping(MAPPING).columns
    with page.page.expect_download() as waiting:
        page.page.get_by_role("button", name=heard.TAKE_TABLE).click()
    waiting.value.save_as(tmp_path / "batteries.csv")
    with (tmp_path / "batteries.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert rows[-1]["battery"] == "'=Fulmar 51 Plus"
    page.page.get_by_role("button", name="Take 6 rows").click()
    page.page.get_by_text(heard.TAKEN).wait_for()
    page.settle()
    section_shot(page, heard.WHICH, "supplier-1440")


def section_shot(page, heading: str, name: str) -> None:
    """Show a part of the page from its heading down."""
    page.settle()
    page.page.get_by_role("heading", name=heading).evaluate(
        "heading => { heading.scrollIntoView({block: 'start'});"
        " document.querySelector('[data-testid=stMain]').scrollBy(0, -60); }"
    )
    page.shot(name)
