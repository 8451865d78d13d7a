"""How a column or a key is declared: its kind, its limits, and what would be right, in words."""

# ruff: noqa: ANN401 - pydantic's Field is typed as Any, so what wraps it is too

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel, ConfigDict, Field

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

#: A rule between columns that a record breaks: (column, what would be right).
Broken = tuple[str, str]


class Record(BaseModel):
    """A row of a table or a section of the site file: strict, finite, unchangeable."""

    model_config = ConfigDict(strict=True, frozen=True, allow_inf_nan=False, extra="forbid")

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the record breaks; none unless a model has some."""
        yield from ()


@dataclass(frozen=True, slots=True)
class Column:
    """What is known about one column: how to read it and what would be right."""

    name: str
    kind: str
    wanted: str
    required: bool


@lru_cache
def columns_of(model: type[Record]) -> Mapping[str, Column]:
    """Return the columns that a model declares, in its order."""
    found = {}
    for name, info in model.model_fields.items():
        extra = info.json_schema_extra
        assert isinstance(extra, dict), name  # every field is made by `declare`
        shown = info.alias or name
        found[shown] = Column(shown, str(extra["kind"]), str(extra["wanted"]), info.is_required())
    return found


def declare(kind: str, wanted: str, default: Any = ..., **limits: Any) -> Any:
    """Return a field of some kind with its words.

    Parameters
    ----------
    kind : str
        A key of `optimizer.inputs.cells.PARSERS`.
    wanted : str
        What would be right, as the message says it.
    default : object
        The value of an empty cell; required without.
    **limits : float or str
        ``gt``, ``ge``, ``lt``, ``le``, ``min_length``, ``pattern``: pydantic's own names.
    """
    return Field(default, json_schema_extra={"kind": kind, "wanted": wanted}, **limits)


def between(
    gt: float | None = None,
    ge: float | None = None,
    lt: float | None = None,
    le: float | None = None,
) -> str:
    """Return limits in words.

    >>> between(gt=0, le=1.6), between(ge=1), between(ge=0.5, lt=1)
    ('above 0 and at most 1.6', 'of at least 1', 'from 0.5 to below 1')
    """
    if ge is not None and le is not None:
        return f"from {ge:g} to {le:g}"
    if ge is not None and lt is not None:
        return f"from {ge:g} to below {_plain(lt)}"
    words = []
    if gt is not None:
        words.append(f"above {gt:g}")
    if ge is not None:
        words.append(f"of at least {ge:g}")
    if lt is not None:
        words.append(f"below {_plain(lt)}")
    if le is not None:
        words.append(f"at most {_plain(le)}")
    return " and ".join(words)


def _plain(limit: float) -> str:
    return f"{limit:.0f}" if float(limit).is_integer() else f"{limit:g}"


def number(unit: str, *, default: Any = ..., **limits: float) -> Any:
    """Declare a number with its unit and limits."""
    words = " ".join(word for word in ("a number", between(**limits), unit) if word)
    return declare("number", words, default, **limits)


def whole(unit: str, *, default: Any = ..., **limits: float) -> Any:
    """Declare a whole number with its unit and limits."""
    words = " ".join(word for word in ("a whole number", between(**limits), unit) if word)
    return declare("whole", words, default, **limits)


def share(*, default: Any = ..., **limits: float) -> Any:
    """Declare a share of one; people are prone to write percent."""
    words = "a share of 0…1"
    if limits != {"ge": 0, "le": 1}:
        words += f", {between(**limits)}"
    return declare("share", f"{words}, e.g. 0.4 for 40 %", default, **limits)


def rate(*, default: Any = ..., **limits: float) -> Any:
    """Declare a yearly rate of growth or interest."""
    wanted = f"a number {between(**limits)} a year, e.g. 0.03 for 3 %"
    return declare("rate", wanted, default, **limits)


def text(what: str, *, default: Any = ...) -> Any:
    """Declare a text."""
    return declare("text", what, default)
