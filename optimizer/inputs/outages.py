"""What the grid does: a log, a typed list or daily cuts → how often outages of each length come."""

from collections.abc import Sequence
from datetime import timedelta
from itertools import pairwise
from statistics import median
from typing import Final

from optimizer.errors import Fault
from optimizer.inputs.cells import overlapping, windows
from optimizer.inputs.faults import CONFLICT, MISSING, NO_KEY, hinted
from optimizer.inputs.records import read_records
from optimizer.inputs.rows import OutageRow, clocks_back
from optimizer.inputs.site_file import SiteFile
from optimizer.inputs.site_keys import YEAR_H
from optimizer.inputs.tables import Table, read_table
from optimizer.model.outages import LoggedOutage, Outages
from optimizer.model.phrase import Phrase
from optimizer.model.warning import JobWarning, WarningKind

_WEEK_H: Final = 168.0
_YEAR_DAYS: Final = 365.25
_FORMS: Final = ("log", "typed", "daily")
_COMPANIONS: Final = {"log": "log_years", "daily": "days_per_year"}


def read_outages(site: SiteFile, faults: list[Fault], warnings: list[JobWarning]) -> Outages | None:
    """Return the outages, or None with faults."""
    written = site.source.content.get("outages", {})
    given = [form for form in _FORMS if form in written] if isinstance(written, dict) else []
    if len(given) != 1:
        wanted = Phrase("one form: log with log_years, typed, or daily with days_per_year")
        found = Phrase("no outages") if not given else Phrase("{forms}", forms=", ".join(given))
        faults.append(site.fault("outages", found, wanted, CONFLICT if given else MISSING))
        return None
    form = given[0]
    for owner, key in _COMPANIONS.items():
        if owner == form and key not in written:
            faults.append(site.fault(f"outages.{key}", NO_KEY, kind=MISSING))
        elif owner != form and key in site.values:
            found = Phrase("it without {owner}", owner=owner)
            wanted = Phrase("{owner} with it, or neither", owner=owner)
            faults.append(site.fault(f"outages.{key}", found, wanted, CONFLICT))
    if form not in site.values:
        return None
    before = len(faults)
    outages = {"log": _logged, "typed": _typed, "daily": _daily}[form](site, faults)
    if outages is None or len(faults) > before:
        return None
    _warn(site, outages, warnings)
    return outages


def _logged(site: SiteFile, faults: list[Fault]) -> Outages | None:
    place = site.place("outages.log", faults)
    table = None if place is None else read_table(place, faults)
    records = [] if table is None else read_records(table, OutageRow, faults)
    if table is None or not records:
        return None
    offsets = [row for row, outage in records if outage.start.tzinfo is not None]
    if 0 < len(offsets) < len(records):
        rows = str(len(records) - len(offsets))
        found = Phrase("an offset from UTC, with {rows} rows that have none", rows=rows)
        wanted = Phrase("it in every row, or in none")
        faults.append(table.fault(offsets[0], "start", found, wanted, CONFLICT))
        return None
    ordered = sorted(records, key=lambda item: (item[1].start, item[1].end))
    faults += _overlaps(table, ordered)
    years = site.values.get("log_years")
    span = max(outage.end for _, outage in ordered) - ordered[0][1].start
    # A day's grace: three calendar years hold 1,095 or 1,096 days.
    if years is not None and span > timedelta(days=years * _YEAR_DAYS + 1):
        own = f"{span / timedelta(days=_YEAR_DAYS):.2f}"
        wanted = Phrase("at least the log's span, {years} years", years=own)
        faults.append(site.fault("outages.log_years", f"{years:g}", wanted, CONFLICT))
    log = tuple(_outage(record) for _, record in ordered)
    return Outages("log", log=log, log_years=years)


def _overlaps(table: Table, ordered: list[tuple[int, OutageRow]]) -> list[Fault]:
    """Return where an outage starts before the one before it has ended."""
    found = []
    last_row, last = ordered[0]
    for row, outage in ordered[1:]:
        if outage.start < last.end:
            said = Phrase(
                "{start}, before the outage of row {row} has ended",
                start=repr(outage.start.isoformat()),
                row=str(last_row),
            )
            wanted = Phrase("at or after {end}: outages do not overlap", end=last.end.isoformat())
            hint = clocks_back(outage.start, last.end)
            found.append(table.fault(row, "start", said, hinted(wanted, hint), CONFLICT))
        if outage.end > last.end:
            last_row, last = row, outage
    return found


def _outage(row: OutageRow) -> LoggedOutage:
    offset = row.start.utcoffset()
    start = row.start.replace(tzinfo=None)
    offset_h = None if offset is None else offset / timedelta(hours=1)
    return LoggedOutage(start, start + (row.end - row.start), offset_h)


def _typed(site: SiteFile, faults: list[Fault]) -> Outages | None:
    rows = site.values["typed"]
    total_h = sum(hours * times for hours, times in rows)
    if total_h > YEAR_H:
        found = Phrase("{hours} h of outages a year", hours=f"{total_h:g}")
        wanted = Phrase("no more hours than a year has")
        faults.append(site.fault("outages.typed", found, wanted))
        return None
    return Outages("typed", tuple((float(hours), float(times)) for hours, times in rows))


def _daily(site: SiteFile, faults: list[Fault]) -> Outages | None:
    cuts = tuple(cut for text in site.values["daily"] for cut in windows(text.strip()))
    if overlapping(cuts):
        found = Phrase("cuts that overlap")
        faults.append(site.fault("outages.daily", found, Phrase("cuts apart"), CONFLICT))
    return Outages("daily", daily=cuts, days_per_year=site.values.get("days_per_year"))


def _warn(site: SiteFile, outages: Outages, warnings: list[JobWarning]) -> None:
    usual_h = _weighted_median(outages.yearly)
    if usual_h > _WEEK_H:
        warnings.append(JobWarning(WarningKind.LONG_OUTAGES, {"hours": usual_h}))
    gaps_h = [
        (after.start - before.end).total_seconds() / 3600 for before, after in pairwise(outages.log)
    ]
    recharge_h = site.value("resilience.recharge_hours")
    if gaps_h and recharge_h > median(gaps_h):
        warnings.append(
            JobWarning(
                WarningKind.GAPS_TOO_SHORT,
                {"recharge_hours": recharge_h, "gap_hours": median(gaps_h)},
            )
        )


def _weighted_median(yearly: Sequence[tuple[float, float]]) -> float:
    half = sum(times for _, times in yearly) / 2
    passed = 0.0
    for hours, times in sorted(yearly):
        passed += times
        if passed >= half:
            return hours
    return 0.0
