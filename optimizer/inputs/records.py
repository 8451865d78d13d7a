"""Rows of text × the columns of a model → checked records, or a fault for each cell."""

from collections.abc import Iterable, Mapping
from contextlib import suppress
from typing import Any, Final, TypeVar

from pydantic import ValidationError

from optimizer.errors import Fault
from optimizer.inputs.cells import CellError, parsed
from optimizer.inputs.columns import (
    LEAST,
    LIST_ENTRIES,
    NAME_CHARACTERS,
    PARAGRAPH_CHARACTERS,
    Column,
    Kind,
    Record,
    columns_of,
)
from optimizer.inputs.decimals import decimal_comma
from optimizer.inputs.faults import (
    MISSING,
    NO_COLUMN,
    NO_ROW,
    ONE_ROW,
    TWICE,
    UNKNOWN,
    hinted,
    one_of,
    shown,
)
from optimizer.inputs.quantities import Quantity, quantity, read_in
from optimizer.inputs.tables import Table
from optimizer.model.phrase import Phrase

RecordT = TypeVar("RecordT", bound=Record)

#: Kinds of columns whose cells hold several numbers.
LISTS_OF_NUMBERS: Final = frozenset({Kind.POINTS, Kind.DEPTHS, Kind.MULTIPLIERS})
_PERCENT: Final = 100.0
_ENDLESS: Final = 1e300
#: Column names of the last version that are still read, and what they are called now.
OLD_NAMES: Final = {"grid_help": "works_in_parallel"}


def read_records(
    table: Table,
    model: type[RecordT],
    faults: list[Fault],
    *,
    unique: str = "",
    filled: bool = True,
    supply_v: float | None = None,
) -> list[tuple[int, RecordT]]:
    """Return the rows that are as they must be, each with its number; faults come row by row.

    ``unique`` is a column of names that may stand there once; ``filled`` asks for a row at least;
    ``supply_v`` [V] is the supply's voltage, by which watts may be given as amperes.
    """
    before = len(faults)
    columns = columns_of(model)
    present = _match(table, columns, faults)
    kinds = {name: columns[name].kind for name in present}
    comma = decimal_comma(
        table,
        [n for n, kind in kinds.items() if kind.is_numeric or kind in LISTS_OF_NUMBERS],
        faults,
    )
    good = []
    for row in table.rows:
        cells = {name: row.cells[place] for name, place in present.items()}
        values, wrong = _parsed(cells, columns, comma, supply_v)
        record = _checked(model, values, cells, wrong)
        faults += [
            table.fault(
                row.number, name, shown(text) if text else Phrase("an empty cell"), wrong[name]
            )
            for name, text in cells.items()
            if name in wrong
        ]
        if record is not None and not wrong:
            good.append((row.number, record))
    if unique:
        _check_unique(table, unique, faults)
    if filled and table.bare and len(faults) == before:
        faults.append(table.fault(None, None, NO_ROW, ONE_ROW, MISSING))
    return good


def _match(table: Table, columns: Mapping[str, Column], faults: list[Fault]) -> dict[str, int]:
    """Return where each known column stands; complain of unknown, doubled and missing ones."""
    present: dict[str, int] = {}
    number = table.heading.number
    written_names = set(table.heading.cells)
    for place, written in enumerate(table.heading.cells):
        name = written if written in columns else OLD_NAMES.get(written, written)
        if name in present:
            found, wanted = Phrase("the column twice"), Phrase("it once")
            faults.append(table.fault(number, name, found, wanted, TWICE))
        elif name in columns:
            present[name] = place
        else:
            free = [known for known in columns if known not in written_names]
            what = "a column of this table, or # before the name of a note"
            wanted = one_of(what, name, free or columns, so_far=len(faults))
            faults.append(table.fault(number, name, Phrase("an unknown column"), wanted, UNKNOWN))
    faults += [
        table.fault(number, name, NO_COLUMN, column.wanted, MISSING)
        for name, column in columns.items()
        if column.required and name not in present
    ]
    return present


def _parsed(
    cells: Mapping[str, str], columns: Mapping[str, Column], comma: bool, supply_v: float | None
) -> tuple[dict[str, Any], dict[str, Phrase]]:
    """Return a row's values and what is wrong, bare numbers first: a quantity may need them."""
    values: dict[str, Any] = {}
    wrong: dict[str, Phrase] = {}
    quantities: dict[str, Quantity] = {}
    for name, text in cells.items():
        column = columns[name]
        try:
            if column.kind is Kind.TEXT and len(text) > NAME_CHARACTERS:
                raise CellError(Phrase("at most {most} characters", most=NAME_CHARACTERS))  # noqa: TRY301 - as a parser would
            if text:
                values[name] = parsed(column.kind, text, comma)
        except CellError as problem:
            wrong[name] = hinted(column.wanted, problem.hint)
            if column.kind.is_numeric and (found := quantity(text, comma)) is not None:
                quantities[name] = found
    if quantities:
        problems = read_in(quantities, columns, values, supply_v)
        wrong = {name: said for name, said in wrong.items() if name not in values} | problems
    return values, wrong


def _checked(
    model: type[RecordT],
    values: Mapping[str, Any],
    cells: Mapping[str, str],
    wrong: dict[str, Phrase],
) -> RecordT | None:
    """Return the record of a row, or None, and note what else is wrong."""
    columns, whole = columns_of(model), True
    try:
        record = model.model_validate(values)
    except ValidationError as problem:
        for name, _, wanted in refused(problem, columns, values):
            if name in cells:  # a column that is missing was complained of before
                wrong.setdefault(name, wanted)
        whole = False
        record = model.model_construct(**{k: v for k, v in values.items() if k not in wrong})
    with suppress(AttributeError):  # a rule that needs a column at fault is left out
        for name, wanted in record.broken():
            wrong.setdefault(name, wanted)
    return record if whole else None


def refused(
    problem: ValidationError, columns: Mapping[str, Column], values: Mapping[str, Any]
) -> list[tuple[str, Any, Phrase]]:
    """Return what pydantic refuses: its column, what stands there, what would be right.

    Of a list, entries that are texts or lists themselves stand alone, numbers among their like.
    """
    found: dict[tuple[str, object], tuple[str, Any, Phrase]] = {}
    for error in problem.errors(include_url=False):
        name, place = str(error["loc"][0]), None
        value = values.get(name)
        if isinstance(value, list) and len(error["loc"]) > 1:
            entry = value[int(error["loc"][1])]
            if isinstance(entry, str | list):
                value, place = entry, error["loc"][1]
        reader = error.get("ctx", {}).get("error")
        hint = reader.hint if isinstance(reader, CellError) else _hint(columns[name], value)
        found.setdefault((name, place), (name, value, hinted(columns[name].wanted, hint)))
    return list(found.values())


def _hint(column: Column, value: object) -> str:
    """Return what to do about a value that reads well but lies out of range, or nothing."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return _too_long(value)
    if not abs(value) < _ENDLESS:  # nan too, and whole numbers beyond any float
        return Phrase("it must be finite")
    if 0 < value <= LEAST:
        return Phrase("so small a number is none")
    percent = {Kind.SHARE: value > 1, Kind.RATE: abs(value) >= 1}.get(column.kind, False)
    if percent and abs(value) <= _PERCENT:
        return Phrase(
            "{share} if {value} % was meant", share=f"{value / _PERCENT:g}", value=f"{value:g}"
        )
    if column.unit == "°C" and value > column.limits.get("le", value):
        return Phrase('"{value} °F" if degrees Fahrenheit were meant', value=f"{value:g}")
    return ""


def _too_long(value: object) -> str:
    """Return how long a text or a list may be where it is longer, or nothing."""
    if not isinstance(value, str | list):
        return ""
    if isinstance(value, list):
        too_long = len(value) > LIST_ENTRIES
        return Phrase("at most {most} of them", most=str(LIST_ENTRIES)) if too_long else ""
    most = PARAGRAPH_CHARACTERS if len(value) > PARAGRAPH_CHARACTERS else NAME_CHARACTERS
    too_long = len(value) > most
    return Phrase("at most {most} characters", most=str(most)) if too_long else ""


def check_known(
    table: Table, column: str, what: Phrase, known: Iterable[str], faults: list[Fault]
) -> None:
    """Complain of each name in a column that is none of those known."""
    names = list(known)
    for number, name in table.column(column):
        if name not in names:
            wanted = one_of(what, name, names, so_far=len(faults))
            faults.append(table.fault(number, column, shown(name), wanted, UNKNOWN))


def _check_unique(table: Table, column: str, faults: list[Fault]) -> None:
    first: dict[str, int] = {}
    for number, name in table.column(column):
        if name in first:
            found = Phrase("{name}, as in row {row}", name=shown(name), row=str(first[name]))
            wanted = Phrase("a name that is used once")
            faults.append(table.fault(number, column, found, wanted, TWICE))
        first.setdefault(name, number)
