"""Many sites: a folder of site folders, or a table of sites, each a copy of a site on disk."""

from collections.abc import Callable, Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import Final, NamedTuple

from optimizer.errors import Fault, InputError
from optimizer.files.place import Held, Place
from optimizer.files.reading import NO_FILE, unreadable
from optimizer.inputs.battery_rows import name_of
from optimizer.inputs.columns import Record, number, text, whole
from optimizer.inputs.demo import FOLDER, demo_names
from optimizer.inputs.faults import UNKNOWN, one_of, shown
from optimizer.inputs.load import load
from optimizer.inputs.records import read_records
from optimizer.inputs.tables import Table, read_table
from optimizer.model.job import LONGEST_HOURS, Job
from optimizer.model.phrase import Phrase
from optimizer.model.programme import PlannedSite
from optimizer.model.scaled import oftener, with_loads, with_longer_outages

#: The table of a folder of sites, where it has one.
_TABLES: Final = ("sites.csv", "sites.xlsx")


class SiteRow(Record):
    """A row of the table of sites."""

    site: str = name_of("site")
    like: str | None = text(
        "a site's folder or file, or a bundled demo",
        "whose loads, outages and prices it has; blank: the folder of its own name",
    )
    group: str | None = text("a name", "district or other group that it belongs to")
    people: float | None = number("", "served by it: its weight; blank: 1", ge=0, le=1e9)
    min_hours: int | None = whole(
        "h", "autonomy that it must get; blank: it may get nothing", ge=0, le=LONGEST_HOURS
    )
    catalog: str | None = text("a folder", "of its own price list; blank: that of its site")
    load_factor: float | None = number("", "all loads are so many times as large", gt=0, le=100)
    often_factor: float | None = number("", "outages come so many times as often", gt=0, le=100)
    long_factor: float | None = number("", "outages last so many times as long", gt=0, le=100)


class Unread(NamedTuple):
    """A site that could not be read: its name, and what is wrong."""

    name: str
    faults: tuple[Fault, ...]


def read_programme(sites: str | Path) -> tuple[PlannedSite | Unread, ...]:
    """Return all sites, in their order.

    ``sites`` is a table of sites (CSV or XLSX); a folder that holds ``sites.csv``, ``sites.xlsx``
    or one folder for each site; or the name of a bundled programme. InputError where the table
    itself has faults, there is no site, or money is in several currencies.
    """
    path = Path(sites)
    if not path.exists() and str(sites) in programme_names():
        path = FOLDER / str(sites)
    folder = path if path.is_dir() else path.parent
    if path.is_dir():
        table = next((path / name for name in _TABLES if (path / name).is_file()), None)
        rows = _rows_of_folder(path) if table is None else _rows_of_table(table)
    else:
        rows = _rows_of_table(path)
    copied = cache(load)  # many sites are copies of a few

    def original(row: SiteRow) -> Job:
        like = row.like or row.site
        place = folder / like
        catalog = None if row.catalog is None else folder / row.catalog
        return copied(like if not place.exists() and like in demo_names() else place, catalog)

    return _read(str(sites), rows, original)


def programme_from_table(file: str, raw: bytes, own: Job) -> tuple[PlannedSite | Unread, ...]:
    """Return the sites of a table that came without the folders beside it, as `read_programme`.

    ``file`` is what messages call it; ``own`` is what a site is like whose row names none, others
    may be like a bundled one.
    """
    known: dict[str, str | Path] = {name: name for name in demo_names()}
    for name in programme_names():
        known |= {path.parent.name: path.parent for path in (FOLDER / name).glob("*/site.toml")}
    copied = cache(load)

    def original(row: SiteRow) -> Job:
        if row.catalog is not None:
            wanted = Phrase("no folder: the price list is that of its site")
            raise InputError([Fault(file, None, "catalog", shown(row.catalog), wanted)])
        if row.like is None:
            return own
        if row.like not in known:
            wanted = one_of("a bundled site", row.like, known)
            raise InputError([Fault(file, None, "like", shown(row.like), wanted, UNKNOWN)])
        return copied(known[row.like])

    return _read(file, _rows_of_table(Held({file: raw}, file)), original)


def _read(
    file: str, rows: Sequence[SiteRow], original: Callable[[SiteRow], Job]
) -> tuple[PlannedSite | Unread, ...]:
    read: list[PlannedSite | Unread] = []
    currencies: set[str] = set()
    for row in rows:
        try:
            job = original(row)
            read.append(_site(row, job))
            currencies.add(job.site.currency)
        except InputError as error:
            read.append(Unread(row.site, error.faults))
    if len(currencies) > 1:
        found = Phrase("money in {currencies}", currencies=", ".join(sorted(currencies)))
        raise InputError([Fault(file, None, None, found, Phrase("one currency"))])
    return tuple(read)


def programme_names() -> tuple[str, ...]:
    """Return the names of the bundled programmes."""
    return tuple(sorted(path.parent.name for path in FOLDER.glob("*/sites.csv")))


def _rows_of_table(path: Place) -> list[SiteRow]:
    faults: list[Fault] = []
    table: Table | None = read_table(path, faults)
    rows = [] if table is None else read_records(table, SiteRow, faults, unique="site")
    if table is not None:
        faults += _spellings(table.file, rows)
    if faults:
        raise InputError(faults)
    return [row for _, row in rows]


def _spellings(file: str, rows: Sequence[tuple[int, SiteRow]]) -> Iterator[Fault]:
    """Yield groups that differ from an earlier one by their capitals alone: one by mistake two."""
    known: dict[str, tuple[int, str]] = {}
    for place, row in rows:
        if row.group:
            first, name = known.setdefault(row.group.casefold(), (place, row.group))
            if name != row.group:
                wanted = Phrase("{name}, as in row {first}", name=shown(name), first=first)
                yield Fault(file, place, "group", shown(row.group), wanted)


def _rows_of_folder(folder: Path) -> list[SiteRow]:
    names = sorted(path.parent.name for path in folder.glob("*/site.toml"))
    if not names:
        wanted = Phrase("sites.csv, sites.xlsx or a folder with site.toml for each site")
        raise unreadable(str(folder), NO_FILE, wanted)
    return [SiteRow(site=name) for name in names]


def _site(row: SiteRow, like: Job) -> PlannedSite:
    job = with_loads(like.with_site(name=row.site), row.load_factor or 1.0)
    job = oftener(job, row.often_factor or 1.0)
    job = with_longer_outages(job, row.long_factor or 1.0)
    return PlannedSite(
        name=row.site,
        group=row.group or "",
        people=1.0 if row.people is None else row.people,
        min_hours=row.min_hours or 0,
        job=job,
    )
