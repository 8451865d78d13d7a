"""Curves at rest: a file of SQLite, each curve under the hash of all that it was made from.

It holds figures and names from price lists, no site's name, no people, nothing secret; a curve is
written in one transaction as soon as it is known, so that a kill loses none that was finished.
"""

import hashlib
import json
import os
import sqlite3
from contextlib import closing
from dataclasses import asdict
from functools import cache
from pathlib import Path
from typing import Any

from optimizer.comparison.first_purchases import FirstPurchase
from optimizer.errors import Fault, InputError
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase
from optimizer.programme.curves import Asked, Scenario, Service, SiteCurve, SitePoint

#: Longest wait for another process that writes [s].
_PATIENCE_S = 30.0
_TABLE = "CREATE TABLE IF NOT EXISTS curves (inputs TEXT PRIMARY KEY, curve TEXT NOT NULL)"


def usual_store() -> Path:
    """Return where curves rest where nobody says: the user's folder for what can be made again."""
    known = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    return Path(known or Path.home() / ".cache") / "keeplit" / "curves.sqlite"


def fingerprint(job: Job, asked: Asked) -> str:
    """Return the hash of all that a curve is made from: the job, what is asked, the program.

    A site's name changes nothing, so that equal sites share a curve.
    """
    told = f"{job.with_site(name='')!r}\n{asked!r}\n{_program()}"
    return hashlib.sha256(told.encode()).hexdigest()


@cache
def _program() -> str:
    """Return the hash of this program's own text: another one may find another curve."""
    rooms = Path(__file__).parents[1]
    found = hashlib.sha256()
    for room in ("model", "formulas", "engine", "simulate", "answers", "comparison", "programme"):
        for path in sorted((rooms / room).rglob("*.py")):
            found.update(path.read_bytes())
    return found.hexdigest()


class Store:
    """The curves that are known; the file is made where it is not there."""

    def __init__(self, path: Path) -> None:
        self._path = path
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            with closing(self._open()) as base, base:
                base.execute(_TABLE)
        except (OSError, sqlite3.Error) as problem:
            wanted = Phrase("a file of curves that keeplit wrote, or a new one")
            raise InputError([Fault(str(path), None, None, str(problem), wanted)]) from problem

    def get(self, inputs: str) -> SiteCurve | None:
        """Return a curve, None where it is not known or cannot be read."""
        with closing(self._open()) as base:
            row = base.execute("SELECT curve FROM curves WHERE inputs = ?", (inputs,)).fetchone()
        if row is None:
            return None
        try:
            return _curve(json.loads(row[0]))
        except (ValueError, TypeError, KeyError):
            return None

    def __setitem__(self, inputs: str, curve: SiteCurve) -> None:
        """Keep a curve."""
        text = json.dumps(asdict(curve))
        with closing(self._open()) as base, base:
            base.execute("INSERT OR REPLACE INTO curves VALUES (?, ?)", (inputs, text))

    def _open(self) -> sqlite3.Connection:
        return sqlite3.connect(self._path, timeout=_PATIENCE_S)


def _curve(data: dict[str, Any]) -> SiteCurve:
    return SiteCurve(
        nothing=_point(data["nothing"]), points=tuple(_point(one) for one in data["points"])
    )


def _point(data: dict[str, Any]) -> SitePoint:
    held = {
        **data,
        "bought": data["bought"] and FirstPurchase(**data["bought"]),
        "service": Service(**data["service"]),
        "scenarios": tuple((Scenario(one), Service(**got)) for one, got in data["scenarios"]),
    }
    for name in ("bought_later", "running"):
        held[name] = tuple((year, amount) for year, amount in data[name])
    return SitePoint(**held)
