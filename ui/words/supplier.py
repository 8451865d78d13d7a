"""Texts of the question about a supplier's own list."""

from collections.abc import Iterable, Sequence
from typing import Final

from optimizer.report.words.writer import Writer, plain
from optimizer.suppliers.converted import OpenWord
from optimizer.suppliers.joining import Stays
from ui.language import say
from ui.words.labels import TABLES

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
    "mixed": say("as each number shows"),
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
}
BY_TEMPLATE: Final = say("by a template")
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
HOWS: Final = {
    Stays.OTHERS: say("beside others' rows"),
    Stays.ALL: say("beside all rows"),
    Stays.NONE: say("instead of the table"),
}
HOW_HELP: Final = say(
    "Beside others' rows: this supplier's own give way, as to a newer list. Beside all rows: the "
    "supplier's own stay too, as beside a second list. Rows with the same name always give way."
)
CHANGES: Final = say("What changes in your price list")
TAKE_MAP: Final = say("The choices, for the next list (TOML)")
TAKE_TABLE: Final = say("The rows as a table (CSV)")
TAKEN: Final = say("Taken in. Undo at the top of the page brings the list before back.")
WRONG: Final = say("These choices do not suit the list yet.")


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


def missing(write: Writer, columns: Iterable[str]) -> str:
    """Return which columns must still be chosen."""
    return write.say("Still to be chosen: {names}.", names="; ".join(columns))


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
