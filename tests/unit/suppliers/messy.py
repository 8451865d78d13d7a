"""Two invented suppliers' lists as they come, and what an installer writes to read them."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from openpyxl import Workbook

if TYPE_CHECKING:
    from pathlib import Path

#: The last column of the workbook's table.
_WIDE = 13
_NEW, _OLD = datetime(2026, 11, 2), datetime(2026, 3, 1)
_HEADING = (
    *("Art.-Nr.", "Bezeichnung", "Technik", "Nenn-\nspannung", "Kapazität", None),
    *("Abmessungen (in)", None, None, "Gewicht, lb", "Händlerpreis", "Preis vom"),
    "Kurzschlussstrom",
)
_BELOW = (*[None] * 4, "Inhalt", "bei", "Länge", "Breite", "Höhe", *[None] * 4)
_ROWS = (
    ("Skerrow Akkuhandel, Brandsund",),
    ("Händlerpreisliste, alle Preise in EUR, netto wenn nicht anders vermerkt",),
    (),
    _HEADING,
    _BELOW,
    (None, "Lithium, Rack"),
    (
        *("SK-4801", "Tarnsund Rack 51", "LiFePO4", "51,2 V", "5,12 kWh", "C5", 17.4, 19.0, 5.2),
        *("104 lb", "ab 1.219,90", _NEW, None),
    ),
    (
        *("SK-2401", "Tarnsund Tray 24", "LiFePO4", "25,6 V", "2,56 kWh", "C5", 14.1, 10.2, 9.0),
        *(57, 1499, _NEW, None),
    ),
    (None, "AGM Blöcke"),
    (
        *("SK-1210", "Graubucht 12-100", "AGM", "12 V", "100 Ah", "C20", 13.0, 6.8, 8.6),
        *(66.1, "420,00 € / Paar", _NEW, "4,1 kA"),
    ),
    (
        *("SK-1215", "Graubucht 12-150", "AGM", "12 V", "150 Ah", "C20", 19.0, 6.7, 9.4),
        *(99.2, "329,00", _OLD, "5,2 kA"),
    ),
    (
        *("SK-1215", "Graubucht 12-150", "AGM", "12 V", "150 Ah", "C20", 19.0, 6.7, 9.4),
        *(99.2, "357,00 € inkl. MwSt.", _NEW, "5,2 kA"),
    ),
    (
        *("SK-1299", "Graubucht 12-100 Demo-Gerät", "AGM", "12 V", "100 Ah", "C20", 13.0, 6.8),
        *(8.6, 66.1, "120,00", _NEW, None),
    ),
    (
        *("SK-6002", "Moorwand 6-240", "nass", "6 V", "240 Ah", "C20", 10.3, 7.1, 11.2),
        *(66, "189 USD", _NEW, None),
    ),
    (
        *("SK-6001", "Moorwand 6-225", "nass", "6 V", "225 Ah", "C20", 10.3, 7.1, 10.6),
        *(62, "auf Anfrage", _NEW, None),
    ),
    ("Seite 1 von 2",),
    _HEADING,
    *((f"Fußnote {number}",) for number in range(1, 31)),
    (*[None] * 8, "Summe Positionen", None, 9),
)
_CSV = """\
Ridgeway Battery Supply;;;;;;;
Liste de prix novembre 2026;;;;;;;
;;;;;;;
Référence;Désignation;Chimie;Tension;Capacité;Dimensions (L x l x H);Poids (kg);Prix HT (EUR);Date
;Batteries étanches;;;;;;;
R-100;Graubucht 12-100;AGM;12 V;100 Ah (C20);330 x 172 x 218 mm;30,0;198,50;15/10/2026
R-101;Graubucht 12-150;AGM;12 V;150 Ah (C20);483 x 170 x 240 mm;45,0;319,00;15/10/2026
R-300;Lueur 25;LFP;25,6 V;100 Ah (C5);36 x 22 x 25 cm;24,0;1 349,00;15/10/2026
R-301;Lueur 25;LFP;25,6 V;100 Ah (C5);36 x 22 x 25 cm;24,0;1 299,00;15/10/2026
R-900;Cosse de batterie;;;;;0,1;4,50;15/10/2026
;;;;;;;;
;Total : 5 articles;;;;;;;
"""
SKERROW = """\
[list]
table = "batteries"
supplier = "Skerrow"
currency = "EUR"
sheet = "Batterien 2026"
heading_row = 4
heading_rows = 2

[columns]
battery = "Bezeichnung"
chemistry = { column = "Technik", values = { LiFePO4 = "lfp", AGM = "agm", nass = "flooded" } }
voltage_v = "Nenn- spannung"
capacity_ah = "Kapazität Inhalt"
rate_h = "Kapazität bei"
mass_kg = "Gewicht, lb"
length_mm = "Länge"
width_mm = "Breite"
height_mm = "Höhe"
price = "Händlerpreis"
short_circuit_a = "Kurzschlussstrom"
supplier_code = "Art.-Nr."
price_date = "Preis vom"
"""
SKERROW_ANSWERS = """
[exclude]
"Bezeichnung" = "*Demo*"

[words]
"ab" = "ignore"
"Paar" = { pieces = 2 }
"inkl. MwSt." = { tax = 0.19 }
"USD" = { exchange = 0.9 }
"""
RIDGEWAY = """\
[list]
table = "batteries"
supplier = "Ridgeway"
currency = "EUR"

[columns]
battery = "Désignation"
chemistry = { column = "Chimie", values = { AGM = "agm", LFP = "lfp" } }
voltage_v = "Tension"
capacity_ah = "Capacité"
rate_h = "Capacité"
mass_kg = "Poids (kg)"
length_mm = { column = "Dimensions (L x l x H)", piece = "first" }
width_mm = { column = "Dimensions (L x l x H)", piece = "second" }
height_mm = { column = "Dimensions (L x l x H)", piece = "third" }
price = "Prix HT (EUR)"
supplier_code = "Référence"
price_date = { column = "Date", dates = "%d/%m/%Y" }

[exclude]
"Désignation" = "Cosse*"
"""


def write_lists(folder: Path) -> tuple[Path, Path]:
    """Write the two lists: a workbook with a cover and merged headings, a CSV in Latin-1."""
    book = Workbook()
    book.active.title = "Deckblatt"
    book.active.append(["Skerrow Akkuhandel"])
    sheet = book.create_sheet("Batterien 2026")
    for row in _ROWS:
        sheet.append([*row, *[None] * (_WIDE - len(row))])
    for place in ("A4:A5", "B4:B5", "E4:F4", "G4:I4", "J4:J5", "A1:M1"):
        sheet.merge_cells(place)
    one, other = folder / "skerrow.xlsx", folder / "ridgeway.csv"
    book.save(one)
    other.write_bytes(_CSV.encode("latin-1"))
    return one, other
