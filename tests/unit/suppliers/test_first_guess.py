"""A mapping made by hand: its first guess, its pieces; and the rows taken into a table."""

from __future__ import annotations

import pytest

from optimizer.files.place import Held
from optimizer.inputs.supplier_list import read_list
from optimizer.suppliers.conversion import convert
from optimizer.suppliers.first_guess import cells_under, first_guess, words_of
from optimizer.suppliers.joining import join
from optimizer.suppliers.mapping import content_of, mapping_from, read_mapping
from tests.unit.quote.made import DEMO

NOVEMBER = DEMO / "supplier" / "gorseholm-2026-11.csv"
MAPPING = DEMO / "supplier" / "gorseholm.toml"


def test_first_guess_takes_words_and_dates_from_the_list():
    guess = first_guess(read_list(NOVEMBER), "batteries", {})
    assert guess["battery"] == {"column": "Article"}
    assert guess["mass_kg"] == {"column": "Weight (lb)"}  # its unit is read from the heading
    assert guess["voltage_v"] == {"column": "Nominal"}
    assert guess["capacity_ah"] == guess["rate_h"] == {"column": "Capacity (rate)"}
    assert guess["price_date"]["dates"] == "%d.%m.%Y"
    assert guess["chemistry"]["values"] == {"Wet": "flooded", "Gel": "gel"}


@pytest.mark.parametrize(
    ("cell", "piece", "text"),
    [
        ("70 Ah (C20)", None, "70"),
        ("25,6 V / 150 A", None, "150"),  # the one whose unit is ours
        ("330 x 172 x 218", "second", "172"),
        ("16 to 40 A", "# to * A", "16"),
        ("DC 32,5 (80) A", "first", "32.5"),
    ],
)
def test_pieces_of_a_cell(cell, piece, text):
    supplier = read_list(Held({"l.csv": f'Cap;Price\n"{cell}";1\n'.encode()}, "l.csv"))
    content = {
        "list": {"table": "fuses", "currency": "EUR", "decimals": "comma"},
        "columns": {"rating_a": {"column": "Cap"}, "price": "Price"},
        "words": {"Ah": "ignore"},
    }
    if piece is not None:
        content["columns"]["rating_a"]["piece"] = piece
    assert convert(supplier, mapping_from(content)).cells[0][0] == text


def test_cells_under_keep_to_the_filter():
    supplier = read_list(NOVEMBER)
    assert "Wet" in cells_under(supplier, {}, "Technology")
    assert "Wet" not in cells_under(supplier, {}, "Technology", {"Group": ["stationary"]})
    assert cells_under(supplier, {}, "Nothing of theirs") == ()
    assert words_of("inverters", "works_in_parallel") == ("true", "false")


def test_content_of_a_mapping_makes_the_same_mapping():
    found = read_mapping(MAPPING)
    again = mapping_from(content_of(found))
    assert (again.columns, again.filter, again.factor) == (
        found.columns,
        found.filter,
        found.factor,
    )


def test_join_of_nothing_is_the_list_itself():
    found = convert(read_list(NOVEMBER), read_mapping(MAPPING))
    merged = join(None, [found])
    assert merged.table.as_csv().decode().splitlines() == found.as_csv().decode().splitlines()
    assert merged.changes.vanished == ()


def test_first_guess_tells_names_from_kinds_and_knows_the_trade_names_of_chemistries():
    text = (
        "Art.Nr;Bezeichnung;Typ;Preis EUR\n1;Moor 100;AGM;9\n2;Moor 200;AGM;10\n3;Heide;LiFePO4;11"
    )
    guess = first_guess(read_list(Held({"l.csv": text.encode()}, "l.csv")), "batteries", {})
    assert guess["battery"] == {"column": "Bezeichnung"}
    assert guess["chemistry"] == {"column": "Typ", "values": {"AGM": "agm", "LiFePO4": "lfp"}}


def test_first_guess_takes_a_list_price_for_a_price_and_not_for_its_date():
    text = "Model;Pieces;List price EUR;Valid from\nMoor 100;1;90,00;01.02.2026\n"
    guess = first_guess(read_list(Held({"l.csv": text.encode()}, "l.csv")), "batteries", {})
    assert guess["price"] == {"column": "List price EUR"}
    assert guess["price_date"] == {"column": "Valid from", "dates": "%d.%m.%Y"}


def test_a_word_in_place_of_a_price_leaves_the_row_out_where_the_mapping_says_so():
    supplier = read_list(Held({"l.csv": b"A;Price\n10;1\n20;a.A.\n"}, "l.csv"))
    content = {
        "list": {"table": "fuses", "currency": "EUR"},
        "columns": {"rating_a": "A", "price": "Price"},
    }
    assert "a.A." in str(convert(supplier, mapping_from(content)).unreadable[0])
    found = convert(supplier, mapping_from(content | {"words": {"a.A.": "skip"}}))
    assert len(found.rows) == 1
    assert not found.unreadable
