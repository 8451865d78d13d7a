"""A mapping while it is made by hand: first guesses from the list, and what there is to choose."""

from __future__ import annotations

import re
from datetime import datetime
from typing import TYPE_CHECKING, Any, Final, get_args

from optimizer.errors import nearest
from optimizer.inputs.battery_rows import TRAITS
from optimizer.inputs.chemistry import load_chemistries
from optimizer.inputs.columns import columns_of
from optimizer.inputs.mapping_keys import TABLES
from optimizer.suppliers.mapping import units_for

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from optimizer.inputs.columns import Column
    from optimizer.inputs.supplier_list import SupplierList

#: Which number of a cell is meant, where it holds more than one: the pattern that takes it.
FIRST, SECOND, RATE = "first", "second", "rate"
PIECES: Final = {
    FIRST: r"([0-9][0-9.,']*)",
    SECOND: r"[0-9][0-9.,']*[^0-9.,'][^0-9]*([0-9][0-9.,']*)",
    # batteries are marked with the hours of their capacity: C20, C/10
    RATE: r"[Cc]/?([0-9]+)",
}
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
#: Kinds of columns that hold one number.
NUMERIC: Final = frozenset({"number", "share", "rate", "whole"})
#: Words that headings use for ours, where the names themselves are too far apart.
_OTHER_WORDS: Final = {
    "battery": ("article", "model", "type", "description", "product"),
    "inverter": ("article", "model", "type", "description", "product"),
    "item": ("article", "work", "service", "description"),
    "chemistry": ("technology", "chemistry", "kind"),
    "voltage_v": ("nominal", "voltage", "volts"),
    "system_v": ("system voltage", "voltage", "volts"),
    "mass_kg": ("weight", "mass"),
    "rating_a": ("amps", "rating", "current"),
    "section_mm2": ("section", "size", "awg"),
    "supplier_code": ("order no", "order number", "part no", "sku", "code"),
    "price_date": ("price as of", "date", "valid from"),
}
_TWO_NUMBERS: Final = re.compile(PIECES[SECOND])


def columns_in(table: str) -> Mapping[str, Column]:
    """Return the columns of one of our tables, in its order."""
    return columns_of(TABLES[table])


def words_of(table: str, column: str) -> tuple[str, ...]:
    """Return the only words that a column of ours takes; none where it takes any.

    >>> words_of("works", "applies"), words_of("batteries", "supplier")
    (('first', 'swap', 'both'), ())
    """
    if columns_in(table)[column].kind == "flag":
        return ("true", "false")
    found = get_args(TABLES[table].model_fields[column].annotation)
    return tuple(one for one in found if isinstance(one, str))


def cells_under(
    supplier: SupplierList,
    heading_row: int | None,
    column: str,
    wanted: Mapping[str, Sequence[str]] | None = None,
) -> tuple[str, ...]:
    """Return what stands under a heading, each text once, in the order of the list.

    Parameters
    ----------
    supplier : SupplierList
        The list.
    heading_row : int or None
        The row of its column names; found where None.
    column : str
        The heading.
    wanted : mapping, optional
        A mapping's filter: only rows that pass it count.
    """
    headings = supplier.headings(heading_row)
    if column not in headings:
        return ()
    words = {
        headings.index(name): {word.casefold() for word in listed}
        for name, listed in (wanted or {}).items()
        if listed and name in headings
    }
    body = [
        row
        for row in supplier.rows[supplier.heading_row(heading_row) :]
        if all(_at(row, place).casefold() in listed for place, listed in words.items())
    ]
    place = headings.index(column)
    return tuple(dict.fromkeys(filter(None, (_at(row, place) for row in body))))


def _at(row: tuple[str, ...], place: int) -> str:
    return row[place] if place < len(row) else ""


def several_numbers(supplier: SupplierList, heading_row: int | None, column: str) -> bool:
    """Tell whether cells under a heading hold more than one number, such as ``70 Ah (C20)``."""
    filled = cells_under(supplier, heading_row, column)
    return any(_TWO_NUMBERS.search(text.replace(" ", "")) for text in filled)


def first_guess(supplier: SupplierList, table: str) -> dict[str, dict[str, Any]]:
    """Return a first guess at the columns of a mapping, to be corrected by hand.

    Parameters
    ----------
    supplier : SupplierList
        The list, from `optimizer.suppliers.conversion.read_list`.
    table : str
        Which of our tables it is to become.

    Returns
    -------
    dict
        By our columns; each as `details` gives it.
    """
    headings = [name for name in supplier.headings() if name]
    guessed = guess_by_names(headings, table)
    plain = {re.sub(r"[^a-z]+", " ", name.lower()).strip(): name for name in headings}
    for ours, spoken in _OTHER_WORDS.items():
        if ours not in columns_in(table) or ours in guessed:
            continue
        taken = set(guessed.values())
        names = (plain[word] for word in _named(plain, spoken) if plain[word] not in taken)
        if (theirs := next(names, None)) is not None:
            guessed[ours] = theirs
    found = {
        ours: details(supplier, None, table, ours, guessed[ours])
        for ours in columns_in(table)
        if ours in guessed
    }
    if table == "batteries" and "rate_h" not in found and "capacity_ah" in found:
        theirs = found["capacity_ah"]["column"]
        if any(re.search(PIECES[RATE], one) for one in cells_under(supplier, None, theirs)):
            found["rate_h"] = {"column": theirs, "pattern": PIECES[RATE]}
    return found


def guess_by_names(headings: Sequence[str], table: str) -> dict[str, str]:
    """Return a first guess at which of their columns is which of ours, to be corrected by hand.

    >>> guess_by_names(["Battery model", "Capacity (Ah)", "Price EUR", "Remarks"], "batteries")
    {'battery': 'Battery model', 'capacity_ah': 'Capacity (Ah)', 'price': 'Price EUR'}
    """
    plain = {re.sub(r"[^a-z]+", "_", heading.lower()).strip("_"): heading for heading in headings}
    known = columns_of(TABLES[table])
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


def _named(plain: Iterable[str], spoken: tuple[str, ...]) -> list[str]:
    names = list(plain)
    return [name for word in spoken for name in names if name.split()[:1] == [word] or name == word]


def details(
    supplier: SupplierList, heading_row: int | None, table: str, ours: str, theirs: str
) -> dict[str, Any]:
    """Return one column of a mapping with what the list itself tells: unit, piece, date form.

    Parameters
    ----------
    supplier : SupplierList
        The list.
    heading_row : int or None
        The row of its column names; found where None.
    table, ours, theirs : str
        Our table, our column, and the heading of theirs.
    """
    found: dict[str, Any] = {"column": theirs}
    kind = columns_in(table)[ours].kind
    marks = set(re.findall(r"[^\s(),\[\]/]+", theirs))
    own = next(iter(units_for(ours)), None)
    unit = next((one for one in units_for(ours) if one in marks and one != own), None)
    if unit is not None:
        found["unit"] = unit
    if kind in NUMERIC and several_numbers(supplier, heading_row, theirs):
        found["pattern"] = PIECES[FIRST]
    cells = cells_under(supplier, heading_row, theirs)
    if kind == "day" and cells:
        form = next((form for form in DATE_FORMS if all(_reads(one, form) for one in cells)), None)
        if form is not None:
            found["dates"] = form
    known = tuple(load_chemistries()) if ours == "chemistry" else words_of(table, ours)
    alike = {cell: cell.casefold() for cell in cells if cell.casefold() in known}
    if alike and not all(cell in known for cell in cells):
        found["values"] = alike
    return found


def _reads(text: str, form: str) -> bool:
    try:
        datetime.strptime(text, form)
    except ValueError:
        return False
    return True
