"""Any result as plain data: dictionaries, lists, text, numbers, true, false and null."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from typing import TYPE_CHECKING, Any

from optimizer.report.json.members import members, without_none

if TYPE_CHECKING:
    from optimizer.model.supposed import Supposition

#: Counts up when a key changes its meaning or goes; more keys may come within a version.
VERSION = 1

Data = Any


def to_data(value: object, hint: object = None) -> Data:
    """Return a result as plain data; a number without bound becomes null.

    Where ``hint`` is a class, an object of a class beneath it is written as that class says.

    Examples
    --------
    >>> from optimizer.model.job import Season
    >>> to_data(Season("winter", (12, 1, 2)))
    {'name': 'winter', 'months': [12, 1, 2]}
    """
    if value is None or isinstance(value, str | bool | int):
        return value.value if isinstance(value, Enum) else value
    if isinstance(value, float | Decimal):
        return float(value) if math.isfinite(value) else None
    if isinstance(value, date):
        return value.isoformat()
    pairs = None
    if is_dataclass(value):
        kind, _ = without_none(hint)
        cls: type = kind if is_dataclass(kind) else type(value)  # type: ignore[assignment] # a class
        pairs = ((one.key, one.of(value), one.hint) for one in members(cls))
    elif isinstance(value, Mapping):
        pairs = ((str(to_data(key)), one, None) for key, one in value.items())
    if pairs is not None:
        return {key: to_data(one, kind) for key, one, kind in pairs}
    if isinstance(value, Iterable):
        return [to_data(one) for one in value]
    raise TypeError(f"JSON has no form for {type(value)}")


def output(value: object, supposed: Iterable[Supposition] | None = None) -> dict[str, Data]:
    """Return what a command prints: the version of the format first, then the result's keys.

    Of a site what is supposed of it stands between them.
    """
    told = {} if supposed is None else {"supposed": to_data(supposed)}
    return {"version": VERSION, **told, **to_data(value)}
