"""The quote that the page leaves; in a browser a supplier's own list too."""

from __future__ import annotations

import csv
import io
import json
import tomllib
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from openpyxl import load_workbook
from PIL import Image

from optimizer import InputError, frontier, make_quote
from optimizer.quote import read_company
from optimizer.report.quote import quote_bytes
from optimizer.report.words.letter import title
from optimizer.report.words.quote import option_name
from optimizer.report.words.quote_lines import item, stage
from optimizer.report.words.writer import Writer
from optimizer.suppliers.mapping import read_mapping
from tests.ui.pages import (
    DEMO,
    WRITE,
    alone,
    change_load,
    job,
    opened,
    press,
    state_of,
    text_of,
)
from tests.ui.test_supplier_question import MAPPING, NOVEMBER
from ui.answers import quote as section
from ui.answers import quote_sender
from ui.look import safe
from ui.words import quote as said
from ui.words import supplier as heard

if TYPE_CHECKING:
    from streamlit.testing.v1 import AppTest

COMPANY = (DEMO / "company.toml").read_bytes()
DAY = date(2026, 11, 25)


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
    names = [safe(option_name(WRITE, option.design)) for option in quote.options]
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
    by_rule = [option.design.hours for option in page.session_state["quote"].made[1].options]
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


@pytest.mark.slow
def test_quote_and_list_in_a_browser(visit, tmp_path):
    page = visit()
    leave_a_quote(page)
    take_a_list(page, tmp_path)
    page.looks(420, "light")
    page.page.get_by_role("button", name=said.MAKE_AGAIN).click()  # the job is another by now
    page.page.get_by_role("tab").first.wait_for()
    page.settle()
    assert page.across() <= 420, "nothing to scroll sideways"


def leave_a_quote(page) -> None:
    page.page.get_by_role("button", name=said.MAKE, exact=True).click()
    page.page.get_by_role("tab").first.wait_for()
    page.settle()
    page.page.get_by_text(said.SENDER).click()
    page.settle()
    drop = page.page.locator("[data-testid=stFileUploaderDropzoneInput]")
    drop.first.set_input_files(DEMO / "company.toml")
    page.page.get_by_text(title(WRITE, read_company(DEMO / "company.toml"))).first.wait_for()
    page.settle()
    made = page.taken(page.page.get_by_role("button", name="PDF", exact=True))
    assert made.startswith(b"%PDF")


def take_a_list(page, tmp_path) -> None:
    page.question(heard.ASK_SUPPLIER)
    place = page.page.locator(".st-key-question_open [data-testid=stFileUploaderDropzoneInput]")
    place.first.set_input_files(NOVEMBER)
    page.page.get_by_text(heard.WHICH).wait_for()
    page.settle()
    place.nth(1).set_input_files(MAPPING)
    page.page.get_by_text("6 rows read for batteries").wait_for()
    names = ("Take 6 rows", heard.TAKE_TABLE)  # neither may be pressed yet, both can be read
    held = [page.page.get_by_role("button", name=one).locator("p") for one in names]
    colours = {one.evaluate("text => getComputedStyle(text).color") for one in held}
    assert len(colours) == 1
    page.page.get_by_text(heard.LEAVE_OUT).click()
    page.settle()
    assert page.wrongs(".st-key-quote_section", ".st-key-question_open") == []
    (tmp_path / "map.toml").write_bytes(
        page.taken(page.page.get_by_role("button", name=heard.TAKE_MAP))
    )
    assert read_mapping(tmp_path / "map.toml").columns == read_mapping(MAPPING).columns
    table = page.taken(page.page.get_by_role("button", name=heard.TAKE_TABLE)).decode("utf-8")
    *_, last = csv.DictReader(io.StringIO(table))
    assert last["battery"] == "'=Fulmar 51 Plus"
    page.page.get_by_role("button", name="Take 6 rows").click()
    page.page.get_by_text(heard.TAKEN).wait_for()
