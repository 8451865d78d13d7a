"""Texts of the question about a supplier's own list."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.report.words.writer import plain
from ui.language import say
from ui.words.labels import TABLES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.report.words.writer import Writer
    from optimizer.suppliers.converted import OpenWord

ASK_SUPPLIER: Final = say("What does your supplier charge?")
LIST_FILE: Final = say("Drop in a supplier's list as it comes (CSV or XLSX)")
LIST_HELP: Final = say(
    "Titles above, units and currency signs in the cells, their own column names: all of it may "
    "stay. Nothing changes in your job before you take the rows in."
)
MAP_FILE: Final = say("And how it was read the last time, if there was one (TOML)")
MAP_HELP: Final = say(
    "The file that this question writes at its end; it fills in all the choices below."
)
MAP_ALONE: Final = say("The choices are ready; drop in the list that they belong to.")
AWAY: Final = say("Put this list away")
AS_IT_CAME: Final = say("The list as it came")
TABLE: Final = say("It lists")
CURRENCY: Final = say("Its currency")
CURRENCY_HELP: Final = say("Three letters of ISO 4217, such as EUR.")
FACTOR: Final = say("Prices times")
FACTOR_HELP: Final = say("Every price is multiplied by it: 0.82 for a discount of 18%.")
EXCHANGE_HELP: Final = say("What one of their currency is worth in yours.")
HEADING_ROW: Final = say("Column names in row")
HEADING_ROW_HELP: Final = say("Blank: the first of the fullest rows.")
HEADING_ROWS: Final = say("Rows of names")
HEADING_ROWS_HELP: Final = say("Names in two rows, merged cells above, are read together.")
SHEET: Final = say("Sheet")
DECIMALS: Final = say("Decimals")
DECIMALS_HELP: Final = say("Needed only where the list's own numbers leave it open, such as 1.234.")
DECIMAL_FORMS: Final = {
    "": say("as its numbers tell"),
    "comma": say("1.234,50"),
    "point": say("1,234.50"),
}
WHICH: Final = say("Which of its columns is which of ours?")
NOT_CHOSEN: Final = say("choose a column")
NOT_CHOSEN_WORD: Final = say("choose")
NOT_THERE: Final = say("not in the list")
ONE_VALUE: Final = say("the same in every row …")
VALUE: Final = say("In every row")
UNIT: Final = say("Written in")
UNIT_NAMED: Final = say("as it says")
PIECE: Final = say("Of the cell")
PIECES: Final = {
    "": say("as its units tell"),
    "first": say("the first number"),
    "second": say("the second number"),
    "third": say("the third number"),
    "template": say("by a template"),
}
TEMPLATE: Final = say("Template")
TEMPLATE_HELP: Final = say("# marks what is taken, * stands for any text: # x * x * mm.")
DATES: Final = say("Dates written")
ISO_DATES: Final = say("2026-01-31")
MORE: Final = say("Take more of our columns from it")
MORE_HELP: Final = say("What a battery's chemistry fills in may be left out.")
FILTERS: Final = say("Take only some rows, by")
FILTERS_HELP: Final = say("Columns that tell which rows are wanted; all others are left out.")
FILTER_WORDS: Final = say("only where it says")
EXCLUDES: Final = say("Leave out some rows, by")
EXCLUDES_HELP: Final = say("Rows that say one of the words are left out; * stands for any text.")
EXCLUDE_WORDS: Final = say("not where it says")
WORDS: Final = say("What do these words mean?")
MEANINGS: Final = {
    "ignore": say("nothing: take the number"),
    "skip": say("leave such rows out"),
    "pieces": say("the price of several, pieces"),
    "tax": say("tax included, %"),
    "exchange": say("another currency, worth"),
    "unit": say("a unit"),
}
MEANING_NUMBER: Final = say("How much")
READ: Final = say("Rows as they were read")
NONE_READ: Final = say("No row can be read with these choices.")
LEAVE_OUT: Final = say("Leave these rows out")
UNREADABLE_FIRST: Final = say("Rows that cannot be read are left out only if you say so.")
HOW: Final = say("Take them")
HOWS: Final = {False: say("beside others' rows"), True: say("instead of the table")}
HOW_HELP: Final = say(
    "Beside: rows with the same name, or of the same supplier, give way to the new ones."
)
CHANGES: Final = say("What changes in your price list")
TAKE_MAP: Final = say("The choices, for the next list (TOML)")
TAKE_TABLE: Final = say("The rows as a table (CSV)")
TAKEN: Final = say("Taken in. Undo at the top of the page brings the list before back.")
WRONG: Final = say("These choices do not suit the list yet.")

#: Our columns as a person would call them; their units stand in what is wanted.
LABELS: Final = {
    "battery": say("Battery, its name"),
    "chemistry": say("Chemistry"),
    "voltage_v": say("Voltage of one, V"),
    "capacity_ah": say("Capacity, Ah"),
    "rate_h": say("Hours of that capacity, h"),
    "price": say("Price of one"),
    "mass_kg": say("Mass of one, kg"),
    "length_mm": say("Length, mm"),
    "width_mm": say("Width, mm"),
    "height_mm": say("Height, mm"),
    "absorption_v": say("Absorption voltage, V"),
    "float_v": say("Float voltage, V"),
    "short_circuit_a": say("Short-circuit current, A"),
    "warranty_years": say("Warranty, years"),
    "supplier": say("Supplier"),
    "supplier_code": say("Supplier's code"),
    "price_date": say("Date of the price"),
    "max_dod": say("Maximum depth of discharge"),
    "float_life_years": say("Float life, years"),
    "max_series": say("Maximum in series"),
    "max_parallel": say("Maximum in parallel"),
    "inverter": say("Inverter-charger, its name"),
    "system_v": say("Battery voltage, V"),
    "power_w": say("Power, W"),
    "power_w_40c": say("Power at 40 °C, W"),
    "power_va": say("Power, VA"),
    "surge_w": say("Surge, W"),
    "efficiency": say("Efficiency"),
    "no_load_w": say("Own use at no load, W"),
    "standby_w": say("Own use on standby, W"),
    "charger_a": say("Charger, A"),
    "transfer_ms": say("Transfer time, ms"),
    "max_units": say("Maximum in parallel"),
    "life_years": say("Life, years"),
    "phases": say("Phases"),
    "works_in_parallel": say("Works in parallel with the supply"),
    "item": say("Labour or fitting, its name"),
    "basis": say("Counted by"),
    "applies": say("Due at"),
    "section_mm2": say("Section, mm²"),
    "ampacity_a": say("Current it carries, A"),
    "ohm_per_km": say("Resistance, Ω per km"),
    "price_per_m": say("Price of a metre"),
    "rating_a": say("Rating, A"),
    "breaking_ka": say("Breaking capacity, kA"),
}


def label(column: str) -> str:
    """Return a column of ours in words."""
    return LABELS.get(column, column.replace("_", " "))


def exchange(write: Writer, theirs: str, ours: str) -> str:
    """Return the label of the exchange rate."""
    return write.say("{ours} for one {theirs}", ours=ours, theirs=theirs)


def list_found(write: Writer, file: str, rows: int, heading_row: int, *, mapped: bool) -> str:
    """Return what was dropped in."""
    found = write.say(
        "{file}: {rows} rows, column names in row {row}.", file=file, rows=rows, row=heading_row
    )
    if mapped:
        return f"{found} " + write.say("The choices below come from the file of choices.")
    return f"{found} " + write.say("The choices below are a first guess; correct them.")


def missing(write: Writer, columns: Sequence[str]) -> str:
    """Return which columns must still be chosen."""
    return write.say("Still to be chosen: {names}.", names="; ".join(label(one) for one in columns))


def translated(write: Writer, theirs: str) -> str:
    """Return the label of a word's translation."""
    return write.say("“{word}” is", word=theirs)


def open_words(write: Writer, found: Sequence[str]) -> str:
    """Return which words of theirs still stand for none of ours."""
    return write.say(
        "Still to be chosen: what {words} stands for.", words=", ".join(f"“{one}”" for one in found)
    )


def take(write: Writer, rows: int, table: str) -> str:
    """Return the label of the button that takes the rows in."""
    return write.say_number(
        "Take {n} row into: {table}", "Take {n} rows into: {table}", rows, table=TABLES[table]
    )


def word(write: Writer, one: OpenWord) -> str:
    """Return a word that needs an answer, and where it stands first."""
    return write.say_number(
        "“{word}” in row {row}, {column}: {cell} ({n} row)",
        "“{word}” in row {row}, {column}: {cell} ({n} rows)",
        one.rows,
        word=one.word,
        row=str(one.row),
        column=one.column or "",
        cell=one.cell,
    )


def file_stem(name: str) -> str:
    """Return a name for a download beside a file dropped in."""
    kept = "".join(letter if letter.isalnum() or letter in "-_" else "-" for letter in plain(name))
    return kept.strip("-") or "supplier"
