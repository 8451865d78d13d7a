"""A mapping made by hand: its first guess, its pieces; and the rows taken into a table."""

from __future__ import annotations

import pytest

from optimizer.files.place import Held
from optimizer.suppliers.conversion import convert, read_list
from optimizer.suppliers.first_guess import (
    PIECES,
    cells_under,
    details,
    first_guess,
    words_of,
)
from optimizer.suppliers.mapping import content_of, mapping_from, read_mapping
from optimizer.suppliers.merging import merge
from tests.unit.quote.made import DEMO

NOVEMBER = DEMO / "supplier" / "gorseholm-2026-11.csv"
MAPPING = DEMO / "supplier" / "gorseholm.toml"


def test_first_guess_takes_units_pieces_and_dates_from_the_list():
    guess = first_guess(read_list(NOVEMBER), "batteries")
    assert guess["battery"] == {"column": "Article"}
    assert guess["mass_kg"] == {"column": "Weight (lb)", "unit": "lb"}
    assert guess["voltage_v"] == {"column": "Nominal"}
    assert guess["capacity_ah"]["pattern"] == PIECES["first"]
    assert guess["rate_h"] == {"column": "Capacity (rate)", "pattern": PIECES["rate"]}
    assert guess["price_date"]["dates"] == "%d.%m.%Y"
    assert guess["chemistry"]["values"] == {"Gel": "gel"}


@pytest.mark.parametrize(
    ("cell", "first", "second"), [("70 Ah (C20)", "70", "20"), ("25,6 V / 150 Ah", "25,6", "150")]
)
def test_pieces_of_a_cell(cell, first, second):
    supplier = read_list(Held({"l.csv": f'Cap;Price\n"{cell}";1\n'.encode()}, "l.csv"))
    for piece, text in (("first", first), ("second", second)):
        content = {
            "list": {"table": "fuses", "currency": "EUR", "decimals": "comma"},
            "columns": {
                "rating_a": {"column": "Cap", "pattern": PIECES[piece]},
                "price": "Price",
            },
        }
        assert convert(supplier, mapping_from(content)).rows[0][0] == text.replace(",", ".")


def test_one_number_is_no_piece():
    supplier = read_list(Held({"l.csv": b"Amps;Price\n32,5 A;1.895,00\n"}, "l.csv"))
    assert details(supplier, None, "fuses", "rating_a", "Amps") == {"column": "Amps"}


def test_cells_under_keep_to_the_filter():
    supplier = read_list(NOVEMBER)
    assert "Wet" in cells_under(supplier, None, "Technology")
    assert "Wet" not in cells_under(supplier, None, "Technology", {"Group": ["stationary"]})
    assert cells_under(supplier, None, "Nothing of theirs") == ()
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
    merged = merge(None, found)
    assert merged.table.as_csv().decode().splitlines() == found.as_csv().decode().splitlines()
    assert merged.changes.vanished == ()
