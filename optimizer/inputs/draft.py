"""A job while it is being written: the site's sections and its tables, not yet checked."""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any, Final, Self

from optimizer.errors import Fault, InputError
from optimizer.files.place import Held
from optimizer.files.reading import read_bytes
from optimizer.inputs.catalog import find_table
from optimizer.inputs.cells import CellError, cell_text, parsed, window_text
from optimizer.inputs.columns import Kind, columns_of
from optimizer.inputs.demo import site_file
from optimizer.inputs.load import catalog_folder, job_from_data, load_job
from optimizer.inputs.price_tables import PRICE_TABLES
from optimizer.inputs.rows import LoadRow
from optimizer.inputs.site import read_site
from optimizer.inputs.tables import text_rows
from optimizer.model.job import Job, Load
from optimizer.model.outages import LoggedOutage
from optimizer.model.phrase import Phrase

#: Every table a draft may hold.
TABLES: Final = ("loads", "outages", *PRICE_TABLES)
LOAD_COLUMNS: Final = tuple(columns_of(LoadRow))

Rows = tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class RawTable:
    """A table as text, its column names first; ``file`` is what messages call it."""

    file: str
    rows: Rows

    def as_csv(self) -> bytes:
        """Return the table as a file that reads back the same."""
        out = io.StringIO(newline="")
        csv.writer(out).writerows(self.rows)
        return out.getvalue().encode()

    def records(self) -> list[dict[str, str]]:
        """Return the rows below the column names, by these."""
        return [dict(zip(self.rows[0], row, strict=False)) for row in self.rows[1:]]


@dataclass(frozen=True)
class Draft:
    """A job as it is edited: nothing in it needs to be right yet.

    ``site`` holds the site file's sections as TOML gives them, without the paths of other files;
    ``tables`` by name the loads, the outages where a log is kept, and the price list's.
    """

    site: Mapping[str, Any]
    tables: Mapping[str, RawTable]

    def job(self) -> Job:
        """Return the job that it makes; InputError with every fault, named by its own file."""
        data: dict[str, Any] = {
            name: dict(section) if isinstance(section, dict) else section
            for name, section in self.site.items()
        }
        files = {f"{name}.csv": table.as_csv() for name, table in self.tables.items()}
        for section, key, name in (("site", "loads", "loads"), ("outages", "log", "outages")):
            if name in self.tables and isinstance(data.get(section, {}), dict):
                data.setdefault(section, {})[key] = f"{name}.csv"
        try:
            return job_from_data(data, Held(files))
        except InputError as error:
            names = {f"{name}.csv": table.file for name, table in self.tables.items()}
            raise InputError(
                replace(fault, file=names.get(fault.file, fault.file)) for fault in error.faults
            ) from None

    def with_site(self, section: str, key: str, value: object) -> Self:
        """Return the draft with one key of the site changed, or taken out where None."""
        others = {name: held for name, held in self.site.get(section, {}).items() if name != key}
        return self.with_section(section, others if value is None else {**others, key: value})

    def with_section(self, section: str, keys: Mapping[str, Any] | None) -> Self:
        """Return the draft with another content of one section of the site, or without it."""
        others = {name: held for name, held in self.site.items() if name != section}
        return replace(self, site=others if keys is None else {**self.site, section: dict(keys)})

    def with_table(self, name: str, table: RawTable | None) -> Self:
        """Return the draft with one table changed, or taken out where None."""
        others = {other: held for other, held in self.tables.items() if other != name}
        return replace(self, tables=others if table is None else {**self.tables, name: table})


def draft_from_files(site: str | Path, catalog: str | Path | None = None) -> Draft:
    """Return the draft of a site as `load` finds it; InputError with every fault of every file.

    Loads and the outage log are written out anew, in full precision; the price list stays as it
    stands in its files, notes included.
    """
    path = site_file(site)
    job = load_job(path, catalog)
    faults: list[Fault] = []
    read = read_site(path, faults)
    folder = catalog_folder(read, catalog, faults)
    if read is None or folder is None:
        raise InputError(faults)
    data = dict(read.source.content)
    data["site"] = {k: v for k, v in data["site"].items() if k not in {"loads", "catalog"}}
    data["outages"] = {k: v for k, v in data["outages"].items() if k != "log"}
    tables = {"loads": loads_table(load_rows(job.loads))}
    if job.outages.form == "log":
        tables["outages"] = log_table(job.outages.log)
    for name in PRICE_TABLES:
        for file in find_table(folder, name):
            tables[name] = raw_table(file.name, read_bytes(file, Phrase("a CSV or XLSX file")))
    return Draft(data, tables)


def raw_table(file: str, raw: bytes) -> RawTable:
    """Return a CSV or XLSX file as text; InputError where the bytes are no table."""
    return RawTable(file, tuple(map(tuple, text_rows(file, raw))))


def load_rows(loads: Iterable[Load]) -> list[dict[str, Any]]:
    """Return loads as rows of plain values under the survey's column names."""
    return [
        {
            "load": load.load,
            "tier": load.tier,
            "count": load.count,
            "running_w": load.running_w,
            "power_factor": load.power_factor,
            "starting_w": None if load.starting_w == load.running_w else load.starting_w,
            "hours": ";".join(window_text(window) for window in load.windows),
            "duty": load.duty,
            "seasons": ";".join(f"{k}:{_text(v)}" for k, v in load.season_multipliers.items()),
            "critical": load.critical,
            "never_off": load.never_off,
            "with": load.only_with or "",
        }
        for load in loads
    ]


def loads_table(rows: Iterable[Mapping[str, Any]]) -> RawTable:
    """Return the survey of rows such as `load_rows` gives."""
    body = tuple(tuple(_text(row.get(name)) for name in LOAD_COLUMNS) for row in rows)
    return RawTable("loads", (LOAD_COLUMNS, *body))


def log_table(log: Sequence[LoggedOutage]) -> RawTable:
    """Return an outage log as a table."""

    def text(moment: datetime, offset_h: float | None) -> str:
        zone = None if offset_h is None else timezone(timedelta(hours=offset_h))
        return moment.replace(tzinfo=zone).isoformat()

    body = tuple(
        (text(one.start, one.utc_offset_h), text(one.end, one.utc_offset_h)) for one in log
    )
    return RawTable("outages", (("start", "end"), *body))


def _text(value: object) -> str:
    """Return a cell; blank for no, and for NaN, a spreadsheet's empty number."""
    return "" if value is False or value != value else cell_text(value)  # noqa: PLR0124 - NaN alone


def survey_rows(table: RawTable) -> list[dict[str, Any]]:
    """Return the rows of a survey written by `loads_table`; what is no number is None."""
    facts = columns_of(LoadRow)
    return [
        dict.fromkeys(LOAD_COLUMNS)
        | {name: _plain(facts[name].kind, cell) for name, cell in cells.items() if name in facts}
        for cells in table.records()
    ]


def _plain(kind: Kind, cell: str) -> object:
    """Return what a cell says; blank, or nothing that can be read, is no number and no tick."""
    if not kind.is_numeric and kind is not Kind.FLAG:
        return cell
    try:
        return parsed(kind, cell, comma=False)
    except CellError:
        return False if kind is Kind.FLAG else None
