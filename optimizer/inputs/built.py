"""Checks on what code builds: a site's numbers against the facts that its file is read by."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from optimizer.errors import Fault, InputError
from optimizer.inputs.columns import columns_of
from optimizer.inputs.site_keys import SECTIONS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from optimizer.model.job import Job, Site

#: Keys whose field is called otherwise.
_FIELDS: Final[Mapping[str, str]] = {"supply.voltage_v": "supply_voltage_v"}


def checked(job: Job) -> Job:
    """Return the job, once every number of its site is in the range of its key.

    Raises
    ------
    InputError
        With every number that is not.

    Examples
    --------
    >>> from optimizer import load
    >>> checked(load("house").with_site(discount_rate=-2.0))
    Traceback (most recent call last):
    ...
    optimizer.errors.InputError: site, economics.discount_rate: found -2.0; wanted a number above \
-0.05 and below 0.5 a year, e.g. 0.03 for 3 %
    """
    faults = [
        Fault("site", None, f"{section}.{column.name}", repr(value), column.wanted)
        for section, model in SECTIONS.items()
        for column in columns_of(model).values()
        if column.kind.is_numeric
        and (value := _value(job.site, section, column.name)) is not None
        and not _within(value, column.limits)
    ]
    if faults:
        raise InputError(faults)
    return job


def _value(site: Site, section: str, key: str) -> float | None:
    found = getattr(site, _FIELDS.get(f"{section}.{key}", key), None)
    return found if isinstance(found, int | float) else None


def _within(value: float, limits: Mapping[str, float]) -> bool:
    holds = {
        "gt": lambda limit: value > limit,
        "ge": lambda limit: value >= limit,
        "lt": lambda limit: value < limit,
        "le": lambda limit: value <= limit,
    }
    return math.isfinite(value) and all(holds[name](limit) for name, limit in limits.items())
