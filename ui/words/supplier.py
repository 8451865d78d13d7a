"""Texts of the question about a supplier's own list."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.report.words import plain
from ui.markup import safe
from ui.words.fixed import TABLES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.errors import Fault
    from optimizer.suppliers.conversion import Converted
    from optimizer.suppliers.price_changes import Changes

ASK_SUPPLIER: Final = "What does your supplier charge?"
LIST_FILE: Final = "Drop in a supplier's list as it comes (CSV or XLSX)"
LIST_HELP: Final = (
    "Titles above, units and currency signs in the cells, their own column names: all of it may "
    "stay. Nothing changes in your job before you take the rows in."
)
MAP_FILE: Final = "And how it was read the last time, if there was one (TOML)"
MAP_HELP: Final = (
    "The file that this question writes at its end; it fills in all the choices below."
)
MAP_ALONE: Final = "The choices are ready; drop in the list that they belong to."
AWAY: Final = "Put this list away"
AS_IT_CAME: Final = "The list as it came"
TABLE: Final = "It lists"
CURRENCY: Final = "Its currency"
CURRENCY_HELP: Final = "Three letters of ISO 4217, such as EUR."
FACTOR: Final = "Prices times"
FACTOR_HELP: Final = "Every price is multiplied by it: 0.82 for a discount of 18 %."
EXCHANGE_HELP: Final = "What one of their currency is worth in yours."
HEADING_ROW: Final = "Column names in row"
HEADING_ROW_HELP: Final = "Blank: the first of the fullest rows."
DECIMALS: Final = "Decimals"
DECIMALS_HELP: Final = "Needed only where the list's own numbers leave it open, such as 1.234."
DECIMAL_FORMS: Final = {"": "as its numbers tell", "comma": "1.234,50", "point": "1,234.50"}
WHICH: Final = "Which of its columns is which of ours?"
NOT_CHOSEN: Final = "choose a column"
NOT_CHOSEN_WORD: Final = "choose"
NOT_THERE: Final = "not in the list"
ONE_VALUE: Final = "the same in every row …"
VALUE: Final = "In every row"
UNIT: Final = "Written in"
PIECE: Final = "Of the cell"
PIECES: Final = {
    "": "all of it",
    "first": "the first number",
    "second": "the second number",
    "rate": "the hours after C",
    "pattern": "by a pattern",
}
PATTERN: Final = "Pattern"
PATTERN_HELP: Final = "A regular expression; what its one pair of brackets holds is taken."
DATES: Final = "Dates written"
ISO_DATES: Final = "2026-01-31"
MORE: Final = "Take more of our columns from it"
MORE_HELP: Final = "What a battery's chemistry fills in may be left out."
FILTERS: Final = "Take only some rows, by"
FILTERS_HELP: Final = "Columns that tell which rows are wanted; all others are left out."
FILTER_WORDS: Final = "only where it says"
READ: Final = "Rows as they were read"
NONE_READ: Final = "No row can be read with these choices."
UNREAD_COLUMNS: Final = ("Row", "It says", "Column", "Found", "Wanted")
LEAVE_OUT: Final = "Leave these rows out"
UNREADABLE_FIRST: Final = "Rows that cannot be read are left out only if you say so."
HOW: Final = "Take them"
HOWS: Final = {False: "beside others' rows", True: "instead of the table"}
HOW_HELP: Final = (
    "Beside: rows with the same name, or of the same supplier, give way to the new ones."
)
CHANGES: Final = "What changes in your price list"
NO_CHANGE: Final = "No price changes, nothing is new, nothing vanishes."
VANISHED: Final = "No longer listed"
ADDED: Final = "New"
TAKE_MAP: Final = "The choices, for the next list (TOML)"
TAKE_TABLE: Final = "The rows as a table (CSV)"
TAKEN: Final = "Taken in. Undo at the top of the page brings the list before back."
WRONG: Final = "These choices do not suit the list yet."
MOST_SHOWN: Final = 40
_MOST_LETTERS: Final = 60

#: Our columns as a person would call them; their units stand in what is wanted.
LABELS: Final = {
    "battery": "Battery, its name",
    "chemistry": "Chemistry",
    "voltage_v": "Voltage of one, V",
    "capacity_ah": "Capacity, Ah",
    "rate_h": "Hours of that capacity, h",
    "price": "Price of one",
    "mass_kg": "Mass of one, kg",
    "length_mm": "Length, mm",
    "width_mm": "Width, mm",
    "height_mm": "Height, mm",
    "absorption_v": "Absorption voltage, V",
    "float_v": "Float voltage, V",
    "short_circuit_a": "Short-circuit current, A",
    "warranty_years": "Warranty, years",
    "supplier": "Supplier",
    "supplier_code": "Supplier's code",
    "price_date": "Date of the price",
    "max_dod": "Depth permitted",
    "float_life_years": "Life on float, years",
    "max_series": "Most in series",
    "max_parallel": "Most strings",
    "inverter": "Inverter-charger, its name",
    "system_v": "Battery voltage, V",
    "power_w": "Power, W",
    "power_w_40c": "Power at 40 °C, W",
    "power_va": "Power, VA",
    "surge_w": "Surge, W",
    "efficiency": "Efficiency",
    "no_load_w": "Own use at no load, W",
    "standby_w": "Own use on standby, W",
    "charger_a": "Charger, A",
    "transfer_ms": "Transfer time, ms",
    "max_units": "Most side by side",
    "life_years": "Life, years",
    "phases": "Phases",
    "works_in_parallel": "Helps the grid",
    "item": "Work, its name",
    "basis": "Counted by",
    "applies": "Due at",
    "section_mm2": "Section, mm²",
    "ampacity_a": "Current it carries, A",
    "ohm_per_km": "Resistance, Ω per km",
    "price_per_m": "Price of a metre",
    "rating_a": "Rating, A",
    "breaking_ka": "Breaking capacity, kA",
}


def shown(heading: str) -> str:
    """Return a heading of theirs as it may stand in a label."""
    return safe(heading)


def label(column: str) -> str:
    """Return a column of ours in words."""
    return LABELS.get(column, column.replace("_", " "))


def exchange(theirs: str, ours: str) -> str:
    """Return the label of the exchange rate."""
    return f"{safe(ours)} for one {safe(theirs)}"


def list_found(file: str, rows: int, heading_row: int, *, mapped: bool) -> str:
    """Return what was dropped in."""
    came = "come from the file of choices" if mapped else "are a first guess; correct them"
    return (
        f"{safe(file)}: {rows} rows, column names in row {heading_row}. The choices below {came}."
    )


def missing(columns: Sequence[str]) -> str:
    """Return which columns must still be chosen."""
    return f"Still to be chosen: {'; '.join(label(one) for one in columns)}."


def translated(theirs: str) -> str:
    """Return the label of a word's translation."""
    return f"“{safe(theirs)}” is"


def read(found: Converted) -> str:
    """Return what was read."""
    rows = "1 row" if len(found.rows) == 1 else f"{len(found.rows)} rows"
    text = f"{rows} read for {TABLES[found.table].lower()}"
    return (
        f"{text}, {found.filtered} left out by your choice of rows."
        if found.filtered
        else (f"{text}.")
    )


def unreadable(rows: int) -> str:
    """Return how many rows cannot be read."""
    return "1 row cannot be read:" if rows == 1 else f"{rows} rows cannot be read:"


def unread_row(number: int | None, cells: Sequence[str], faults: Sequence[Fault]) -> list[str]:
    """Return a row that cannot be read: what it says, and what first stops it."""
    says = " · ".join(cell for cell in cells if cell)
    first = faults[0]
    rest = f"; {len(faults) - 1} more" if len(faults) > 1 else ""
    return [
        "" if number is None else str(number),
        safe(says if len(says) <= _MOST_LETTERS else f"{says[:_MOST_LETTERS]}…"),
        safe(first.column or ""),
        safe(first.found),
        safe(first.wanted) + rest,
    ]


def open_words(found: Sequence[str]) -> str:
    """Return which words of theirs still stand for none of ours."""
    return f"Still to be chosen: what {', '.join(f'“{safe(one)}”' for one in found)} stands for."


def take(rows: int, table: str) -> str:
    """Return the label of the button that takes the rows in."""
    return f"Take {rows} {'row' if rows == 1 else 'rows'} into {TABLES[table].lower()}"


def more(count: int) -> str:
    """Return how many lines of a table are not shown."""
    return f"And {count} more."


def untouched(rows: int) -> str:
    """Return how many rows of the table stay."""
    return "" if not rows else f"{rows} rows of the table stay as they are."


def change_columns(currency: str) -> tuple[str, ...]:
    """Return the headings of changed prices."""
    return ("Name", f"Before, {currency}", f"Now, {currency}", "Change, %")


def change_rows(found: Changes) -> list[list[str]]:
    """Return changed prices as cells."""
    return [
        [
            safe(one.name),
            f"{one.before:,}",
            f"{one.now:,}",
            f"{100 * one.share:+.1f}".replace("-", "−") if one.before else "",
        ]
        for one in found.changed
    ]


def named(heading: str, names: Sequence[str]) -> str:
    """Return names under a heading, in one line."""
    listed = "; ".join(safe(name) for name in names[:MOST_SHOWN])
    rest = len(names) - MOST_SHOWN
    return f"{heading}: {listed}" + (f"; and {rest} more." if rest > 0 else ".")


def file_stem(name: str) -> str:
    """Return a name for a download beside a file dropped in."""
    kept = "".join(letter if letter.isalnum() or letter in "-_" else "-" for letter in plain(name))
    return kept.strip("-") or "supplier"
