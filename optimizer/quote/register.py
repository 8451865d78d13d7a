"""The register of quotes: numbers, revisions, and what was handed over, in one file.

SQLite holds it. A number is taken and its papers are stored in one transaction, which begins
before the number is read: two writers wait for each other, and whoever is killed on the way leaves
neither a number nor half an entry.
"""

import re
import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Final

from optimizer.errors import Fault, FaultKind, InputError, wrong_option
from optimizer.files.reading import NO_FILE
from optimizer.inputs.faults import one_of
from optimizer.model.phrase import Phrase

#: What this version writes.
VERSION: Final = 1
#: How long one writer waits for another [s].
_PATIENCE_S: Final = 60.0
_TABLES: Final = """
CREATE TABLE quotes (
    number TEXT NOT NULL, revision INTEGER NOT NULL, day TEXT NOT NULL, customer TEXT NOT NULL,
    site TEXT NOT NULL, currency TEXT NOT NULL, options TEXT NOT NULL, totals TEXT NOT NULL,
    entered TEXT NOT NULL, PRIMARY KEY (number, revision)
);
CREATE TABLE files (
    number TEXT NOT NULL, revision INTEGER NOT NULL, name TEXT NOT NULL, content BLOB NOT NULL,
    PRIMARY KEY (number, revision, name),
    FOREIGN KEY (number, revision) REFERENCES quotes (number, revision)
);
"""


@dataclass(frozen=True, slots=True)
class Record:
    """One quote of the register, in the order of its table.

    ``options`` is how they were picked, empty where by rule; ``totals`` the upfront cost of each,
    as text; ``entered`` the moment it was stored, in UTC.
    """

    number: str
    revision: int
    day: date
    customer: str
    site: str
    currency: str
    options: str
    totals: tuple[str, ...]
    entered: str


@dataclass(frozen=True)
class RegisterAnswer:
    """Quotes of a register; the files where one of them was reopened."""

    quotes: tuple[Record, ...]
    files: tuple[str, ...] | None = None


@dataclass(slots=True)
class Entry:
    """A number that is being taken; nothing of it stays unless `store` was called."""

    number: str
    revision: int
    day: date
    _book: sqlite3.Connection

    def store(
        self,
        *,
        customer: str,
        site: str,
        currency: str,
        options: str,
        totals: Sequence[str],
        files: Mapping[str, bytes],
    ) -> None:
        """Store the quote and its files by their names."""
        key, day = (self.number, self.revision), self.day.isoformat()
        entered = datetime.now(UTC).isoformat(timespec="microseconds")
        told = customer, site, currency, options, " ".join(totals), entered
        self._book.execute(
            "INSERT INTO quotes VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", (*key, day, *told)
        )
        self._book.executemany(
            "INSERT INTO files VALUES (?, ?, ?, ?)",
            [(*key, name, content) for name, content in files.items()],
        )


class Register:
    """A register of quotes in a file, which ``make`` lets it make where there is none yet.

    Raises
    ------
    InputError
        The file is no register, is of a newer version, or is not there.
    """

    def __init__(self, path: str | Path, *, make: bool = False) -> None:
        self.path = Path(path)
        if not make and not self.path.is_file():
            wanted = Phrase("a register that keeplit quote --register has made")
            raise self._wrong(NO_FILE, wanted)
        with self._open(is_writing=True) as book:
            version = book.execute("PRAGMA user_version").fetchone()[0]
            tables = book.execute("SELECT name FROM sqlite_master").fetchall()
            if version == 0 and not tables:
                for statement in _TABLES.split(";\n"):
                    book.execute(statement)
                book.execute(f"PRAGMA user_version = {VERSION}")
            elif version == 0 or ("quotes",) not in tables:
                wanted = Phrase("a register of quotes, or a new file")
                raise self._wrong(Phrase("another database"), wanted)
            elif version > VERSION:
                wanted = Phrase(
                    "version {known}; a newer keeplit wrote it and can read it", known=VERSION
                )
                raise self._wrong(Phrase("version {version}", version=version), wanted)

    @contextmanager
    def entry(
        self, day: date, *, number: str | None = None, revise: str | None = None
    ) -> Iterator[Entry]:
        """Take a number and hold it until the block ends; what was stored then stays.

        It is the next free one of the day's year, the company's own ``number``, or the number that
        a next revision is made of.

        Raises
        ------
        InputError
            The number is taken, or there is none to revise.
        """
        with self._open(is_writing=True) as book:
            known = [row[0] for row in book.execute("SELECT DISTINCT number FROM quotes")]
            if revise is not None:
                last = book.execute(
                    "SELECT MAX(revision) FROM quotes WHERE number = ?", (revise,)
                ).fetchone()[0]
                if last is None:
                    raise _unknown(revise, known, "--revise")
                yield Entry(revise, last + 1, day, book)
            elif number is not None and number in known:
                found = Phrase("{number}, which the register has already", number=number)
                wanted = Phrase(
                    "a new number, or --revise {number} for its next revision", number=number
                )
                raise InputError(
                    [Fault(str(self.path), None, "number", found, wanted, FaultKind.TWICE)]
                )
            else:
                yield Entry(number or _next_free(day.year, known), 1, day, book)

    def find(self, words: Sequence[str] = ()) -> list[Record]:
        """Return the quotes whose number, customer, site or day hold every word, newest first."""
        wanted = [word.casefold() for word in words]
        return [
            one
            for one in self._records()
            if all(
                word in f"{one.number} {one.customer} {one.site} {one.day}".casefold()
                for word in wanted
            )
        ]

    def reopen(self, number: str, revision: int | None = None) -> tuple[Record, dict[str, bytes]]:
        """Return a quote, its last revision unless told, with its files by their names.

        Raises
        ------
        InputError
            There is no such number or revision.
        """
        found = [one for one in self._records() if one.number == number]
        if not found:
            known = [one.number for one in self._records()]
            raise _unknown(number, known, "--reopen")
        record = next((one for one in found if revision in {None, one.revision}), None)
        if record is None:
            there = ", ".join(str(one.revision) for one in reversed(found))
            wanted = Phrase("a revision of {number}: {there}", number=number, there=there)
            raise wrong_option("--revision", str(revision), wanted)
        with self._open() as book:
            rows = book.execute(
                "SELECT name, content FROM files WHERE number = ? AND revision = ? ORDER BY name",
                (number, record.revision),
            ).fetchall()
        return record, dict(rows)

    def _records(self) -> list[Record]:
        with self._open() as book:
            book.row_factory = sqlite3.Row
            rows = book.execute(
                "SELECT * FROM quotes ORDER BY day DESC, entered DESC, revision DESC"
            ).fetchall()
        found = []
        for row in rows:
            day, totals = date.fromisoformat(row["day"]), tuple(row["totals"].split())
            found.append(Record(**dict(row) | {"day": day, "totals": totals}))
        return found

    @contextmanager
    def _open(self, *, is_writing: bool = False) -> Iterator[sqlite3.Connection]:
        """Open the file; it is not a database, or stays locked: told as any other fault."""
        try:
            with (
                closing(
                    sqlite3.connect(self.path, timeout=_PATIENCE_S, isolation_level=None)
                ) as book,
                book,  # all that is written, or nothing
            ):
                book.execute("PRAGMA foreign_keys = ON")
                if is_writing:
                    book.execute("BEGIN IMMEDIATE")
                yield book
        except sqlite3.Error as problem:
            found = Phrase("a file that does not do ({problem})", problem=str(problem))
            wanted = Phrase("a register of quotes that can be read and written")
            raise self._wrong(found, wanted) from problem

    def _wrong(self, found: Phrase, wanted: Phrase) -> InputError:
        return InputError([Fault(str(self.path), None, None, found, wanted, FaultKind.FILE)])


def _next_free(year: int, known: Sequence[str]) -> str:
    """Return the number after the last of a year.

    >>> _next_free(2026, ["2026-001", "2026-011", "2025-400", "Q-7"])
    '2026-012'
    """
    found = [re.fullmatch(rf"{year}-(\d+)", number) for number in known]
    last = max((int(one[1]) for one in found if one), default=0)
    return f"{year}-{last + 1:03d}"


def _unknown(number: str, known: Sequence[str], option: str) -> InputError:
    wanted = one_of("a number of the register", number, known)
    return wrong_option(option, number, wanted, FaultKind.UNKNOWN)
