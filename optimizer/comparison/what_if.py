"""What-ifs: a job with other numbers, each a parameter of the comparison."""

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Final

from optimizer.comparison.parameters import SHARES, Parameter, Shape, Unit, what_if_parameters_of
from optimizer.errors import Fault, FaultKind, InputError
from optimizer.inputs.faults import one_of, shown
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase
from optimizer.model.warning import JobWarning, WarningKind

#: x2, +5, -20%, 0.12 and 12%.
_VALUE: Final = re.compile(r"([x×+\-−]?)\s*(\d+\.?\d*|\.\d+)\s*(%?)")
_TIMES: Final = frozenset("x×")
_LESS: Final = frozenset("-−")
#: A value may pass its bound by rounding alone.
_ROUNDING: Final = 1e-12


def changed(job: Job, changes: Mapping[str, float | str]) -> Job:
    """Return a job with other numbers, as `Job.what_if` describes."""
    known = {one.key: one for one in what_if_parameters_of(job)}
    named = {re.sub(r"\W", "_", key): key for key in known}
    faults: list[Fault] = []
    values: dict[str, float] = {}
    for word, wish in changes.items():
        key = named.get(word, word)
        value = None
        if key not in known:
            found, kind = word, FaultKind.UNKNOWN
            wanted = one_of("a number of the site", word, known)
        elif key in values:
            found, kind, wanted = word, FaultKind.TWICE, Phrase("each once")
        else:
            found, kind, wanted = shown(wish), FaultKind.VALUE, _wanted(known[key])
            value = _value(known[key], wish)
        if value is None:
            faults.append(Fault("options", None, key, found, wanted, kind))
        else:
            values[key] = value
    if faults:
        raise InputError(faults)
    for key, value in values.items():
        one = known[key]
        made = one.at(job, value)
        told = {
            "kind": one.kind.value,
            "family": one.family or "",
            "unit": one.unit.value,
            "now": one.base,
            "value": value,
        }
        warning = JobWarning(WarningKind.WHAT_IF, told)
        job = replace(made, warnings=(*made.warnings, warning))
    return job


def changes_of(words: Iterable[str]) -> dict[str, str]:
    """Return the changes that a command was told: each a name, a sign of equality, a value."""
    changes: dict[str, str] = {}
    faults: list[Fault] = []
    for word in words:
        name, equals, value = word.partition("=")
        if not equals:
            wanted = Phrase("NAME=VALUE such as outages=x2, rate=0.12 or price:lithium=-20%")
            faults.append(Fault("options", None, "--set", shown(word), wanted))
        elif name in changes:
            found, wanted = shown(name), Phrase("each once")
            faults.append(Fault("options", None, "--set", found, wanted, FaultKind.TWICE))
        changes[name.strip()] = value.strip()
    if faults:
        raise InputError(faults)
    return changes


def _value(one: Parameter, wish: float | str) -> float | None:
    """Return the value that is wished for, None where it is unreadable or out of range."""
    value = _read(one, wish) if isinstance(wish, str) else float(wish)
    if value is None or not math.isfinite(value):
        return None
    if one.shape is Shape.WHOLE and not value.is_integer():
        return None
    room = _ROUNDING * max(abs(one.low), abs(one.high))
    return value if one.low - room <= value <= one.high + room else None


def _read(one: Parameter, text: str) -> float | None:
    """Return a value in words; per cent are of the value as it stands, or the unit of a share."""
    found = _VALUE.fullmatch(text.strip())
    if found is None:
        return None
    sign, digits, percent = found.groups()
    number, of = float(digits), 1.0
    if percent:
        number, of = number / 100, 1.0 if one.unit in SHARES else one.base
    if one.unit is Unit.DEGC and (percent or sign in _TIMES):
        return None  # no temperature is twice another one
    if sign in _TIMES:
        return None if percent else one.base * number
    if not sign:
        return number * of
    return one.base + (-number if sign in _LESS else number) * of


def _wanted(one: Parameter) -> Phrase:
    low, high, now = (f"{number:.6g}" for number in (one.low, one.high, one.base))
    if one.unit is Unit.DEGC:
        return Phrase(
            "a number from {low} to {high} °C, or a change of {now} °C such as +1 or -1",
            low=low,
            high=high,
            now=now,
        )
    change = "x1.2, +2% or -2%" if one.unit in SHARES else "x1.2, +20% or -20%"
    return Phrase(
        "a number from {low} to {high}, or a change of {now} such as {change}",
        low=low,
        high=high,
        now=now,
        change=change,
    )
