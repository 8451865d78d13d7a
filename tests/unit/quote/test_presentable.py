"""What an installer and an electrician found wrong with the papers, each held for good."""

from __future__ import annotations

import csv
import io
import json
import re
from dataclasses import replace

import pytest
from openpyxl import load_workbook
from PIL import Image

from optimizer import load, load_design
from optimizer.answers.assessment import assess
from optimizer.answers.curve import Curve
from optimizer.quote import build_quote, company_from
from optimizer.report.quote import electrician_bytes, papers, quote_bytes
from optimizer.report.words.assessment import as_designed
from optimizer.report.words.distance import distance
from optimizer.report.words.handover import test_steps as steps_of
from optimizer.report.words.quote import masses, option_name, outage_energy
from optimizer.report.words.writer import Writer
from tests.unit.quote.made import DAY, company, curve, pages, pages_of, quote

pytestmark = pytest.mark.slow

#: With a generator and two strings.
SITES = ("house",)
WRITE = Writer("EUR", "en_IE")


def flat(text: str) -> str:
    return " ".join(text.split())


def quoted(content=None, **changes):
    found = curve("clinic")
    job = replace(found.job, site=replace(found.job.site, **changes))
    own = company_from({"company": {"name": "K"}, **(content or {})})
    return build_quote(Curve(job, None, found.points), options=[6], company=own, day=DAY)


@pytest.mark.parametrize("site", SITES)
def test_one_energy_at_the_loads_and_one_mass_of_each(site):
    """The household reads one labelled energy and mass; the electrician's mass is the same."""
    first, drawn = flat(pages(site)[0]), flat(" ".join(pages(site, electrician_bytes)))
    for option in quote(site).options:
        design = option.design
        assert outage_energy(WRITE, option.handover) in first
        assert masses(WRITE, design) in first
        bank_kg = design.banks[0].units * design.banks[0].battery.mass_kg
        assert f"Mass of the bank {WRITE.figure(bank_kg)} kg" in drawn
    assert "Energy for the loads in one outage" in first


def test_the_margin_is_not_shown_unless_asked():
    made = quoted(markup=0.2)
    shown = flat(pages_of(quote_bytes(made, ".pdf"))[1])
    assert "Markup" not in shown
    asked = quoted(content={"quote": {"markup": "line"}}, markup=0.2)
    shown = flat(pages_of(quote_bytes(asked, ".pdf"))[1])
    assert "Markup on goods 20%" in shown


def test_dates_are_as_the_spelling_is():
    assert Writer("EUR").day(DAY) == "25 Nov 2026"


def test_figures_inside_a_german_text_have_its_comma():
    german = replace(company(), locale="de")
    made = build_quote(curve("clinic"), options=[4], company=german, day=DAY)
    for make in (quote_bytes, electrician_bytes):
        text = " ".join(pages_of(make(made, ".pdf")))
        wrong = re.findall(r"(?<![\d.,])\d+\.\d{1,2}(?![\d.])", text.replace("411.3.3", ""))
        assert wrong == []
        assert "51,2" in text


@pytest.mark.parametrize("site", SITES)
def test_the_handover_sheet_serves_the_household(site):
    """One page with number, hazards, shutdown, and a check that needs no meter."""
    sheets = [flat(text) for text in pages(site) if text.lstrip().startswith("Handover: ")]
    assert len(sheets) == len(quote(site).options)
    for text, option in zip(sheets, quote(site).options, strict=True):
        assert "Installer: 0000 118" in text
        assert "touch nothing, leave" in text
        assert "To shut it down" in text
        assert "To bypass it" in text
        assert "Log of checks" in text
        assert "energy meter" not in text
        assert f"from empty it takes about {hours_told(option)}" in text


def hours_told(option) -> str:
    return WRITE.say("{hours:hours.0}", hours=-(-option.handover.test.recharge_hours // 1))


def test_a_meter_is_read_where_one_is_sold():
    made = quoted(content={"quote": {"monitor": True}})
    steps = steps_of(WRITE, made.options[0].handover)
    assert any("For each kWh on the meter" in step for step in steps)
    text = " ".join(pages_of(quote_bytes(made, ".pdf")))
    assert "An energy meter behind the inverter and a battery monitor" not in flat(text)
    assert not any("kWh on the meter" in step for step in
                   steps_of(WRITE, quoted().options[0].handover))  # fmt: skip


@pytest.mark.parametrize("site", SITES)
def test_nothing_is_from_memory_on_the_households_paper(site):
    assert not any("from memory" in text for text in pages(site))
    assert "Symbol" in pages(site, electrician_bytes)[0]


@pytest.mark.parametrize("site", SITES)
def test_the_banks_currents_say_what_their_limits_are(site):
    told = "Limits: what the battery's maker allows, the charge included"
    assert told in flat(" ".join(pages(site, electrician_bytes)))
    book = load_workbook(io.BytesIO(electrician_bytes(quote(site), ".xlsx")))
    assert any(str(cell.value).startswith(told) for row in book.worksheets[0] for cell in row)


@pytest.mark.parametrize("site", SITES)
def test_the_papers_are_short_and_no_page_is_all_but_empty(site):
    assert len(pages(site)) <= 8
    for text in (*pages(site), *pages(site, electrician_bytes)):
        assert len(text.split()) > 90, text
    assert not any("unrounded" in text.lower() for text in pages(site))


def test_one_command_makes_both_papers():
    found = dict(papers(quoted(), "out/quote.xlsx"))
    assert list(found) == ["out/quote.xlsx", "out/quote-electrician.xlsx"]
    assert [name for name, _ in papers(quoted(), "quote.csv")] == ["quote.csv"]


def column_width(sheet, column: int) -> float:
    """The width of a column; equal neighbours are stored as one."""
    found = [one.width for one in sheet.column_dimensions.values() if one.min <= column <= one.max]
    return found[0] if found else 8.43


def test_the_workbook_has_sender_logo_and_room_for_every_text():
    drawn = io.BytesIO()
    Image.new("RGB", (400, 100), "#7a3b8f").save(drawn, "PNG")
    sender = replace(company(), logo=drawn.getvalue(), customer="M. Harbour",
                     customer_address=("14 Gull Row",))  # fmt: skip
    made = build_quote(curve("clinic"), options=[6], company=sender, day=DAY)
    for make in (quote_bytes, electrician_bytes):
        book = load_workbook(io.BytesIO(make(made, ".xlsx")))
        for sheet in book:
            spans = {one.coord.split(":")[0]: one for one in sheet.merged_cells.ranges}
            for row in sheet.iter_rows():
                for cell in row:
                    if not isinstance(cell.value, str) or not cell.alignment.wrap_text:
                        continue
                    span = spans.get(cell.coordinate)
                    columns = range(span.min_col, span.max_col + 1) if span else [cell.column]
                    wide = sum(column_width(sheet, column) for column in columns)
                    high = sheet.row_dimensions[cell.row].height or 15.0
                    assert len(cell.value) / wide <= high / 15.0, (sheet.title, cell.coordinate)
    book = load_workbook(io.BytesIO(quote_bytes(made, ".xlsx")))
    first = book.worksheets[0]
    cells = [row[0].value for row in first.iter_rows(max_row=20)]
    for line in ("Fennimoor Electrical", "3 Ropewalk", "Telephone 0000 118", "14 Gull Row"):
        assert line in cells
    assert len(first._images) == 1


def test_the_table_opens_in_the_locales_spreadsheet():
    german = replace(company(), locale="de")
    made = build_quote(curve("clinic"), options=[6], company=german, day=DAY)
    raw = quote_bytes(made, ".csv")
    assert raw.startswith(b"\xef\xbb\xbf")
    rows = list(csv.DictReader(io.StringIO(raw.decode("utf-8-sig")), delimiter=";"))
    assert rows[0]["amount"] == f"{made.options[0].pricing.first.lines[0].amount}".replace(".", ",")
    assert not any("." in row["amount"] for row in rows)


def test_customer_cover_delivery_and_warranty_are_printed():
    content = {"quote": {
        "customer": "M. Harbour", "customer_address": ["14 Gull Row", "Hesk"],
        "cover": ["Thank you for showing us the house."], "delivery": "in March",
    }}  # fmt: skip
    text = flat(" ".join(pages_of(quote_bytes(quoted(content=content), ".pdf"))))
    for line in ("M. Harbour", "14 Gull Row", "Thank you for showing us", "Delivery: in March",
                 "The makers' warranty:"):  # fmt: skip
        assert line in text


@pytest.mark.parametrize("site", ["house", "clinic"])
def test_as_built_files_never_overwrite_each_other_and_are_as_designed(site, tmp_path):
    """Of both sites in one folder, and of options of the same hours."""
    made = quote(site)
    names = list(made.as_built_files)
    assert len(set(names)) == len(made.options)
    assert all("Q-2026-118" in name for name in names)
    job = load(site)
    for option, (name, text) in zip(made.options, made.as_built_files.items(), strict=True):
        (tmp_path / name).write_text(text, "utf-8")
        existing = load_design(tmp_path / name, site, None, job)
        found = assess(job, existing)
        assert found.is_as_designed, option_name(WRITE, option.design)
        assert as_designed(WRITE, found).startswith(
            "As designed: the equipment of quote Q-2026-118"
        )
        assert " more." not in distance(WRITE, found)[1][1]
        for key in ("fuse_a", "cable_mm2", "inverter_serials", "battery_serials", "day = 2026"):
            assert key in text
    other = quote("clinic" if site == "house" else "house").as_built_files
    assert not set(other) & set(names)


def test_the_test_record_asks_for_what_an_electrician_signs():
    text = flat(" ".join(pages("house", electrician_bytes)))
    for word in ("Insulation", "RCD at its rated current", "Earth-fault loop impedance",
                 "Polarity of each string", "Serial number", "Torque"):  # fmt: skip
        assert word in text


def test_the_json_says_why_and_holds_no_sentence_of_what_stands_beside():
    data = json.loads(quote_bytes(quote("house"), ".json"))
    assert {one["why"] for one in data["options"]} <= {"required", "cheaper", "longer"}
    assert data["for_little_more"]["hours"] > data["options"][-1]["design"]["hours"]
