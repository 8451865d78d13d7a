"""What a cell or a heading says beside a number is understood, or stops the work."""

from __future__ import annotations

from time import process_time

import pytest
from openpyxl import Workbook

from optimizer.errors import InputError
from optimizer.files.place import Held
from optimizer.inputs.supplier_list import read_list
from optimizer.suppliers.conversion import convert
from optimizer.suppliers.joining import join
from optimizer.suppliers.mapping import mapping_from
from optimizer.suppliers.vocabulary import Doubt

#: A list of one battery, its headings and cells by our columns.
USUAL = {
    "battery": ("Model", "Slate 51"),
    "voltage_v": ("Voltage", "51,2 V"),
    "capacity_ah": ("Capacity", "100 Ah"),
    "rate_h": ("Rate", "C5"),
    "mass_kg": ("Weight", "47,5 kg"),
    "price": ("Price", "1.899,00 €"),
    "length_mm": ("Length", "442 mm"),
    "short_circuit_a": ("Fault", "4100 A"),
}


def read(changes=None, *, words=None, columns=None, more="", sections=None, **head):
    """Return a list of one battery as it is read, some of it written otherwise."""
    cells = USUAL | (changes or {})
    lines = [";".join(f'"{part[row]}"' for part in cells.values()) for row in (0, 1)]
    supplier = read_list(Held({"l.csv": "\n".join([*lines, more]).encode()}, "l.csv"))
    mapped = {ours: theirs for ours, (theirs, _) in cells.items() if ours in USUAL}
    content = {
        "list": {
            "table": "batteries",
            "supplier": "Slate",
            "currency": "EUR",
            "decimals": "comma",
            **head,
        },
        "columns": {
            "chemistry": {"value": "lfp"},
            "price_date": {"value": "2026-11-02"},
            **mapped,
            **(columns or {}),
        },
        "words": words or {},
        **(sections or {}),
    }
    return convert(supplier, mapping_from(content))


def value(found, column):
    assert not found.open_words, found.questions()
    assert not found.unreadable, found.unreadable
    return found.rows[0][column]


@pytest.mark.parametrize(
    ("column", "heading", "cell", "right"),
    [
        ("capacity_ah", "Capacity", "5,12 kWh", 5120 / 51.2),
        ("capacity_ah", "Kapazität in kWh", "5,12", 5120 / 51.2),
        ("capacity_ah", "Capacity (kWh)", "100 Ah", 100),  # the cell before the heading
        ("capacity_ah", "Capacity", "70 Ah (C5)", 70),
        ("length_mm", "Length", "17,4 in", 17.4 * 25.4),
        ("length_mm", "Länge", '17,4 "', 17.4 * 25.4),
        ("length_mm", "Länge [Zoll]", "17,4", 17.4 * 25.4),
        ("length_mm", "Length, in", "17,4", 17.4 * 25.4),
        ("length_mm", "Longueur (cm)", "44", 440),
        ("mass_kg", "Weight", "104 lb", 104 * 0.45359237),
        ("mass_kg", "Weight, lbs", "104", 104 * 0.45359237),
        ("mass_kg", "Peso", "104 LIBRAS", 104 * 0.45359237),
        ("short_circuit_a", "Isc", "4,1 kA", 4100),
        ("voltage_v", "Nominal", "51,2 V DC", 51.2),
        ("rate_h", "Rate", "20 h", 20),
        ("rate_h", "At", "70 Ah (C10)", 10),
        ("rate_h", "At", "70 Ah / 10 h", 10),
        ("price", "Price", "EUR 1.899,00", 1899),
        ("price", "Prix unitaire HT", "1 899,00 € / pièce", 1899),
        ("price", "Preis netto", "1.899,- €", 1899),
    ],
)
def test_units_are_read_from_cell_and_heading(column, heading, cell, right):
    cell = cell.replace('"', '""')
    found = read({column: (heading, cell)})
    assert float(value(found, column)) == pytest.approx(right, rel=1e-5)


@pytest.mark.parametrize(
    ("column", "heading", "cell", "doubt", "word"),
    [
        ("price", "Price", "$1.899,00", Doubt.CURRENCY, "$"),
        ("price", "Price", "1.899,00 USD", Doubt.CURRENCY, "USD"),
        ("price", "Price (USD)", "1.899,00", Doubt.CURRENCY, "USD"),
        ("price", "Price £", "1.899,00", Doubt.CURRENCY, "£"),
        ("price", "Price", "300,00 € / Paar", Doubt.PIECES, "Paar"),
        ("price", "Price per pair", "300,00 €", Doubt.PIECES, "per pair"),
        ("price", "Prezzo", "300,00 la coppia", Doubt.PIECES, "la coppia"),
        ("price", "Price", "1.899,00 € inkl. MwSt.", Doubt.TAX, "inkl MwSt"),
        ("price", "Prix TTC", "1.899,00 €", Doubt.TAX, "ttc"),
        ("price", "Precio (IVA incluido)", "1.899,00", Doubt.TAX, "iva incluido"),
        ("price", "Prijs", "1.899,00 incl. BTW", Doubt.TAX, "incl BTW"),
        ("price", "Preis", "ab 219,90", Doubt.FROM, "ab"),
        ("price", "Prix", "à partir de 219,90", Doubt.FROM, "à partir de"),
        ("price", "Price", "219,90 *", Doubt.UNKNOWN, "*"),
        ("price", "Price", "circa 219,90", Doubt.UNKNOWN, "circa"),
        ("battery", "Model", "Slate 51 (pair)", Doubt.PIECES, "pair"),
        ("capacity_ah", "Capacity", "100 kg", Doubt.UNIT, "kg"),
        ("capacity_ah", "Capacity (kg)", "100", Doubt.UNIT, "kg"),
        ("mass_kg", "Weight", "5 Ah", Doubt.UNIT, "Ah"),
        ("mass_kg", "Weight", "5 wogs", Doubt.UNKNOWN, "wogs"),
        ("voltage_v", "Voltage", "51,2 kW", Doubt.UNIT, "kW"),
    ],
)
def test_what_is_not_understood_stops_the_work(column, heading, cell, doubt, word):
    found = read({column: (heading, cell)})
    (asked,) = found.open_words
    assert (asked.doubt, asked.word) == (doubt, word)
    assert asked.row == (1 if asked.cell == heading else 2)
    assert asked.column == f"{heading} → {column}"
    assert not found.rows
    (fault,) = found.questions()
    assert f'[words] of the mapping "{word}"' in fault.wanted


@pytest.mark.parametrize(
    ("cell", "words", "right"),
    [
        ("ab 219,90", {"ab": "ignore"}, "219.90"),
        ("300,00 € / Paar", {"Paar": {"pieces": 2}}, "150.00"),
        ("119,00 € inkl. MwSt.", {"inkl. MwSt.": {"tax": 0.19}}, "100.00"),
        ("$100,00", {"$": {"exchange": 0.9}}, "90.00"),
        (
            "ab 238,00 $ inkl. MwSt. / Paar",
            {
                "ab": "ignore",
                "$": {"exchange": 0.9},
                "inkl MwSt": {"tax": 0.19},
                "paar": {"pieces": 2},
            },
            "90.00",
        ),
    ],
)
def test_the_mapping_answers(cell, words, right):
    assert value(read({"price": ("Price", cell)}, words=words), "price") == right


def test_a_tax_in_the_heading_and_in_the_cell_is_taken_off_once():
    words = {"inkl. MwSt.": {"tax": 0.19}}
    found = read({"price": ("Preis inkl. MwSt.", "119,00 inkl. MwSt.")}, words=words)
    assert value(found, "price") == "100.00"


def test_words_leave_rows_out_and_stand_for_units():
    found = read({"price": ("Price", "ab 219,90")}, words={"ab": "skip"})
    assert (found.rows, found.filtered) == ((), 1)
    found = read({"mass_kg": ("Weight", "104 Pfd")}, words={"Pfd": {"unit": "lb"}})
    assert float(value(found, "mass_kg")) == pytest.approx(104 * 0.45359237, rel=1e-5)


def test_an_amount_without_a_unit_anywhere_is_told():
    found = read({"mass_kg": ("Weight", "47,5")})
    assert found.bare == (("mass_kg", "kg"),)
    assert value(found, "mass_kg") == "47.5"
    named = read({"mass_kg": ("W", "47,5")}, columns={"mass_kg": {"column": "W", "unit": "lb"}})
    assert named.bare == ()


def test_a_column_of_currencies_is_read():
    changes = {"currency": ("Währung", "USD")}
    (asked,) = read(changes).open_words
    assert (asked.word, asked.doubt) == ("USD", Doubt.CURRENCY)
    dollars = {"USD": {"exchange": 0.9}, "€": "ignore"}
    assert value(read(changes, words=dollars), "price") == "1709.10"
    assert value(read({"currency": ("Währung", "EUR")}), "price") == "1899.00"


def test_what_a_number_s_format_shows_is_read(tmp_path):
    """A workbook's cell holds 1899; the dollar sign is in its format alone."""
    book = Workbook()
    book.active.append(["Amps", "Net"])
    book.active.append([80, 12.5])
    book.active.append([100, 14])
    book.active["A2"].number_format = '0" A"'
    book.active["B2"].number_format = "#,##0.00 [$€-407]"
    book.active["B3"].number_format = '"$"#,##0.00'
    book.save(tmp_path / "l.xlsx")
    content = {
        "list": {"table": "fuses", "currency": "EUR", "decimals": "comma"},
        "columns": {"rating_a": "Amps", "price": "Net"},
    }
    found = convert(read_list(tmp_path / "l.xlsx"), mapping_from(content))
    assert [(one.word, one.row, one.doubt) for one in found.open_words] == [
        ("$", 3, Doubt.CURRENCY)
    ]
    content["words"] = {"$": {"exchange": 0.5}}
    found = convert(read_list(tmp_path / "l.xlsx"), mapping_from(content))
    assert found.cells == (("80", "12.50"), ("100", "7.00"))


def test_a_heading_that_stands_twice_is_named_by_its_letter():
    with pytest.raises(InputError, match=r"nearest known: Price \[[FI]\]"):
        read({"old": ("Price", "1")})


def test_rows_of_one_name_that_differ_are_no_duplicates():
    other = '"Slate 51";"51,2 V";"200 Ah";"C5";"47,5 kg";"900,00";"442 mm";"4100 A"'
    found = read(more=other)
    (fault,) = found.unreadable
    assert (fault.row, fault.column) == (2, "Capacity → capacity_ah")
    assert "with 100 here and 200 in row 3" in fault.found


@pytest.mark.parametrize(
    ("resistance", "price"),
    [
        (("R", "0.0795 Ω/1000 ft"), ("Price", "€ 3.048 / ft")),
        (("R (Ω/1000 ft)", "0.0795"), ("Price per ft", "3.048")),
        (("R, mΩ/m", "0.260827"), ("Price", "1,000.00 per 100 m")),
        (("R", "0.000260827 Ω/m"), ("Price (€/100 m)", "1000.00")),
    ],
)
def test_lengths_that_prices_and_resistances_are_told_for(resistance, price):
    """0.0795 / 0.3048 ohm per km; 3.048 / 0.3048 a metre."""
    rows = zip(("Gauge", "2/0 AWG"), ("A", "195 A"), resistance, price, strict=True)
    text = "\n".join(";".join(row) for row in rows)
    supplier = read_list(Held({"l.csv": text.encode()}, "l.csv"))
    columns = {"section_mm2": "Gauge", "ampacity_a": "A"}
    columns |= {"ohm_per_km": resistance[0], "price_per_m": price[0]}
    head = {"table": "cables", "currency": "EUR", "decimals": "point"}
    found = convert(supplier, mapping_from({"list": head, "columns": columns}))
    assert not found.questions()
    assert not found.unreadable
    row = found.rows[0]
    assert float(row["section_mm2"]) == pytest.approx(67.43, abs=0.005)  # ASTM B258
    assert float(row["ohm_per_km"]) == pytest.approx(0.260827, rel=1e-5)
    assert row["price_per_m"] == "10.00"


def test_fuses_of_one_rating_are_told_apart_by_what_they_break():
    text = "A;kA;Net\n80;10;9\n80;20;12\n80,0;20;11\n"
    supplier = read_list(Held({"l.csv": text.encode()}, "l.csv"))
    content = {
        "list": {"table": "fuses", "currency": "EUR"},
        "columns": {"rating_a": "A", "breaking_ka": "kA", "price": "Net"},
    }
    found = convert(supplier, mapping_from(content))
    assert [row[1] for row in found.cells] == ["9.00", "11.00"]
    assert found.repeated[0].name == "80 20"
    joined = join(None, [found])
    assert joined.rows == 2
    assert joined.offered_twice == ()


@pytest.mark.parametrize("long", ["a" * 5000, "1 " * 2500, "1 111" * 1000])
def test_no_template_and_no_cell_can_hang_the_reading(long):
    """Stars in plenty over the longest cell that a list may hold."""
    columns = {"mass_kg": {"column": "Weight", "piece": "*a" * 50 + "# kg"}}
    began = process_time()
    found = read({"mass_kg": ("Weight", long)}, columns=columns)
    assert "fits" in found.unreadable[0].wanted
    assert not read({"mass_kg": ("Weight", long)}).rows
    assert process_time() - began < 1


@pytest.mark.parametrize("piece", [None, "first", "# €*"])
def test_a_word_that_is_skipped_leaves_the_row_out_whatever_piece_is_meant(piece):
    columns = {"price": {"column": "Price"} | ({"piece": piece} if piece else {})}
    other = '"Slate 24";"25,6 V";"100 Ah";"C5";"24 kg";"a. A.";"442 mm";"4100 A"'
    asked = read({"price": ("Price", "428,40 €")}, columns=columns, more=other)
    assert [fault.row for fault in asked.unreadable] == [3]
    assert '"a. A." = "skip" leaves the row out' in asked.unreadable[0].wanted
    found = read(
        {"price": ("Price", "428,40 €")}, columns=columns, more=other, words={"a.A.": "skip"}
    )
    assert value(found, "price") == "428.40"
    assert (len(found.rows), found.filtered) == (1, 1)


def test_a_rate_of_tax_beside_a_price_is_asked_for_in_one_word():
    columns = {"price": {"column": "Price", "piece": "first"}}
    cells = {"price": ("Price", "428,40 € inkl. 19% MwSt.")}
    (asked,) = read(cells, columns=columns).open_words
    assert (asked.doubt, asked.word) == (Doubt.TAX, "inkl % MwSt")
    found = read(cells, columns=columns, words={asked.word: {"tax": 0.19}})
    assert value(found, "price") == "360.00"


def test_a_capacity_without_hours_is_never_taken_for_hours():
    other = '"Slate 24";"25,6 V";"100";"";"24 kg";"900,00";"442 mm";"4100 A"'
    same = {"columns": {"rate_h": "Capacity"}, "more": other}
    cells = {"capacity_ah": ("Capacity", "240 Ah (C10)")}
    found = read(cells, **same)
    assert value_at(found, "rate_h") == ["10"]
    spelled = {"capacity_ah": ("Capacity", "240 Ah / 10 h")}
    assert value_at(read(spelled, **same), "rate_h") == ["10"]
    (fault,) = found.unreadable
    assert (fault.row, fault.column) == (3, "Capacity → rate_h")
    assert "a second mapping in the same run" in fault.wanted
    assert "rate_h = { value = 20 }" in fault.wanted
    rated = {"Capacity": ["*(C*"]}
    first = read(cells, **same, sections={"filter": rated})
    same["columns"] = {"rate_h": {"value": 20}}
    second = read(cells, **same, sections={"exclude": rated})
    assert not first.unreadable + second.unreadable
    heading, *rows = join(None, [first, second]).table.rows
    assert [row[heading.index("rate_h")] for row in rows] == ["10", "20"]


def test_a_capacity_at_other_hours_is_never_taken_at_those_of_all_rows():
    other = '"Slate 24";"25,6 V";"100 Ah";"";"24 kg";"900,00";"442 mm";"4100 A"'
    columns = {"rate_h": {"value": 20}}
    found = read({"capacity_ah": ("Capacity", "240 Ah (C10)")}, columns=columns, more=other)
    assert value_at(found, "capacity_ah") == ["100"]
    (fault,) = found.unreadable
    assert (fault.row, fault.found) == (2, "'240 Ah (C10)'")
    assert "a capacity at 20 h" in fault.wanted
    assert 'rate_h = "Capacity"' in fault.wanted
    spelled = read({"capacity_ah": ("Capacity", "240 Ah / 10 h")}, columns=columns)
    assert "a capacity at 20 h" in spelled.unreadable[0].wanted


def test_an_energy_is_right_beside_a_voltage_that_is_not():
    found = read({"voltage_v": ("Voltage", "51.2 V"), "capacity_ah": ("Capacity", "5,12 kWh")})
    assert [fault.column for fault in found.unreadable] == ["Voltage → voltage_v"]
    assert not found.rows


@pytest.mark.parametrize(("rate_h", "rows"), [(20, ["100"]), (10, ["100"]), (5, [])])
def test_a_capacity_told_at_several_hours_may_be_taken_at_any_of_them(rate_h, rows):
    columns = {"rate_h": {"value": rate_h}}
    columns |= {"capacity_ah": {"column": "Capacity", "piece": "first"}}
    found = read({"capacity_ah": ("Capacity", "100 Ah (C20) 85 Ah (C10)")}, columns=columns)
    assert value_at(found, "capacity_ah") == rows


@pytest.mark.parametrize(
    ("more", "told"), [(0, ""), (1, ", and 1 more row"), (2, ", and 2 more rows")]
)
def test_how_many_more_rows_hold_a_word_is_told(more, told):
    rows = "\n".join(
        f'"Slate {n}";"25,6 V";"100 Ah";"C5";"24 kg";"ab 900,00";"442 mm";"4 A"'
        for n in range(more)
    )
    (fault,) = read({"price": ("Price", "ab 219,90")}, more=rows).questions()
    assert fault.found == f"'ab 219,90'{told}"


def value_at(found, column):
    assert not found.open_words, found.questions()
    return [row[column] for row in found.rows]
