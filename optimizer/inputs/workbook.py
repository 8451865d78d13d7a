"""A sheet of an XLSX workbook → rows of text. Imported only when such a file is read."""

from __future__ import annotations

import io
import re
import warnings
import zipfile
from contextlib import contextmanager
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Final

from optimizer.errors import Fault, InputError
from optimizer.files.limits import CELLS, UNPACKED_BYTES, WORKBOOK_PARTS_BYTES, megabytes
from optimizer.files.reading import unreadable
from optimizer.inputs.cells import WrittenNumber, cell_text
from optimizer.inputs.faults import shown
from optimizer.inputs.limits import Limits
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from openpyxl.worksheet.worksheet import Worksheet

#: Parts that hold cells and texts, or pictures that are not looked at.
_LARGE_PARTS: Final = ("xl/worksheets/", "xl/sharedStrings", "xl/media/", "xl/drawings/")
#: A formula with nothing after it, or with an empty value.
_UNSOLVED: Final = re.compile(
    rb"(?:</(?:\w+:)?f>|<(?:\w+:)?f\b[^<>]*/>)\s*(?:</|<(?:\w+:)?v\s*(?:/>|></))"
)
#: Spreadsheets take no longer format [characters].
_LONGEST_FORMAT: Final = 255
#: The sections of a number's format, semicolons inside quotes left alone.
_SECTIONS: Final = re.compile(r';(?=(?:[^"]*"[^"]*")*[^"]*$)')
#: What a format shows beside digits: a currency, words in quotes, letters behind a slash, signs.
_SHOWN: Final = re.compile(r'\[\$([^\]\-]*)[^\]]*\]|\[[^\]]*\]|"([^"]*)"|\\(\S)|([%$¢-¥฿₠-⃀])')
#: So much of a part is looked at at once, and again with the next piece [bytes].
_PIECE: Final = 1_000_000
_OVERLAP: Final = 200
#: Blank cells at the ends of rows, which a spreadsheet may keep, to one that counts.
_BLANKS: Final = 10


def sheet_names(raw: bytes) -> tuple[str, ...]:
    """Return the names of a workbook's sheets; none where it is damaged, or too large."""
    from openpyxl import load_workbook  # noqa: PLC0415 - a fifth of a second

    try:
        _look_inside("", raw)
        book = load_workbook(io.BytesIO(raw), read_only=True, keep_links=False)
        book.close()
    except Exception:  # its reader says so; a damaged archive can raise anything there is
        return ()
    return tuple(sheet.title for sheet in book.worksheets)


def workbook_rows(
    file: str, raw: bytes, sheet: str | None = None, *, as_shown: bool = False
) -> list[list[str]]:
    """Return the cells of a sheet as text, of the first where none is named.

    The sheet must be one of `sheet_names`. It is read row by row, and given up where it grows
    beyond what a table may be. ``as_shown`` makes numbers `WrittenNumber`, with the signs and
    words that their formats show. InputError where it cannot be read, or holds no results.
    """
    try:
        unsolved = _look_inside(file, raw)
        with _sheet(raw, sheet, results=True, as_shown=as_shown) as values:
            rows = _bounded(file, values)
        faults = list(_formula_faults(file, raw, sheet)) if unsolved else []
    except InputError:
        raise
    except Exception:  # a damaged archive can raise anything there is
        wanted = Phrase("an XLSX workbook that a spreadsheet program opens")
        raise unreadable(file, Phrase("a damaged workbook"), wanted) from None
    if faults:
        raise InputError(faults)
    width = max(map(len, rows), default=0)
    return [row + [""] * (width - len(row)) for row in rows]


def _look_inside(file: str, raw: bytes) -> bool:
    """Refuse an archive that unpacks to too much; tell whether a formula has no result."""
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        parts = archive.infolist()
        small = sum(one.file_size for one in parts if not one.filename.startswith(_LARGE_PARTS))
        for size, most in (
            (sum(one.file_size for one in parts), UNPACKED_BYTES),
            (small, WORKBOOK_PARTS_BYTES),
        ):
            if size > most:
                found = Phrase("a workbook that unpacks to {size}", size=megabytes(size))
                wanted = Phrase("at most {size}", size=megabytes(most))
                if most == WORKBOOK_PARTS_BYTES:
                    found = Phrase("a workbook with {size} beside its cells", size=megabytes(size))
                raise unreadable(file, found, wanted)
        unsolved, texts = False, 0
        for one in parts:
            with archive.open(one) as part:
                tail = b""
                while piece := part.read(_PIECE):
                    texts += piece.count(b"<si") + piece.count(b":si")
                    unsolved = unsolved or _UNSOLVED.search(tail + piece) is not None
                    tail = piece[-_OVERLAP:]
        if texts > 2 * CELLS:  # a text opens and closes
            found = Phrase("more than {most} texts", most=f"{CELLS:,}")
            raise unreadable(file, found, Phrase("a workbook of at most as many cells"))
        return unsolved


def _bounded(file: str, values: Iterable[tuple[object, ...]]) -> list[list[str]]:
    """Return rows as text, blank cells at their ends left out."""
    limits, rows, width, looked_at = Limits(file), [], 0, 0
    for value in values:
        row = [cell_text(one) for one in value[: _filled(value)]]
        width = max(width, len(row))
        looked_at += len(value)
        rows.append(limits.check(row))
        limits.cells = max(limits.rows * width, looked_at // _BLANKS)
    return rows


def _formula_faults(file: str, raw: bytes, sheet: str | None) -> Iterator[Fault]:
    """Yield each formula whose result is not stored beside it."""
    with _sheet(raw, sheet, results=True) as values, _sheet(raw, sheet, results=False) as formulas:
        for number, (row, sources) in enumerate(zip(values, formulas, strict=True), start=1):
            for value, source in zip(row, sources, strict=False):
                if value is None and source is not None:
                    wanted = Phrase(
                        "values; open the workbook in a spreadsheet program and save it once"
                    )
                    found = Phrase(
                        "{formula}, a formula without a stored result", formula=shown(str(source))
                    )
                    yield Fault(file, number, None, found, wanted)


def _filled(row: tuple[object, ...]) -> int:
    return max((place + 1 for place, value in enumerate(row) if value is not None), default=0)


def shown_number(value: float, form: str) -> WrittenNumber:
    """Return a number with what its format shows beside it.

    >>> shown_number(1899.5, '#,##0.00 [$€-407]'), shown_number(0.9, "0%"), shown_number(4, "0.00")
    ('1899.5 €', '90 %', '4')
    >>> shown_number(47.5, '0.0" kg"'), shown_number(12, '"$"#,##0;[Red]-"$"#,##0')
    ('47.5 kg', '12 $')
    """
    words = _words_of(form)
    if "%" in words:
        value = float(f"{value * 100:.12g}")
    return WrittenNumber(" ".join([cell_text(value), *words]))


@lru_cache
def _words_of(form: str) -> tuple[str, ...]:
    """Return what a number's format shows beside digits, by its section for positive numbers."""
    first = _SECTIONS.split(form[:_LONGEST_FORMAT])[0]
    found = (next(filter(None, groups), "").strip() for groups in _SHOWN.findall(first))
    return tuple(filter(None, found))


def _as_shown(cell: Any) -> object:  # noqa: ANN401 - a cell or an empty one
    value = cell.value
    if isinstance(value, int | float) and not isinstance(value, bool):
        return shown_number(value, cell.number_format or "")
    return value


@contextmanager
def _sheet(
    raw: bytes, name: str | None, *, results: bool, as_shown: bool = False
) -> Iterator[Iterator[tuple[Any, ...]]]:
    """Open a sheet, to be read row by row."""
    from openpyxl import load_workbook  # noqa: PLC0415 - a fifth of a second

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # about styles and validations that do not matter here
        book = load_workbook(io.BytesIO(raw), read_only=True, data_only=results, keep_links=False)
        try:
            sheet: Worksheet = book.worksheets[0] if name is None else book[name]
            sheet.reset_dimensions()  # some programs store a wrong size
            if as_shown:
                yield (tuple(map(_as_shown, row)) for row in sheet.iter_rows())
            else:
                yield sheet.iter_rows(values_only=True)
        finally:
            book.close()
