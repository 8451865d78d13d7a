"""The files of a quote, read back by other hands than wrote them."""

from __future__ import annotations

import csv
import io
import json
import re
from dataclasses import replace
from decimal import Decimal

import pytest
from openpyxl import load_workbook

from optimizer.answers.curve import Curve
from optimizer.errors import InputError
from optimizer.inputs.tables import read_table
from optimizer.model.job import Work
from optimizer.quote import Company, build_quote, company_from
from optimizer.report.grids.grid import Column, Grid, Kind
from optimizer.report.grids.quote import options
from optimizer.report.quote import ENDINGS, INSTALLER_ENDINGS, installer_bytes, quote_bytes
from optimizer.report.quote import xlsx_page as pages
from optimizer.report.words.quote import beside, option_name
from optimizer.report.words.quote_lines import item, stage
from optimizer.report.words.writer import Writer
from tests.unit.quote.made import DAY, company, curve, pages_of, paper, quote
from tests.unit.report.quote.sheets import Book

pytestmark = pytest.mark.slow

WRITE = Writer("EUR")
ODD = ("=HYPERLINK(1)", "{=1+1}", "+1", "-x", "@sum", "'=quoted", "'plain", 'Ünïcode ☎, "marks"; €')


def with_site(site: str, *, shown: str = "spread", content=None, **changes):
    """A demo site's quote with other money; the curve's designs stand as they are."""
    found = curve(site)
    job = replace(found.job, site=replace(found.job.site, **changes))
    own = company_from({"company": {"name": "K"}, "payment": {"deposit": 0.3}, **(content or {})})
    sender = replace(own if content else company(), markup=shown)
    return build_quote(Curve(job, None, found.points), company=sender, day=DAY)


def with_names(*names: str):
    """A quote whose works bear these names."""
    found = curve("clinic")
    works = tuple(Work(name, "site", 10.0, "first") for name in names)
    job = replace(found.job, catalog=replace(found.job.catalog, works=works))
    return build_quote(Curve(job, None, found.points), options=[6], day=DAY)


def test_a_row_may_be_of_numbers_alone():
    """As in the table of tiers where each of its hours is for sale."""
    book = pages.Book(quote("clinic"))
    columns = [Column("hours", "Hours", Kind.HOURS), Column("cost", "Cost", Kind.MONEY)]
    pages.Page(book, "Tiers", "Tiers").grid(Grid("tiers", "Tiers", columns, [[1, 4287.4]]))
    sheet = load_workbook(io.BytesIO(book.content())).active
    assert [cell.value for cell in sheet[4]][:2] == [1, 4287.4]


OWN = {
    "prices": {
        "markup_labour": 0.3,
        "tax_goods": 0.21,
        "tax_labour": 0.09,
        "discounts": {"Old customer": 0.05, "Spring": 0.015},
    },
    "owned": {"Bosunwick Galley": 1, "Ostley Hearth": 1},
    "extra": [
        {"item": "Chasing walls", "quantity": 3.5, "unit": "hour", "price": 48},
        {"item": "Duct", "quantity": 6.5, "unit": "metre", "price": 4.2, "tax": 0.07},
        {"item": "Trade-in", "quantity": 1, "unit": "piece", "price": -30},
    ],
}
VARIANTS = [
    ("house", {}),
    ("clinic", {"markup": 0.137, "tax_rate": 0.06, "shown": "line"}),
    ("clinic", {"markup": 0.137, "shown": "spread"}),
    ("hall", {"currency": "JPY", "markup": 0.2, "shown": "line"}),
    ("clinic", {"currency": "KWD", "tax_rate": 0.0333}),
    ("house", {"content": OWN}),
    ("house", {"content": OWN, "shown": "line", "markup": 0.1}),
]


@pytest.mark.parametrize(("site", "changes"), VARIANTS)
def test_every_formula_of_the_workbook_gives_the_value_stored_beside_it(site, changes):
    made = with_site(site, **changes)
    book = Book(quote_bytes(made, ".xlsx"))
    seen = 0
    for sheet, cell, formula in book.cells():
        stored = Decimal(repr(book.stored(sheet, cell)))
        assert book.worked_out(sheet, cell) == stored, f"{sheet}!{cell}: {formula}"
        seen += 1
    assert seen > 15 * len(made.options)


def money(row):
    """The amount of a row: the last cell that is filled."""
    return [cell for cell in row if cell is not None][-1]


@pytest.mark.parametrize(("site", "changes"), VARIANTS)
def test_totals_of_the_workbook_are_those_of_the_quote(site, changes):
    made = with_site(site, **changes)
    book = Book(quote_bytes(made, ".xlsx"))
    for option in made.options:
        sheet = book.values[f"Price {option.design.hours} h"]
        rows = [[cell.value for cell in row] for row in sheet.iter_rows()]
        totals = [money(row) for row in rows if row[0] == "Total"]
        assert totals[0] == float(option.pricing.total)
        end = "Sum of the lines" if option.pricing.first.added else "Sum before tax"
        lines = rows[3 : [row[0] for row in rows].index(end)]
        added = sum(Decimal(repr(money(row))) for row in lines if row[1] is not None)
        assert added == option.pricing.first.net
        stages = {stage(WRITE, one.stage) for one in option.pricing.plan}
        due = [row[2] for row in rows if row[0] in stages]
        assert sum(Decimal(repr(amount)) for amount in due) == option.pricing.total
        assert totals[1:] == [float(one.sum.total) for one in option.pricing.replacements]


def test_margins_are_re_added_too():
    made = with_site("house", markup=0.15)
    book = Book(installer_bytes(made, ".xlsx"))
    for sheet, cell, formula in book.cells():
        stored, found = Decimal(repr(book.stored(sheet, cell))), book.worked_out(sheet, cell)
        assert float(found) == pytest.approx(float(stored), abs=1e-9), f"{sheet}!{cell} {formula}"


def test_the_csv_adds_up():
    made = with_site("clinic", markup=0.1, shown="line")
    rows = list(csv.DictReader(io.StringIO(quote_bytes(made, ".csv").decode("utf-8-sig"))))
    for option in made.options:
        own = [row for row in rows if row["option"] == option_name(WRITE, option.design)]
        kinds = ("line", "markup", "discount", "tax", "total", "payment")
        sums = dict.fromkeys(kinds, Decimal(0))
        for row in own:
            if row["kind"] in sums:
                sums[row["kind"]] += Decimal(row["amount"])
        before = sums["line"] + sums["markup"] + sums["discount"]
        assert before + sums["tax"] == sums["total"] == sums["payment"]


def test_the_json_holds_what_the_page_and_programs_need():
    data = json.loads(quote_bytes(quote("house"), ".json"))
    assert data["date"] == "2026-11-25"
    assert data["valid_until"] == "2026-12-25"
    for option, made in zip(data["options"], quote("house").options, strict=True):
        assert option["first"]["total"] == float(made.pricing.total)
        assert option["verdict"]["shortfalls"] == []
        assert option["design"]["hours"] == made.design.hours
        parts = option["electrical"]["circuit"]["parts"]
        assert len(parts) > 10
        assert sum(len(part["figures"]) for part in parts) > 25
        assert option["handover"]["monthly"] > 0


@pytest.mark.parametrize("ending", ENDINGS)
def test_the_same_quote_is_the_same_file(ending):
    again = build_quote(curve("house"), company=company(), day=DAY)
    made = paper("house") if ending == ".pdf" else quote_bytes(quote("house"), ending)
    assert quote_bytes(again, ending) == made


def words_of(content: bytes, ending: str) -> str:
    """Everything a reader of the file can see."""
    if ending == ".pdf":
        return "\n".join(pages_of(content))
    if ending == ".xlsx":
        book = load_workbook(io.BytesIO(content))
        return "\n".join(
            str(cell.value) for sheet in book for row in sheet.iter_rows() for cell in row
        )
    return content.decode()


@pytest.mark.parametrize("ending", ENDINGS)
def test_nothing_of_the_margin_is_in_the_customers_file(ending):
    """With the markup inside the prices, neither it nor the suppliers' prices are to be found."""
    made = with_site("house", shown="spread", markup=0.3137)
    shown = words_of(quote_bytes(made, ending), ending)
    lines = [line for option in made.options for line in option.pricing.first.lines]
    dearest = max(lines, key=lambda line: line.cost_each)
    assert float(dearest.price_each) in numbers_in(shown)
    assert float(dearest.cost_each) not in numbers_in(shown)
    codes = [
        line.bought.supplier_code for line in lines if line.bought and line.bought.supplier_code
    ]
    assert codes
    for word in ("0.3137", "31.37", *codes, "cost_each", '"margin"', "Margin"):
        assert word not in shown, word
    if ending in INSTALLER_ENDINGS:
        own = words_of(installer_bytes(made, ending), ending)
        if ending == ".csv":  # its commas stand between cells
            own = own.replace(",", " ")
        assert float(dearest.cost_each) in numbers_in(own)


def numbers_in(text: str) -> set[float]:
    return {
        float(one) for one in re.findall(r"\d+(?:\.\d+)?", re.sub(r"(?<=\d),(?=\d{3}\b)", "", text))
    }


def test_text_like_formulas_is_marked_and_reads_back_as_it_was(tmp_path):
    made = with_names(*ODD)
    path = tmp_path / "quote.csv"
    path.write_bytes(quote_bytes(made, ".csv"))
    raw = list(csv.DictReader(io.StringIO(path.read_bytes().decode("utf-8-sig"))))
    assert not [row for row in raw if row["item"][:1] in {"=", "+", "-", "@"}]
    faults = []
    items = [text for _, text in read_table(path, faults).column("item")]
    assert not faults
    expected = [item(WRITE, line.item) for line in made.options[0].pricing.first.lines]
    assert items[: len(expected)] == expected
    assert set(ODD[:5]) <= set(expected)
    book = Book(quote_bytes(made, ".xlsx"))
    cells = [row[0] for row in book.formulas["Price 6 h"].iter_rows(min_row=4, max_row=40)]
    assert all(cell.data_type != "f" for cell in cells)
    assert set(ODD) <= {cell.value for cell in cells}


@pytest.mark.parametrize(("ending", "call"), [(".doc", quote_bytes), (".pdf", installer_bytes)])
def test_kinds_of_file_that_there_are_not(ending, call):
    with pytest.raises(InputError, match="one of"):
        call(quote("house"), ending)


def test_the_step_of_the_supply_that_an_option_counts_on_is_told():
    house, hall = with_site("house", content=OWN), with_site("hall")
    (row,) = [one for one in options(WRITE, house).rows if str(one[0]).startswith("Supply")]
    for cell, option in zip(row[1:], house.options, strict=True):
        step = option.design.contract
        assert cell.value == (
            f"{step.power_w / 1000:.3g} kW at {WRITE.money(step.cost_year, whole=True)} a year"
        )
    assert not any(str(one[0]).startswith("Supply") for one in options(WRITE, hall).rows)


def test_what_the_customer_has_already_is_told_not_to_have_been_looked_for():
    owned, plain = with_site("house", content=OWN), with_site("house")
    assert any("yours already" in one for one in beside(WRITE, owned))
    assert not any("yours already" in one for one in beside(WRITE, plain))


def test_a_quote_without_a_company():
    made = build_quote(curve("clinic"), options=[6], day=DAY)
    assert made.company == Company()
    total = made.options[0].pricing.total
    for ending in ENDINGS:
        shown = words_of(quote_bytes(made, ending), ending)
        assert float(total) in numbers_in(shown), ending
