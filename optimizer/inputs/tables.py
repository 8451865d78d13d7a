"""Bytes → rows of text, numbered as a spreadsheet numbers them.

Nothing here knows what a column means. CSV comes with comma, semicolon or tab, in UTF-8 (with or
without byte order mark), UTF-16 or cp1252; a workbook's first sheet is taken, every cell as text.
"""

import codecs
import csv
import io
from collections.abc import Callable, Iterable, Sequence
from itertools import islice
from typing import Final, NamedTuple

from optimizer.errors import Fault, FaultKind, InputError
from optimizer.files.limits import FILE_BYTES, ROWS
from optimizer.files.place import Place
from optimizer.files.reading import read_bytes, unreadable
from optimizer.inputs.faults import FILE, NO_TEXT, VALUE, hinted
from optimizer.inputs.limits import Limits
from optimizer.inputs.neutral import read_back
from optimizer.model.phrase import Phrase

WORKBOOK_START: Final = b"PK\x03\x04"  # XLSX is a ZIP archive
_OLD_WORKBOOK_START: Final = b"\xd0\xcf\x11\xe0"  # the binary XLS before it
_UTF16_SAMPLE: Final = 200
QUOTES: Final = Phrase('quoted cells closed with ", quote marks inside them doubled')
EMPTY: Final = Phrase("an empty file")
# the library would call a longer cell a wrong quote mark
csv.field_size_limit(FILE_BYTES)


class Row(NamedTuple):
    """A record: its number in the spreadsheet and its cells, stripped."""

    number: int
    cells: tuple[str, ...]


class Table(NamedTuple):
    """A file as rows of text; columns without a name or with a ``#`` name are left out.

    ``bare`` tells a file that has nothing below its names from one whose rows are faulty.
    """

    file: str
    heading: Row
    rows: tuple[Row, ...]
    bare: bool

    def column(self, name: str) -> tuple[tuple[int, str], ...]:
        """Return (row number, text) for each filled cell of a column; empty if there is none."""
        if name not in self.heading.cells:
            return ()
        place = self.heading.cells.index(name)
        return tuple((row.number, row.cells[place]) for row in self.rows if row.cells[place])

    def fault(
        self,
        row: int | None,
        column: str | None,
        found: str,
        wanted: Phrase,
        kind: FaultKind = VALUE,
    ) -> Fault:
        """Return a fault in this file."""
        return Fault(self.file, row, column, found, wanted, kind)


def decode(raw: bytes) -> str | None:
    """Return the text of a file, or None if it is no text at all.

    >>> decode("Wärmepumpe".encode("cp1252"))
    'Wärmepumpe'
    """
    for mark, encoding in (
        (codecs.BOM_UTF8, "utf-8-sig"),
        (codecs.BOM_UTF16_LE, "utf-16"),
        (codecs.BOM_UTF16_BE, "utf-16"),
    ):
        if raw.startswith(mark):
            return _try(raw, encoding)
    sample = raw[:_UTF16_SAMPLE]
    if b"\0" in sample:  # text has no zero bytes, except UTF-16 in every other place
        return _try(raw, "utf-16-le" if b"\0" not in sample[0::2] else "utf-16-be")
    return _try(raw, "utf-8") or _try(raw, "cp1252")


def _try(raw: bytes, encoding: str) -> str | None:
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError:
        return None
    return None if "\0" in text else text


def read_table(path: Place, faults: list[Fault]) -> Table | None:
    """Return a file as rows of text, or None with the faults that make it unreadable."""
    try:
        records = text_rows(path.name, read_bytes(path, Phrase("a CSV or XLSX file")))
    except InputError as error:
        faults += error.faults
        return None
    return tidy(path.name, records, faults)


def _mark_of_heading(text: str) -> str:
    """Return what parts the cells: the mark that the first line with letters has most of."""
    lines = islice(io.StringIO(text), ROWS)
    head = next((line for line in lines if line.strip(" \t\r\n,;")), "")
    return max(",;\t", key=head.count)


def text_rows(
    file: str, raw: bytes, mark_of: Callable[[str], str] = _mark_of_heading
) -> list[list[str]]:
    """Return every record of a file as text; InputError where it cannot be read."""
    if raw.startswith(_OLD_WORKBOOK_START):
        raise unreadable(file, Phrase("an old binary workbook"), Phrase("CSV or XLSX"))
    if raw.startswith(WORKBOOK_START):
        from optimizer.inputs.workbook import workbook_rows  # noqa: PLC0415 - start-up time

        return workbook_rows(file, raw)
    content = decode(raw)
    if content is None:
        raise unreadable(file, NO_TEXT, Phrase("text in UTF-8, UTF-16 or cp1252"))
    lines = io.StringIO(content, newline="")
    reader = csv.reader(lines, delimiter=mark_of(content), strict=True)
    limits = Limits(file)
    try:
        return [limits.check(record) for record in reader]
    except csv.Error:
        found = Phrase("a quote mark that is never closed, or stands inside quoted text")
        raise unreadable(file, found, QUOTES, limits.rows + 1) from None


def tidy(file: str, records: Iterable[Sequence[str]], faults: list[Fault]) -> Table | None:
    """Return records as a table: cells stripped, blank rows and columns for notes left out."""
    rows = [
        Row(number, tuple(read_back(cell.strip()) for cell in record))
        for number, record in enumerate(records, start=1)
    ]
    rows = [row for row in rows if any(row.cells)]
    if not rows:
        wanted = Phrase("a row of column names and rows below it")
        faults.append(Fault(file, None, None, EMPTY, wanted, FILE))
        return None
    heading, body = rows[0], rows[1:]
    width = len(heading.cells)
    kept = [place for place, name in enumerate(heading.cells) if name and name[0] != "#"]
    unnamed = [place for place, name in enumerate(heading.cells) if not name]
    good = []
    for row in body:
        if not _fits(file, row, width, unnamed, faults):
            continue
        good.append(Row(row.number, tuple(row.cells[place] for place in kept)))
    names = tuple(heading.cells[place] for place in kept)
    return Table(file, Row(heading.number, names), tuple(good), not body)


def _fits(file: str, row: Row, width: int, unnamed: list[int], faults: list[Fault]) -> bool:
    filled = len(row.cells)
    if filled != width:
        wanted = Phrase("{width}, one for each column name", width=str(width))
        comma = Phrase("a decimal comma or a comma in a name needs quotes around its cell")
        found = Phrase("{filled} cells", filled=str(filled))
        faults.append(
            Fault(file, row.number, None, found, hinted(wanted, comma if filled > width else ""))
        )
        return False
    for place in unnamed:
        if row.cells[place]:
            found = Phrase(
                "{cell} in column {place}, which has no name",
                cell=repr(row.cells[place]),
                place=str(place + 1),
            )
            wanted = Phrase("a column name; one that starts with # is ignored")
            faults.append(Fault(file, row.number, None, found, wanted))
            return False
    return True
