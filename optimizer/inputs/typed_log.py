"""Lines that a person types or pastes → an outage log: start and end, or start and how long."""

import re
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from typing import Final

from optimizer.inputs.cells import CellError
from optimizer.inputs.draft import RawTable
from optimizer.model.phrase import Phrase

_ISO: Final = r"\d{4}-\d{1,2}-\d{1,2}[T ]+\d{1,2}:\d{2}(?::\d{2})?(?:[+-]\d{2}:\d{2})?"
_OTHER: Final = r"\d{1,2}[./]\d{1,2}[./]\d{4},? +\d{1,2}:\d{2}"
_BETWEEN: Final = r"(?:\s*[–—;,\t-]\s*|\s+(?:to|until)\s+|\s+)"
_LINE: Final = re.compile(
    rf"(?P<start>{_ISO}|{_OTHER}){_BETWEEN}"
    rf"(?:(?P<end>{_ISO}|{_OTHER})"
    r"|(?P<clock>\d{1,2}:\d{2})|(?P<long>\d+(?:[.,]\d+)?)\s*(?P<unit>h|hours?|min|minutes?))"
)
_STROKES: Final = re.compile(r"(\d{1,2})/(\d{1,2})/\d{4}")
_DAY: Final = timedelta(days=1)

#: Seconds of a moment that say nothing.
_NO_SECONDS: Final = re.compile(r"(?<=^\d\d:\d\d):00(?![.,])")


def typed_log(text: str) -> RawTable:
    """Return the log that was typed, one outage a line.

    Lines are such as ``2026-01-31 17:40 – 20:10`` (an end before the start is of the next day),
    ``31.01.2026 17:40 – 01.02.2026 6:00`` or ``2026-01-31 17:40 2.5 h``. CellError where one is
    none of these, or dates with strokes could be read either way.

    >>> typed_log("31.01.2026 23:40 - 1:10").rows[1]
    ('2026-01-31T23:40:00', '2026-02-01T01:10:00')
    """
    lines = [(row, line.strip()) for row, line in enumerate(text.splitlines(), start=1)]
    found = [(row, line, _LINE.fullmatch(line)) for row, line in lines if line]
    if not found:
        raise CellError(Phrase("at least one outage"))
    for row, line, match in found:
        if match is None:
            raise _line(row, line)
    day_first = _day_first([pair for _, line, _ in found for pair in _STROKES.findall(line)])
    body = []
    for row, line, match in found:
        assert match is not None
        try:
            body.append(tuple(one.isoformat() for one in _ends(match, day_first=day_first)))
        except (ValueError, OverflowError):  # no such day; an end beyond the calendar
            raise _line(row, line) from None
    return RawTable("outages", (("start", "end"), *body))


def log_text(log: Iterable[Sequence[str]]) -> str:
    """Return rows of a log as lines that `typed_log` reads back.

    >>> log_text([("2026-01-31T17:40:00", "2026-01-31T20:10:30")])
    '2026-01-31 17:40 – 2026-01-31 20:10:30'
    """
    return "\n".join(" – ".join(map(_legible, row)) for row in log)


def _legible(moment: str) -> str:
    """Return a moment with a blank, and without seconds where there are none."""
    day, _, clock = moment.partition("T")
    return f"{day} {_NO_SECONDS.sub('', clock, count=1)}"


def _line(row: int, line: str) -> CellError:
    shown = line if len(line) <= 60 else f"{line[:59]}…"  # noqa: PLR2004 - as long as is legible
    return CellError(Phrase("line {row}, {line}, is none", row=str(row), line=repr(shown)))


def _day_first(pairs: list[tuple[str, str]]) -> bool:
    """Return whether dates with strokes name the day first: some day above 12 tells."""
    first, second = (any(int(pair[place]) > 12 for pair in pairs) for place in (0, 1))  # noqa: PLR2004 - months
    if pairs and first == second:
        raise CellError(
            Phrase(
                "dates that can be read one way: 2026-01-31 or 31.01.2026, not {a}/{b}/…",
                a=int(pairs[0][0]),
                b=int(pairs[0][1]),
            )
        )
    return first


def _ends(match: re.Match[str], *, day_first: bool) -> tuple[datetime, datetime]:
    start = _moment(match["start"], day_first=day_first)
    if match["end"]:
        return start, _moment(match["end"], day_first=day_first)
    if match["clock"]:
        hour, minute = map(int, match["clock"].split(":"))
        end = start.replace(hour=hour % 24, minute=minute, second=0) + _DAY * (hour == 24)  # noqa: PLR2004 - midnight
        return start, end if end > start else end + _DAY
    hours = float(match["long"].replace(",", "."))
    return start, start + timedelta(hours=hours / (60 if match["unit"].startswith("m") else 1))


def _moment(text: str, *, day_first: bool) -> datetime:
    plain = re.sub(r"[T,\s]+", " ", text)
    date, clock = plain.split(" ", 1)
    if "-" in date:
        year, month, day = date.split("-")
    else:
        first, second, year = re.split("[./]", date)
        day, month = (first, second) if "." in date or day_first else (second, first)
    hour, rest = clock.split(":", 1)
    return datetime.fromisoformat(f"{year}-{int(month):02}-{int(day):02}T{int(hour):02}:{rest}")
