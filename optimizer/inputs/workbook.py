"""A sheet of an XLSX workbook → rows of text. Imported only when such a file is read."""

from __future__ import annotations

import io
import warnings
import zipfile
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from optimizer.errors import Fault
from optimizer.inputs.faults import FILE
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet


def sheet_names(raw: bytes) -> tuple[str, ...]:
    """Return the names of a workbook's sheets; none where it is damaged."""
    from openpyxl import load_workbook  # noqa: PLC0415 - a fifth of a second

    try:
        book = load_workbook(io.BytesIO(raw), read_only=True)
        book.close()
    except Exception:  # a damaged archive can raise anything there is; its reader says so
        return ()
    return tuple(sheet.title for sheet in book.worksheets)


def workbook_rows(
    file: str, raw: bytes, faults: list[Fault], sheet: str | None = None
) -> list[list[str]] | None:
    """Return the cells of a sheet as text, of the first where none is named, or None with a fault.

    The sheet must be one of `sheet_names`.
    """
    try:
        values = _values(raw, sheet, results=True)
        formulas = _values(raw, sheet, results=False) if _has_formulas(raw) else values
    except Exception:  # a damaged archive can raise anything there is
        wanted = Phrase("an XLSX workbook that a spreadsheet program opens")
        faults.append(Fault(file, None, None, Phrase("a damaged workbook"), wanted, FILE))
        return None
    before = len(faults)
    for number, (row, sources) in enumerate(zip(values, formulas, strict=True), start=1):
        for value, source in zip(row, sources, strict=False):
            if value is None and source is not None:
                wanted = Phrase(
                    "values; open the workbook in a spreadsheet program and save it once"
                )
                found = Phrase(
                    "{formula}, a formula without a stored result", formula=repr(str(source))
                )
                faults.append(Fault(file, number, None, found, wanted))
    if len(faults) > before:
        return None
    width = max((_filled(row) for row in values), default=0)
    return [
        [cell_text(value) for value in row[:width]] + [""] * (width - len(row)) for row in values
    ]


def cell_text(value: object) -> str:
    """Return a cell's value as text, dates in ISO 8601.

    >>> cell_text(4.0), cell_text(True), cell_text(None)
    ('4', 'true', '')
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() else repr(value)
    if isinstance(value, datetime):
        # Serial dates carry rounding errors of microseconds.
        return (value + timedelta(microseconds=500_000)).replace(microsecond=0).isoformat()
    return str(value)


def _filled(row: tuple[object, ...]) -> int:
    return max((place + 1 for place, value in enumerate(row) if value is not None), default=0)


def _has_formulas(raw: bytes) -> bool:
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        sheets = [name for name in archive.namelist() if name.startswith("xl/worksheets/")]
        return any(b"<f>" in (xml := archive.read(name)) or b"<f " in xml for name in sheets)


def _values(raw: bytes, name: str | None, *, results: bool) -> list[tuple[Any, ...]]:
    from openpyxl import load_workbook  # noqa: PLC0415 - a fifth of a second

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # about styles and validations that do not matter here
        book = load_workbook(io.BytesIO(raw), read_only=True, data_only=results)
        try:
            sheet: Worksheet = book.worksheets[0] if name is None else book[name]
            sheet.reset_dimensions()  # some programs store a wrong size
            return [tuple(row) for row in sheet.iter_rows(values_only=True)]
        finally:
            book.close()
