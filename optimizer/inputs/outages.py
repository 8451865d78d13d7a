"""What the grid does: a log, a typed list or daily cuts → how often outages of each length come."""

from __future__ import annotations

from datetime import timedelta
from itertools import pairwise
from statistics import median
from typing import TYPE_CHECKING, Final

from optimizer.errors import Fault
from optimizer.inputs.cells import CellError, overlapping, windows
from optimizer.inputs.columns import columns_of
from optimizer.inputs.faults import shown
from optimizer.inputs.records import read_records
from optimizer.inputs.rows import OutageRow, clocks_back
from optimizer.inputs.site_keys import OutagesKeys
from optimizer.inputs.tables import read_table
from optimizer.model.job import LoggedOutage, Outages

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.inputs.site import SiteFile
    from optimizer.model.job import Window

_WEEK_H: Final = 168.0
_YEAR_H: Final = 8784.0  # a leap year
_YEAR_DAYS: Final = 365.25
_PAIR: Final = 2
_FORMS: Final = ("log", "typed", "daily")
_COMPANIONS: Final = {"log": "log_years", "daily": "days_per_year"}


def read_outages(site: SiteFile, faults: list[Fault], warnings: list[str]) -> Outages | None:
    """Return the outages, or None with faults.

    Parameters
    ----------
    site : SiteFile
        The site file.
    faults, warnings : list
        Take what is wrong and what is merely odd.
    """
    given = [form for form in _FORMS if form in site.values]
    already = any(
        (fault.column or "").removeprefix("outages.") in _FORMS
        for fault in faults
        if fault.file == site.file
    )
    if len(given) != 1:
        if given or not already:
            wanted = "one form: log with log_years, typed, or daily with days_per_year"
            found = " and ".join(given) or "no outages"
            faults.append(site.fault("outages", found, wanted))
        return None
    form = given[0]
    _check_companions(site, form, faults)
    before = len(faults)
    outages = {"log": _logged, "typed": _typed, "daily": _daily}[form](site, faults)
    if outages is None or len(faults) > before:
        return None
    _warn(site, outages, warnings)
    return outages


def _check_companions(site: SiteFile, form: str, faults: list[Fault]) -> None:
    for owner, key in _COMPANIONS.items():
        dotted = f"outages.{key}"
        if owner == form and key not in site.values:
            if not any(fault.column == dotted for fault in faults):
                faults.append(site.fault(dotted, "no such key", _words(key)))
        elif owner != form and key in site.values:
            faults.append(site.fault(dotted, f"it without {owner}", f"{owner} with it, or neither"))


def _words(key: str) -> str:
    return columns_of(OutagesKeys)[key].wanted


def _logged(site: SiteFile, faults: list[Fault]) -> Outages | None:
    table = read_table(site.folder / site.values["log"], faults)
    if table is None:
        return None
    records = read_records(table, OutageRow, faults)
    if table.bare:
        if not any(fault.file == table.file for fault in faults):
            faults.append(Fault(table.file, None, None, "no outage", "a row for each outage"))
        return None
    if not records:
        return None
    offsets = [row for row, outage in records if outage.start.tzinfo is not None]
    if 0 < len(offsets) < len(records):
        found = f"an offset from UTC, with {len(records) - len(offsets)} rows that have none"
        faults.append(Fault(table.file, offsets[0], "start", found, "it in every row, or in none"))
        return None
    ordered = sorted(records, key=lambda item: (item[1].start, item[1].end))
    last_row, last = ordered[0]
    for row, outage in ordered[1:]:
        if outage.start < last.end:
            found = f"{outage.start.isoformat()!r}, before the outage of row {last_row} has ended"
            wanted = f"at or after {last.end.isoformat()}: outages do not overlap"
            wanted += clocks_back(outage.start, last.end)
            faults.append(Fault(table.file, row, "start", found, wanted))
        if outage.end > last.end:
            last_row, last = row, outage
    years = site.values.get("log_years")
    span = last.end - ordered[0][1].start
    # A day's grace: three calendar years hold 1,095 or 1,096 days.
    if years is not None and span > timedelta(days=years * _YEAR_DAYS + 1):
        wanted = f"at least the log's span, {span / timedelta(days=_YEAR_DAYS):.2f} years"
        faults.append(site.fault("outages.log_years", f"{years:g}", wanted))
    log = tuple(_outage(record) for _, record in ordered)
    per_year = 1 / years if years else 0.0
    return Outages("log", tuple((outage.hours, per_year) for outage in log), log, years)


def _outage(row: OutageRow) -> LoggedOutage:
    offset = row.start.utcoffset()
    start = row.start.replace(tzinfo=None)
    offset_h = None if offset is None else offset / timedelta(hours=1)
    return LoggedOutage(start, start + (row.end - row.start), offset_h)


def _typed(site: SiteFile, faults: list[Fault]) -> Outages | None:
    rows = site.values["typed"]
    before = len(faults)
    wanted = "a list of [hours, times a year], each above 0 and at most 8784"
    for row in rows or [[]]:
        if len(row) != _PAIR or not all(0 < value <= _YEAR_H for value in row):
            found = shown(row) if rows else "an empty list"
            faults.append(site.fault("outages.typed", found, wanted))
    if len(faults) > before:
        return None
    total_h = sum(hours * times for hours, times in rows)
    if total_h > _YEAR_H:
        found = f"{total_h:g} h of outages a year"
        faults.append(site.fault("outages.typed", found, "no more hours than a year has"))
        return None
    return Outages("typed", tuple((float(hours), float(times)) for hours, times in rows))


def _daily(site: SiteFile, faults: list[Fault]) -> Outages | None:
    before = len(faults)
    cuts: list[Window] = []
    if not site.values["daily"]:
        faults.append(site.fault("outages.daily", "an empty list", _words("daily")))
    for text in site.values["daily"]:
        try:
            cuts.extend(windows(text.strip()))
        except CellError as problem:
            hint = f" ({problem})" if str(problem) else ""
            faults.append(site.fault("outages.daily", shown(text), _words("daily") + hint))
    if len(faults) == before and overlapping(cuts):
        faults.append(site.fault("outages.daily", "cuts that overlap", "cuts apart"))
    days = site.values.get("days_per_year")
    if len(faults) > before or days is None:
        return None
    yearly = tuple((end_h - start_h, days) for start_h, end_h in cuts)
    return Outages("daily", yearly, daily=tuple(cuts), days_per_year=days)


def _warn(site: SiteFile, outages: Outages, warnings: list[str]) -> None:
    usual_h = _weighted_median(outages.yearly)
    if usual_h > _WEEK_H:
        warnings.append(
            f"Half of all outages last {usual_h:g} h or more, over a week: were minutes taken for "
            "hours?"
        )
    gaps_h = [
        (after.start - before.end).total_seconds() / 3600 for before, after in pairwise(outages.log)
    ]
    recharge_h = site.values.get("recharge_hours", 24.0)
    if gaps_h and recharge_h > median(gaps_h):
        warnings.append(
            f"recharge_hours ({recharge_h:g} h) exceeds the usual gap in the outage log "
            f"({median(gaps_h):g} h): the next outage often finds the bank not yet full."
        )


def _weighted_median(yearly: Sequence[tuple[float, float]]) -> float:
    half = sum(times for _, times in yearly) / 2
    passed = 0.0
    for hours, times in sorted(yearly):
        passed += times
        if passed >= half:
            return hours
    return 0.0
