"""A mapping while it is made by hand: first guesses from the list, and what there is to choose."""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from functools import partial
from typing import Any, Final, get_args

from optimizer.errors import nearest
from optimizer.inputs.battery_rows import TRAITS
from optimizer.inputs.cells import looks_like_date
from optimizer.inputs.chemistry import chemistry_called
from optimizer.inputs.columns import Kind
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.supplier_list import SupplierList, cell_at, repeats
from optimizer.suppliers.scanning import scan
from optimizer.suppliers.templates import says
from optimizer.suppliers.vocabulary import codes

#: Ways of writing a date that lists have, the usual ones first.
DATE_FORMS: Final = (
    "%d.%m.%Y",
    "%d/%m/%Y",
    "%m/%d/%Y",
    "%d-%m-%Y",
    "%d.%m.%y",
    "%d/%m/%y",
    "%m/%d/%y",
    "%Y/%m/%d",
)
#: Cells that are tried as dates, of a column that may hold thousands.
_TRIED: Final = 50
#: What a workbook's dates arrive as.
_STAMP: Final = "%Y-%m-%dT%H:%M:%S"
#: Signs that one currency alone has.
_SIGNS: Final = {"€": "EUR", "£": "GBP"}
_NAMES: Final = (
    "article model type description product artikel modell typ bezeichnung produkt article modèle "
    "désignation artículo modelo producto articolo modello prodotto artigo produto"
)
_VOLTS: Final = (
    "nominal voltage volts spannung nennspannung tension voltaje tensión tensione tensão"
)
#: Words that headings use for ours, where the names themselves are too far apart.
_OTHER_WORDS: Final = {
    "battery": _NAMES,
    "inverter": _NAMES,
    "generator": _NAMES,
    "item": "article work service description arbeit leistung bezeichnung",
    "chemistry": (
        "technology chemistry kind technologie technik chemie chimie tecnología tecnologia type "
        "typ bauart"
    ),
    "voltage_v": _VOLTS,
    "system_v": f"system {_VOLTS}",
    "capacity_ah": "capacity kapazität capacité capacidad capacità capacidade energy energie",
    "mass_kg": "weight mass gewicht poids peso",
    "length_mm": "length länge longueur largo lunghezza comprimento",
    "width_mm": "width breite largeur ancho larghezza largura",
    "height_mm": "height höhe hauteur alto altezza altura",
    "short_circuit_a": "short kurzschluss kurzschlussstrom",
    "price": "price list vk ek preis listenpreis prix precio prezzo preço",
    "rating_a": "amps rating current",
    "section_mm2": "section size awg querschnitt",
    "supplier_code": "order part sku code bestell artnr nr référence referencia codice",
    "price_date": "date valid as stand gültig datum vom",
}


def words_of(table: str, column: str) -> tuple[str, ...]:
    """Return the only words that a column of ours takes; none where it takes any.

    >>> words_of("works", "applies"), words_of("batteries", "supplier")
    (('first', 'swap', 'both'), ())
    """
    if TABLES[table].columns[column].kind is Kind.FLAG:
        return ("true", "false")
    found = get_args(TABLES[table].model.model_fields[column].annotation)
    return tuple(one for one in found if isinstance(one, str))


def cells_under(
    supplier: SupplierList,
    head: Mapping[str, Any],
    column: str,
    wanted: Mapping[str, Sequence[str]] | None = None,
) -> tuple[str, ...]:
    """Return what stands under a heading, each text once, in the order of the list.

    ``head`` is the mapping's [list], for the rows of its column names; of a mapping's filter
    ``wanted`` only rows that pass it count.
    """
    row, rows = head.get("heading_row"), head.get("heading_rows") or 1
    headings = supplier.headings(row, rows)
    if column not in headings:
        return ()
    words = {
        headings.index(name): listed
        for name, listed in (wanted or {}).items()
        if listed and name in headings
    }
    body = [
        row
        for row in supplier.rows[supplier.heading_row(row) + rows - 1 :]
        if not repeats(row, headings)
        and all(
            any(says(cell_at(row, place), one) for one in listed) for place, listed in words.items()
        )
    ]
    place = headings.index(column)
    return tuple(dict.fromkeys(filter(None, (cell_at(row, place) for row in body))))


def several_numbers(supplier: SupplierList, head: Mapping[str, Any], column: str) -> bool:
    """Tell whether cells under a heading hold more than one number, such as ``330 x 172 mm``."""
    return any(len(scan(text).numbers) > 1 for text in cells_under(supplier, head, column))


def first_guess(
    supplier: SupplierList, table: str, head: Mapping[str, Any]
) -> dict[str, dict[str, Any]]:
    """Return a first guess at a mapping's columns for one of our tables, to be corrected by hand.

    ``head`` is the mapping's [list]; what is guessed is by our columns, each as `details` gives it.
    """
    known = TABLES[table].columns
    row, rows = head.get("heading_row"), head.get("heading_rows") or 1
    cells = {
        name: cells_under(supplier, head, name) for name in supplier.headings(row, rows) if name
    }

    def suits(ours: str, theirs: str) -> bool:
        kind, texts = known[ours].kind, cells[theirs]
        if kind is Kind.DAY:  # a list price is no day, whatever its heading has in common
            return any(map(_is_day, texts[:_TRIED]))
        return not kind.is_numeric or any(scan(one).numbers and not _is_day(one) for one in texts)

    def speaks_for(ours: str, theirs: str) -> int:
        """Return how much cells say for a heading: names differ, chemistries are known."""
        if _OTHER_WORDS[ours] is _NAMES:
            return len(cells[theirs])
        return sum(chemistry_called(one) is not None for one in cells[theirs])

    guessed = {
        ours: theirs
        for ours, theirs in guess_by_names(list(cells), table).items()
        if suits(ours, theirs)
    }
    plain = {re.sub(r"[\W\d_]+", " ", name.lower()).strip(): name for name in cells}
    for ours, spoken in _OTHER_WORDS.items():
        if ours not in known or ours in guessed:
            continue
        taken = set(guessed.values())
        names = (plain[name] for name in _named(plain, spoken.split()))
        fitting = (name for name in names if name not in taken and suits(ours, name))
        if (theirs := max(fitting, key=partial(speaks_for, ours), default=None)) is not None:
            guessed[ours] = theirs
    if table == "batteries" and "rate_h" not in guessed:  # 70 Ah (C20): at 20 hours
        first = guessed.get("capacity_ah")
        rated = (
            name
            for name in (first, *cells)
            if name and any(scan(text).rates for text in cells[name])
        )
        if (theirs := next(rated, None)) is not None:
            guessed["rate_h"] = theirs
    return {
        ours: details(supplier, head, table, ours, guessed[ours])
        for ours in known
        if ours in guessed
    }


def currency_guess(supplier: SupplierList, head: Mapping[str, Any], theirs: str) -> str:
    """Return the currency that a column of prices names in heading or cells, or nothing."""
    words = [theirs, *cells_under(supplier, head, theirs)]
    for word in (word for text in words for word in scan(text).words):
        if word in codes():
            return word
        if word in _SIGNS:
            return _SIGNS[word]
    return ""


def _is_day(text: str) -> bool:
    return looks_like_date(text) or any(_reads(text, form) for form in (*DATE_FORMS, _STAMP))


def guess_by_names(headings: Sequence[str], table: str) -> dict[str, str]:
    """Return a first guess at which of their columns is which of ours, to be corrected by hand.

    >>> guess_by_names(["Battery model", "Capacity (Ah)", "Price EUR", "Remarks"], "batteries")
    {'battery': 'Battery model', 'capacity_ah': 'Capacity (Ah)', 'price': 'Price EUR'}
    """
    plain = {re.sub(r"[^a-z]+", "_", heading.lower()).strip("_"): heading for heading in headings}
    known = TABLES[table].columns
    # what a chemistry fills in is seldom in a supplier's list, and easily mistaken
    ours_first = sorted((n for n in known if n not in TRAITS), key=lambda n: not known[n].required)
    found: dict[str, str] = {}
    for ours in ours_first:
        free = [name for name, theirs in plain.items() if theirs not in found.values()]
        guess = nearest(ours, free)
        stem = ours.split("_")[0]
        if guess is not None and (stem in guess or guess.split("_")[0] in ours):
            found[ours] = plain[guess]
    return {ours: found[ours] for ours in known if ours in found}


def _named(plain: Iterable[str], spoken: Sequence[str]) -> list[str]:
    """Return the headings that begin with one of the words, the last merged part's own first."""
    names = list(plain)
    first = [name for word in spoken for name in names if name.split()[:1] == [word]]
    first += [name for word in spoken for name in names if word in name.split()]
    return first + [name for word in spoken for name in names if name.endswith(word)]


def details(
    supplier: SupplierList, head: Mapping[str, Any], table: str, ours: str, theirs: str
) -> dict[str, Any]:
    """Return one column of a mapping with what the list itself tells: words, the form of dates."""
    found: dict[str, Any] = {"column": theirs}
    kind = TABLES[table].columns[ours].kind
    cells = cells_under(supplier, head, theirs)
    if kind is Kind.DAY and cells:
        form = next((form for form in DATE_FORMS if all(_reads(one, form) for one in cells)), None)
        if form is not None:
            found["dates"] = form
    known = words_of(table, ours)
    if ours == "chemistry":
        called = {cell: chemistry_called(cell) for cell in cells}
    else:
        called = {cell: one for cell in cells if (one := cell.casefold()) in known}
    alike = {cell: one for cell, one in called.items() if one is not None}
    if alike and any(alike.get(cell) != cell for cell in cells):
        found["values"] = alike
    return found


def _reads(text: str, form: str) -> bool:
    try:
        datetime.strptime(text, form)
    except ValueError:
        return False
    return True
