"""Rows of text × the columns of a model → checked records, or a fault for each cell."""

from __future__ import annotations

from contextlib import suppress
from math import isfinite
from typing import TYPE_CHECKING, Any, Final, TypeVar

from pydantic import ValidationError

from optimizer.errors import Fault
from optimizer.inputs.cells import PARSERS, CellError
from optimizer.inputs.columns import Column, Record, columns_of
from optimizer.inputs.decimals import decimal_comma
from optimizer.inputs.faults import nearest_known, shown

if TYPE_CHECKING:
    from collections.abc import Mapping

    from optimizer.inputs.tables import Row, Table

RecordT = TypeVar("RecordT", bound=Record)

_NUMERIC: Final = frozenset({"number", "share", "rate", "whole", "points", "depths", "multipliers"})
_PERCENT: Final = 100.0
#: Column names of the last version that are still read, and what they are called now.
_OLD_NAMES: Final = {"grid_help": "works_in_parallel"}


def read_records(
    table: Table, model: type[RecordT], faults: list[Fault]
) -> list[tuple[int, RecordT]]:
    """Return the rows that are as they must be, each with its number.

    Parameters
    ----------
    table : Table
        The file as text.
    model : type of Record
        Whose columns are expected.
    faults : list of Fault
        Takes what is wrong, row by row.
    """
    columns = columns_of(model)
    present = _match(table, columns, faults)
    numeric = [name for name in present if columns[name].kind in _NUMERIC]
    comma = decimal_comma(table, numeric, faults)
    absent = frozenset(columns) - frozenset(present)
    good = []
    for row in table.rows:
        record = _read(
            table.file,
            row,
            present=present,
            columns=columns,
            model=model,
            comma=comma,
            absent=absent,
            faults=faults,
        )
        if record is not None:
            good.append((row.number, record))
    return good


def _match(table: Table, columns: Mapping[str, Column], faults: list[Fault]) -> dict[str, int]:
    """Return where each known column stands; complain of unknown, doubled and missing ones."""
    present: dict[str, int] = {}
    number = table.heading.number
    for place, written in enumerate(table.heading.cells):
        name = written if written in columns else _OLD_NAMES.get(written, written)
        if name in present:
            faults.append(Fault(table.file, number, name, "the column twice", "it once"))
        elif name in columns:
            present[name] = place
        else:
            free = [known for known in columns if known not in table.heading.cells]
            near = nearest_known(name, free or columns)
            wanted = f"a column of this table, or # before the name of a note; {near}"
            faults.append(Fault(table.file, number, name, "an unknown column", wanted))
    for name, column in columns.items():
        if column.required and name not in present:
            faults.append(Fault(table.file, number, name, "no such column", column.wanted))
    return present


def _read(
    file: str,
    row: Row,
    *,
    present: Mapping[str, int],
    columns: Mapping[str, Column],
    model: type[RecordT],
    comma: bool,
    absent: frozenset[str],
    faults: list[Fault],
) -> RecordT | None:
    values: dict[str, Any] = {}
    wrong: dict[str, tuple[str, str]] = {}
    for name, place in present.items():
        text = row.cells[place]
        if text:
            column = columns[name]
            try:
                values[name] = PARSERS[column.kind](text, comma)
            except CellError as problem:
                hint = f" ({problem})" if str(problem) else ""
                wrong[name] = (shown(text), column.wanted + hint)
    whole = True
    try:
        record = model.model_validate(values)
    except ValidationError as problem:
        for error in problem.errors(include_url=False, include_context=False):
            name = str(error["loc"][0])
            if name not in wrong and name not in absent:
                text = row.cells[present[name]]
                wanted = columns[name].wanted + hint_for(columns[name], values.get(name))
                wrong[name] = (shown(text) if text else "an empty cell", wanted)
        whole = False
        sound = {name: value for name, value in values.items() if name not in wrong}
        record = model.model_construct(**sound)
    with suppress(AttributeError):  # a rule that needs a column at fault is left out
        for name, wanted in record.broken():
            wrong.setdefault(name, (shown(row.cells[present[name]]), wanted))
    for name in present:  # in the file's order
        if name in wrong:
            found, wanted = wrong[name]
            faults.append(Fault(file, row.number, name, found, wanted))
    return record if whole and not wrong else None


def hint_for(column: Column, value: object) -> str:
    """Return what to do about a value that reads well but lies out of range, or nothing.

    Parameters
    ----------
    column : Column
        The column it stands in.
    value : object
        The value read.
    """
    if isinstance(value, bool) or not isinstance(value, int | float):
        return ""
    if isinstance(value, float) and not isfinite(value):
        return "; it must be finite"
    percent = {"share": value > 1, "rate": abs(value) >= 1}.get(column.kind, False)
    if percent and abs(value) <= _PERCENT:
        return f"; {value / _PERCENT:g} if {value:g} % was meant"
    return ""


def check_unique(table: Table, column: str, faults: list[Fault]) -> None:
    """Complain of each name that stands in a column a second time.

    Parameters
    ----------
    table : Table
        The file.
    column : str
        The column of names.
    faults : list of Fault
        Takes what is wrong.
    """
    first: dict[str, int] = {}
    for number, name in table.column(column):
        if name in first:
            found = f"{shown(name)}, as in row {first[name]}"
            faults.append(Fault(table.file, number, column, found, "a name that is used once"))
        first.setdefault(name, number)
