"""A whole job in one file: JSON with a version number, opened with the checks of any input.

Version 1 held the site and its tables; version 2 also holds the designs kept beside.
"""

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any, Final

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from optimizer.errors import Fault, InputError
from optimizer.files.reading import unreadable
from optimizer.inputs.draft import TABLES, Draft, RawTable, load_rows, loads_table
from optimizer.inputs.faults import NO_KEY, one_of, shown
from optimizer.model.phrase import Phrase

#: What this version writes; it opens this and everything older.
VERSION: Final = 2
#: As many designs are kept beside each other.
MOST_KEPT: Final = 4
_MARK: Final = "keeplit_job"
#: So much of what stands before a fault is shown [characters].
_NEAR: Final = 40
_SAVED: Final = Phrase("a job saved by keeplit")
_WANTED: Final = {
    "site": Phrase("the sections of a site file"),
    "tables": Phrase("the tables of the job: file, and rows of text, column names first"),
    "kept": Phrase("at most {most} designs as keeplit saves them", most=str(MOST_KEPT)),
}


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


class _Held(BaseModel):
    """A job file's content."""

    model_config = ConfigDict(strict=True)

    site: dict[str, Any]
    tables: dict[str, RawTable]
    kept: tuple[Kept, ...] = Field(default=(), max_length=MOST_KEPT)


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

    InputError where it is no job file, is newer than this version, or its job has faults.
    """
    try:
        text = raw.decode("utf-8-sig")
        data = json.loads(text, parse_constant=_no_constant)
    except (ValueError, RecursionError):
        raise unreadable(file, Phrase("text that is no JSON"), _SAVED) from None
    try:
        json.dumps(data, ensure_ascii=False).encode()
    except UnicodeEncodeError as problem:  # nothing could show it, no file could hold it
        near = problem.object[max(0, problem.start - _NEAR) : problem.start]
        found = Phrase("half a character after {text}", text=shown(near))
        raise unreadable(file, found, Phrase("whole ones")) from None
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
    try:
        held = _Held.model_validate_json(text)
    except ValidationError as problem:
        place = problem.errors(include_url=False)[0]["loc"]
        found = Phrase("something else") if place[0] in data else NO_KEY
        dotted = ".".join(map(str, place[:2]))
        raise _fault(file, dotted, found, _WANTED[str(place[0])]) from None
    for section, key in (("site", "loads"), ("site", "catalog"), ("outages", "log")):
        if isinstance(held.site.get(section), dict) and key in held.site[section]:
            wanted = Phrase("the table itself, under tables")
            raise _fault(file, f"{section}.{key}", Phrase("a path"), wanted)
    for name in held.tables:
        if name not in TABLES:
            wanted = one_of("a table", name, TABLES)
            raise _fault(file, f"tables.{name}", Phrase("an unknown table"), wanted)
    draft = Draft(held.site, held.tables)
    try:
        job = draft.job()  # the survey anew, so that editors find numbers as they write them
    except InputError as error:
        raise InputError(
            replace(one, file=Phrase("{file}, in it {part}", file=file, part=one.file))
            for one in error.faults
        ) from None
    return JobFile(draft.with_table("loads", loads_table(load_rows(job.loads))), held.kept)


def _no_constant(name: str) -> float:
    raise ValueError(name)


def _fault(file: str, place: str, found: str, wanted: Phrase) -> InputError:
    return InputError([Fault(file, None, place, found, wanted)])
