from __future__ import annotations

import tomllib
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from openpyxl import Workbook

from optimizer.errors import InputError
from optimizer.inputs.battery_rows import BatteryRow
from optimizer.inputs.columns import columns_of
from optimizer.inputs.rows import CableRow
from optimizer.inputs.supplier_list import read_list
from optimizer.inputs.tables import read_table
from optimizer.report.words.prices import read
from optimizer.report.words.writer import Writer
from optimizer.suppliers.conversion import convert
from optimizer.suppliers.first_guess import guess_by_names
from optimizer.suppliers.mapping import mapping_from, mapping_toml, read_mapping
from optimizer.suppliers.price_changes import changes, last_prices, prices_of
from optimizer.suppliers.units import units_for
from tests.unit.quote.made import DEMO

SUPPLIER = DEMO / "supplier"

MAP = {
    "list": {"table": "fuses", "currency": "EUR"},
    "columns": {"rating_a": "Amps", "price": "Net"},
}
BATTERIES = {
    "list": {
        "table": "batteries",
        "currency": "EUR",
        "supplier": "Slate and Sons",
        "price_date": date(2026, 11, 2),
    },
    "columns": {
        "battery": "Model",
        "chemistry": {"value": "agm"},
        "voltage_v": {"value": 12},
        "capacity_ah": "Ah",
        "rate_h": {"value": 20},
        "price": "Net",
        "mass_kg": {"column": "Mass", "unit": "lb"},
    },
}


def changed(content, **sections):
    return {name: content.get(name, {}) | sections.get(name, {}) for name in content | sections}


def fuses(folder, rows: str, **sections):
    path = folder / "list.csv"
    path.write_text(f"Amps;Net;Group\n{rows}", "utf-8")
    return convert(read_list(path), mapping_from(changed(MAP, **sections)))


def prices(converted):
    place = converted.columns.index("price")
    return [row[place] for row in converted.cells]


@pytest.mark.parametrize(
    ("written", "decimals", "read"),
    [
        ("12,50 €", None, "12.50"),
        ("EUR 1.234,50", None, "1234.50"),
        ("1 234,50", None, "1234.50"),
        ("1'234.50", None, "1234.50"),
        ("1,234.50", None, "1234.50"),
        ("1.234", "comma", "1234.00"),
        ("1.234", "point", "1.23"),
        ("12,-", "comma", "12.00"),
        ("7", None, "7.00"),
    ],
)
def test_prices_as_suppliers_write_them(tmp_path, written, decimals, read):
    given = {} if decimals is None else {"list": {"decimals": decimals}}
    assert prices(fuses(tmp_path, f"80;{written};x\n", **given)) == [read]


@pytest.mark.parametrize("rows", ["80;1.234;x\n", "80;1.234,5;x\n100;12.5;x\n"])
def test_decimals_are_never_guessed(tmp_path, rows):
    with pytest.raises(InputError) as caught:
        fuses(tmp_path, rows)
    assert caught.value.faults[0].column == "list.decimals"


def test_a_list_that_mixes_decimals_is_read_number_by_number_where_the_mapping_says_so(tmp_path):
    rows = "80;189,00;x\n100;25.6;x\n125;1.234,5;x\n160;1,234.5;x\n200;1.234;x\n250;14;x\n"
    with pytest.raises(InputError, match='or "mixed"'):
        fuses(tmp_path, rows)
    stated = fuses(tmp_path, rows, list={"decimals": "comma"})
    assert 'or decimals = "mixed"' in stated.unreadable[0].wanted
    found = fuses(tmp_path, rows, list={"decimals": "mixed"})
    assert prices(found) == ["189.00", "25.60", "1234.50", "1234.50", "14.00"]
    (fault,) = found.unreadable  # 1.234 alone could be either
    assert (fault.row, fault.found) == (6, "'1.234'")
    assert "shows its decimals" in fault.wanted


@pytest.mark.parametrize("cell", ["on request", "12 / 14", "", "1.2.3,4", "-5", "1,2,3.5"])
def test_a_row_that_cannot_be_read_is_listed(tmp_path, cell):
    found = fuses(tmp_path, f"80;{cell};x\n100;9;x\n", list={"decimals": "comma"})
    assert prices(found) == ["9.00"]
    assert [(fault.row, fault.column) for fault in found.unreadable] == [(2, "Net → price")]
    assert found.unreadable[0].wanted  # what would be right is told of each


def test_a_name_twice_is_taken_at_its_cheapest_and_told(tmp_path):
    found = fuses(tmp_path, "80;9;x\n80;8;x\n100;5;x\n")
    assert prices(found) == ["8.00", "5.00"]
    (twice,) = found.repeated
    assert (twice.row, twice.others) == (3, ((2, Decimal("9.00")),))


@pytest.mark.slow
def test_exchange_and_factors_go_into_prices_alone(tmp_path):
    """100 kr · 0.9 · 0.5 for the column · 0.08 to the euro is 3.60."""
    found = fuses(
        tmp_path,
        "80;100;x\n",
        list={"currency": "SEK", "into": "EUR", "exchange": 0.08, "factor": 0.9},
        columns={"price": {"column": "Net", "factor": 0.5}},
    )
    assert found.currency == "EUR"
    assert found.cells == (("80", "3.60"),)


def test_the_filter_takes_rows_by_their_words(tmp_path):
    found = fuses(tmp_path, "80;1;DC\n100;2;ac\n125;3;dc\n", filter={"Group": ["dc"]})
    assert prices(found) == ["1.00", "3.00"]
    assert found.filtered == 1


def test_columns_that_nothing_is_asked_of_are_told(tmp_path):
    found = fuses(tmp_path, "80;12;per pair\n")
    assert found.unasked == ("Group",)
    assert read(Writer("EUR"), found).endswith("Nothing was asked of the column “Group”.")
    filtered = fuses(tmp_path, "80;12;each\n", exclude={"Group": ["per pair"]})
    assert filtered.unasked == ()
    assert "asked" not in read(Writer("EUR"), filtered)


def test_units_are_converted(tmp_path):
    path = tmp_path / "list.csv"
    path.write_text("Model,Ah,Net,Mass\nSlate,100 Ah,90,66.14 lb\n", "utf-8")
    found = convert(read_list(path), mapping_from(BATTERIES))
    assert found.rows[0]["mass_kg"] == "30.0006"
    assert units_for(columns_of(CableRow)["section_mm2"]) == ("mm²", "AWG")
    assert units_for(columns_of(BatteryRow)["supplier"]) == ()


def test_gauges_become_sections(tmp_path):
    """AWG 2 is 33.63 mm² (ASTM B258, published)."""
    path = tmp_path / "list.csv"
    path.write_text("Gauge,A,R,Foot\n2,140,0.156,1.00\n", "utf-8")
    columns = {
        "section_mm2": {"column": "Gauge", "unit": "AWG"},
        "ampacity_a": "A",
        "ohm_per_km": {"column": "R", "unit": "per 1000 ft"},
        "price_per_m": {"column": "Foot", "unit": "per ft"},
    }
    found = convert(
        read_list(path),
        mapping_from({"list": {"table": "cables", "currency": "USD"}, "columns": columns}),
    )
    section, ampacity, resistance, price = found.cells[0]
    assert float(section) == pytest.approx(33.63, abs=0.005)
    assert float(resistance) == pytest.approx(0.156 / 0.3048, rel=1e-5)
    assert (ampacity, price) == ("140", "3.28")


def test_a_workbook_with_titles_above(tmp_path):
    """Its own numbers come with a point whatever the text cells do."""
    book = Workbook()
    sheet = book.active
    for row in (
        ["Fuses 2026"],
        [],
        ["Amps", "Net", "Group"],
        [80, 12.5, "x"],
        [100, "1.012,50", "x"],
    ):
        sheet.append(row)
    book.save(tmp_path / "list.xlsx")
    supplier = read_list(tmp_path / "list.xlsx")
    assert supplier.headings() == ("Amps", "Net", "Group")
    found = convert(supplier, mapping_from(changed(MAP, list={"decimals": "comma"})))
    assert prices(found) == ["12.50", "1012.50"]


def test_the_demo_list(tmp_path):
    """Eight articles: one starter battery and three titles filtered, one without a price."""
    mapping = read_mapping(SUPPLIER / "gorseholm.toml")
    found = convert(read_list(SUPPLIER / "gorseholm-2026-11.csv"), mapping)
    assert (len(found.rows), found.filtered, found.noise) == (6, 1, (5, 7, 15))
    assert [fault.row for fault in found.unreadable] == [11]
    (tmp_path / "batteries.csv").write_bytes(found.as_csv())
    faults = []
    table = read_table(tmp_path / "batteries.csv", faults)
    assert not faults
    assert [name for _, name in table.column("battery")][-1] == "=Fulmar 51 Plus"
    assert b"\n'=Fulmar" in found.as_csv()
    old = convert(read_list(SUPPLIER / "gorseholm-2026-05.csv"), mapping)
    (tmp_path / "old.csv").write_bytes(old.as_csv())
    for before in (SUPPLIER / "gorseholm-2026-05.csv", tmp_path / "old.csv"):
        differs = changes(last_prices(before, mapping), prices_of(found.rows, found.table))
        assert [(one.name, one.before, one.now) for one in differs.changed] == [
            ("Gannet Ledge 6", Decimal("116.44"), Decimal("121.77")),  # 142.00, 148.50 × 0.82
            ("Fulmar 25", Decimal("1681.00"), Decimal("1553.90")),
        ]
        assert differs.vanished == ("Petrel 12 Old",)
        assert differs.added == ("=Fulmar 51 Plus",)


def test_a_mapping_is_written_and_read_again():
    mapping = read_mapping(SUPPLIER / "gorseholm.toml")
    again = mapping_from(tomllib.loads(mapping_toml(mapping)))
    assert replace(again, file="") == replace(mapping, file="")
    other = mapping_from(
        changed(
            BATTERIES,
            list={"currency": "SEK", "into": "EUR", "exchange": 0.08},
            columns={"price": {"column": "Net", "factor": 0.5}},
            filter={"Group": "DC"},
        )
    )
    assert replace(mapping_from(tomllib.loads(mapping_toml(other))), file="") == replace(
        other, file=""
    )


@pytest.mark.parametrize(
    ("sections", "column", "found", "wanted"),
    [
        ({"columns": {"rating": "Amps"}}, "columns.rating", "unknown column", "rating_a"),
        ({"columns": {"price": 3}}, "columns.price", "3", "a column of theirs"),
        (
            {"columns": {"price": date(2026, 11, 2)}},
            "columns.price",
            "2026-11-02",
            'a column of theirs, or {column = "…", unit = "…"}, or {value = …}',
        ),
        ({"columns": {"price": [True]}}, "columns.price", "[true]", "a column of theirs"),
        ({"columns": {"price": {}}}, "columns.price", "both or neither", "column or value"),
        ({"columns": {"price": {"colum": "Net"}}}, "columns.price.colum", "unknown key", "column"),
        (
            {"columns": {"rating_a": {"column": "Amps", "unit": "kg"}}},
            "columns.rating_a",
            "'kg'",
            "a unit for rating_a",
        ),
        (
            {"columns": {"price": {"column": "Net", "pattern": "(a+)+"}}},
            "columns.price.pattern",
            "(a+)+",
            "piece",
        ),
        (
            {"columns": {"price": {"column": "Net", "piece": "a"}}},
            "columns.price",
            "'a'",
            "first, second, third or a text",
        ),
        ({"words": {"ab": "perhaps"}}, "words.ab", "'perhaps'", "ignore"),
        ({"words": {"ab": {"tax": 20}}}, "words.ab.tax", "20", "0.2 if 20 % was meant"),
        ({"words": {" ": "ignore"}}, "words. ", "' '", "a word or a sign"),
        ({"list": {"into": "SEK"}}, "list.exchange", "no such key", "SEK for one EUR"),
        ({"list": {"table": "motors"}}, "list.table", "'motors'", "batteries, inverters"),
        ({"list": {"decimals": "dot"}}, "list.decimals", "'dot'", '"comma", "point" or "mixed"'),
        ({"filter": {"Group": [3]}}, "filter.Group", "[3]", "lines such as"),
        ({"lists": {}}, "lists", "unknown section", "nearest known: list"),
    ],
)
def test_what_is_wrong_with_a_mapping_is_said(sections, column, found, wanted):
    with pytest.raises(InputError) as caught:
        mapping_from(changed(MAP, **sections))
    said = {fault.column: fault for fault in caught.value.faults}
    assert found in said[column].found
    assert wanted in said[column].wanted


def test_columns_that_a_table_needs():
    with pytest.raises(InputError) as caught:
        mapping_from({"list": MAP["list"], "columns": {"price": "Net"}})
    assert [fault.column for fault in caught.value.faults] == ["columns.rating_a"]
    with pytest.raises(InputError, match=r"\[columns\]"):
        mapping_from({"list": MAP["list"]})


def test_a_list_without_the_columns_of_the_mapping(tmp_path):
    (tmp_path / "list.csv").write_text("Amp;Net\n80;1\n", "utf-8")
    with pytest.raises(InputError, match="nearest known: Amp"):
        convert(read_list(tmp_path / "list.csv"), mapping_from(MAP))


@pytest.mark.parametrize(
    ("content", "found"), [(b"", "an empty file"), (b"\x00\x01\x02\x00\x00", "no text")]
)
def test_lists_that_are_none(tmp_path, content, found):
    (tmp_path / "list.csv").write_bytes(content)
    with pytest.raises(InputError, match=found):
        read_list(tmp_path / "list.csv")


def test_a_first_guess_for_the_page():
    headings = ["Order code", "Inverter model", "Power W", "Price EUR"]
    found = guess_by_names(headings, "inverters")
    assert found["inverter"] == "Inverter model"
    assert found["price"] == "Price EUR"
    assert len(set(found.values())) == len(found)


@pytest.mark.parametrize(
    ("columns", "cell", "wanted"),
    [
        ({"item": {"column": "Amps", "values": {"DC": "Fuse"}}}, "ac", "one of DC"),
        ({"item": {"column": "Amps", "piece": "No #"}}, "12", "text that fits No #"),
    ],
)
def test_words_and_pieces_that_the_mapping_does_not_know(tmp_path, columns, cell, wanted):
    path = tmp_path / "list.csv"
    path.write_text(f"Amps;Net\n{cell};5\n", "utf-8")
    rest = {"basis": {"value": "site"}, "price": "Net", "applies": {"value": "first"}}
    content = {"list": {"table": "works", "currency": "EUR"}, "columns": rest | columns}
    found = convert(read_list(path), mapping_from(content))
    assert not found.rows
    assert wanted in found.unreadable[0].wanted


def test_dates_as_the_mapping_says(tmp_path):
    path = tmp_path / "list.csv"
    path.write_text("Model,Ah,Net,Mass,Day\nA,90,9,10,31.01.2026\nB,90,9,10,2026\n", "utf-8")
    columns = {"price_date": {"column": "Day", "dates": "%d.%m.%Y"}}
    found = convert(read_list(path), mapping_from(changed(BATTERIES, columns=columns)))
    assert [row[-1] for row in found.cells] == ["2026-01-31"]
    assert "a date written as" in found.unreadable[0].wanted


def test_broken_quoting_and_a_last_list_that_is_none(tmp_path):
    (tmp_path / "list.csv").write_text('Amps;Net\n"80;1\n', "utf-8")
    with pytest.raises(InputError, match="a quote mark that is never closed"):
        read_list(tmp_path / "list.csv")
    (tmp_path / "old.csv").write_text("rating_a,price\n80,cheap\n", "utf-8")
    with pytest.raises(InputError, match="numbers with a point"):
        last_prices(tmp_path / "old.csv", mapping_from(MAP))
