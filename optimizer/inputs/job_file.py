"""A whole job in one file: JSON with a version number, opened with the checks of any input.

Version 1 held the site and its tables; version 2 also holds the designs kept beside.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, fields
from typing import TYPE_CHECKING, Any, Final

from optimizer.errors import Fault, InputError
from optimizer.inputs.draft import TABLES, Draft, RawTable, load_rows, loads_table
from optimizer.inputs.faults import NO_KEY
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from collections.abc import Sequence

#: What this version writes; it opens this and everything older.
VERSION: Final = 2
#: As many designs are kept beside each other.
MOST_KEPT: Final = 4
_MARK: Final = "keeplit_job"
_SAVED: Final = Phrase("a job saved by keeplit")
_NO_SECTION: Final = Phrase("no such section")
_ELSE: Final = Phrase("something else")


@dataclass(frozen=True, slots=True)
class Kept:
    """A design set aside: what it is and costs, as it was when it was kept.

    ``hours`` [h], money in the job's ``currency``; ``inputs`` is the fingerprint of the job it
    was an answer to.
    """

    hours: int
    life_cycle_cost: float
    upfront_cost: float
    currency: str
    family: str
    bank: str
    inverter: str
    replacements: str
    inputs: str


@dataclass(frozen=True)
class JobFile:
    """What a job file holds."""

    draft: Draft
    kept: tuple[Kept, ...] = ()


def save_job(draft: Draft, kept: Sequence[Kept] = ()) -> bytes:
    """Return the file of a job; the same job gives the same bytes."""
    data = {
        _MARK: VERSION,
        "site": draft.site,
        "tables": {
            name: {"file": table.file, "rows": table.rows} for name, table in draft.tables.items()
        },
        "kept": [asdict(one) for one in kept],
    }
    return json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False).encode()


def open_job(raw: bytes, file: str = "job file") -> JobFile:
    """Return what a job file holds, checked like any other input.

    Parameters
    ----------
    raw : bytes
        The file's content.
    file : str
        Its name for messages.

    Raises
    ------
    InputError
        It is no job file, is newer than this version, or its job has faults.
    """
    try:
        data = json.loads(raw.decode("utf-8-sig"), parse_constant=_no_constant)
    except (ValueError, RecursionError):
        raise _fault(file, None, Phrase("text that is no JSON"), _SAVED) from None
    if not isinstance(data, dict) or _MARK not in data:
        raise _fault(file, _MARK, NO_KEY, _SAVED)
    version = data[_MARK]
    if type(version) is not int or version < 1:
        wanted = Phrase("a version from 1 to {version}", version=str(VERSION))
        raise _fault(file, _MARK, repr(version), wanted)
    if version > VERSION:
        wanted = Phrase(
            "a version up to {version}: a newer keeplit wrote it and can open it",
            version=str(VERSION),
        )
        raise _fault(file, _MARK, Phrase("version {version}", version=str(version)), wanted)
    draft = Draft(_site(file, data), _tables(file, data))
    kept = _kept(file, data.get("kept", []))
    job = draft.job()  # the survey anew, so that editors find numbers as they write them
    return JobFile(draft.with_table("loads", loads_table(load_rows(job.loads))), kept)


def _site(file: str, data: dict[str, Any]) -> dict[str, Any]:
    site = data.get("site")
    if not isinstance(site, dict):
        raise _fault(file, "site", _NO_SECTION, Phrase("the sections of a site file"))
    for section, key in (("site", "loads"), ("site", "catalog"), ("outages", "log")):
        if isinstance(site.get(section), dict) and key in site[section]:
            wanted = Phrase("the table itself, under tables")
            raise _fault(file, f"{section}.{key}", Phrase("a path"), wanted)
    return site


def _tables(file: str, data: dict[str, Any]) -> dict[str, RawTable]:
    tables = data.get("tables")
    if not isinstance(tables, dict):
        raise _fault(file, "tables", _NO_SECTION, Phrase("the tables of the job"))
    wanted = Phrase("a name, and rows of text with the column names first")
    found = {}
    for name, table in tables.items():
        place = f"tables.{name}"
        if name not in TABLES:
            known = Phrase("one of {names}", names=", ".join(TABLES))
            raise _fault(file, place, Phrase("an unknown table"), known)
        if not isinstance(table, dict) or not isinstance(table.get("file"), str):
            raise _fault(file, place, _ELSE, wanted)
        rows = table.get("rows")
        if not isinstance(rows, list) or not all(
            isinstance(row, list) and all(isinstance(cell, str) for cell in row) for row in rows
        ):
            raise _fault(file, f"{place}.rows", _ELSE, wanted)
        found[name] = RawTable(table["file"], tuple(tuple(row) for row in rows))
    return found


def _kept(file: str, listed: object) -> tuple[Kept, ...]:
    kinds = {field.name: field.type for field in fields(Kept)}
    wanted = Phrase(
        "at most {most} designs with {fields}", most=str(MOST_KEPT), fields=", ".join(kinds)
    )
    if not isinstance(listed, list) or len(listed) > MOST_KEPT:
        raise _fault(file, "kept", _ELSE, wanted)
    found = []
    for one in listed:
        if not isinstance(one, dict) or set(one) != set(kinds):
            raise _fault(file, "kept", _ELSE, wanted)
        for name, kind in kinds.items():
            fits = {"int": type(one[name]) is int, "str": isinstance(one[name], str)}
            if not fits.get(str(kind), type(one[name]) in {int, float}):
                raise _fault(file, f"kept.{name}", repr(one[name]), wanted)
        found.append(Kept(**one))
    return tuple(found)


def _no_constant(name: str) -> float:
    raise ValueError(name)


def _fault(file: str, place: str | None, found: str, wanted: str) -> InputError:
    return InputError([Fault(file, None, place, found, wanted)])
