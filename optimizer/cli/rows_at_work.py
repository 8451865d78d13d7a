"""Which rows of which files a failure of the program came about with."""

from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path
from traceback import walk_tb

from optimizer.errors import InputError
from optimizer.model.design import BankPeriod, Design
from optimizer.model.job import Battery, Generator, Inverter, Load, Work

Row = Battery | Inverter | Generator | Load | Work


def rows_at_work(error: BaseException, read: Iterable[str]) -> list[tuple[str, int]]:
    """Return file and row, of the files read, that the innermost function with rows was at."""
    frames = [frame for frame, _ in walk_tb(error.__traceback__)]
    held: list[Row] = []
    while frames and not held:
        held = [row for value in frames.pop().f_locals.values() for row in _rows(value)]
    names = {_called(row) for row in held}
    return [place for file in read for place in _places(file, names)]


def _called(row: Row) -> tuple[str, str]:
    """Return the column that names a row, its own first field, and what stands there."""
    column = next(iter(type(row).__annotations__))
    return column, getattr(row, column)


def _rows(value: object) -> Iterator[Row]:
    if isinstance(value, Row):
        yield value
    elif isinstance(value, BankPeriod):
        yield value.battery
    elif isinstance(value, Design):
        yield value.inverter
        yield from (bank.battery for bank in value.banks)


def _places(file: str, names: set[tuple[str, str]]) -> Iterator[tuple[str, int]]:
    from optimizer.inputs.tables import read_table

    if Path(file).suffix not in {".csv", ".xlsx"}:
        return
    with suppress(InputError):
        table = read_table(Path(file), [])
        if table is not None:
            yield from (
                (file, row)
                for key, name in sorted(names)
                for row, cell in table.column(key)
                if cell == name
            )
