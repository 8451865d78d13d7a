"""The facts about a column or a key: kind, unit, range, default, help, and all of it in words.

They stand here once, on the field; file reader, page, ledger and the lists of fields read them.
"""

# ruff: noqa: ANN401 - pydantic's Field is typed as Any, so what wraps it is too

import math
import operator
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, dataclass, fields
from enum import StrEnum
from functools import lru_cache
from typing import Any, ClassVar, Final, get_args

from pydantic import BaseModel, ConfigDict, Field

from optimizer.inputs.faults import at_least
from optimizer.inputs.units import UNITS
from optimizer.model.phrase import Phrase, chain

#: A rule between columns that a record breaks: (column, what would be right).
Broken = tuple[str, Phrase]

#: Stands for the site's currency in a unit.
MONEY: Final = "{currency}"
#: Longest name, longest sentence or paragraph [characters]; most entries of a list.
NAME_CHARACTERS: Final = 200
PARAGRAPH_CHARACTERS: Final = 2_000
LIST_ENTRIES: Final = 1_000
#: From here on a limit is shown as a power of ten.
_WRITTEN_OUT: Final = 1e9
#: Least of any number that must be above 0.
LEAST: Final = 1e-9
#: Most of any sum of money, in the smallest currency there is.
_MONEY: Final = 1e12
_HOLDS: Final = {
    "gt": operator.gt,
    "ge": operator.ge,
    "lt": operator.lt,
    "le": operator.le,
}


class Kind(StrEnum):
    """How what stands in a column is read."""

    TEXT = "text"
    NUMBER = "number"
    SHARE = "share"
    RATE = "rate"
    WHOLE = "whole"
    FLAG = "flag"
    GAS = "gas"
    DAY = "day"
    MOMENT = "moment"
    POINTS = "points"
    DEPTHS = "depths"
    MULTIPLIERS = "multipliers"
    WINDOWS = "windows"
    LIST = "list"
    BY_NAME = "by_name"

    @property
    def is_numeric(self) -> bool:
        """Whether one plain number stands there."""
        return self in {Kind.NUMBER, Kind.SHARE, Kind.RATE, Kind.WHOLE}


class Record(BaseModel):
    """A row of a table or a section of the site file: strict, finite, unchangeable.

    What may be left out says so by its type, which admits None.
    """

    model_config = ConfigDict(
        strict=True, frozen=True, allow_inf_nan=False, extra="forbid", defer_build=True
    )
    #: The dataclass whose defaults hold for keys that are left out.
    defaults: ClassVar[Any] = None
    #: What a row stands for in the model, and for columns left open the other column or the value
    #: that holds instead.
    makes: ClassVar[Any] = None
    left_open: ClassVar[Mapping[str, str | float]] = {}

    @classmethod
    def __pydantic_init_subclass__(cls, **_: Any) -> None:
        for info in cls.model_fields.values():
            if type(None) in get_args(info.annotation):
                info.default = None

    def broken(self) -> Iterator[Broken]:
        """Yield the rules between columns that the record breaks."""
        for name, column in columns_of(type(self)).items():
            if column.least:
                value, least = (getattr(self, one, None) for one in (name, column.least))
                if value is not None and least is not None and value < least:
                    wanted = at_least(column.least, least, column.unit)
                    if not column.required:
                        wanted = Phrase("empty, or {least}", least=wanted)
                    yield name, wanted

    def made(self) -> Any:
        """Return what the row stands for in the model."""
        values = dict(self)
        for name, instead in self.left_open.items():
            if values[name] is None:
                values[name] = values.get(str(instead), instead)
        return self.makes(**values)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Column:
    """What is known about one column or key.

    ``unit`` holds ``{currency}`` for the site's; ``limits`` hold ``gt``, ``ge``, ``lt``, ``le`` as
    far as they apply. ``default`` is what holds where it is left out, None where nothing does, and
    ``source`` where that comes from. ``least`` names a column of the same row that it may not lie
    below. ``help`` says what it is, ``wanted`` what may stand there.
    """

    name: str
    kind: Kind
    unit: str = ""
    limits: Mapping[str, float]
    least: str = ""
    required: bool
    default: object = None
    help: Phrase
    wanted: Phrase
    source: str = ""

    @property
    def told(self) -> Phrase:
        """What it is, and what may stand there."""
        if self.help == self.wanted:
            return self.wanted
        return Phrase("{help}: {wanted}", help=self.help, wanted=self.wanted)

    def allows(self, value: float) -> bool:
        """Tell whether a number is finite, in range, and whole where it must be."""
        if not math.isfinite(value) or (self.kind is Kind.WHOLE and value % 1):
            return False
        return all(_HOLDS[name](value, limit) for name, limit in self.limits.items())


@lru_cache
def columns_of(model: type[Record]) -> Mapping[str, Column]:
    """Return the columns that a model declares: its own in its order, then those it shares."""
    usual = (
        {field.name: field.default for field in fields(model.defaults)} if model.defaults else {}
    )
    names = dict.fromkeys(
        name for part in model.__mro__ for name in vars(part).get("__annotations__", ())
    )
    found = {}
    for name in names:
        if name not in model.model_fields:
            continue
        info = model.model_fields[name]
        facts: dict[str, Any] = dict(info.json_schema_extra or {})  # type: ignore[arg-type] # as `declare` puts it
        if facts["default"] is None and usual.get(name) is not MISSING:
            facts["default"] = usual.get(name)
        shown = info.alias or name
        found[shown] = Column(name=shown, required=info.is_required(), **facts)
    return found


def declare(
    kind: Kind,
    wanted: str,
    help: str = "",
    *,
    unit: str = "",
    default: object = None,
    source: str = "",
    least: str = "",
    **limits: Any,
) -> Any:
    """Return a field with its facts."""
    facts: Any = {
        "kind": kind,
        "unit": unit,
        "limits": _limits(limits),
        "least": least,
        "default": default,
        "help": _phrase(help or wanted),
        "wanted": _phrase(wanted),
        "source": _phrase(source),
    }
    if kind in {Kind.LIST, Kind.BY_NAME}:
        limits.setdefault("max_length", LIST_ENTRIES)
    if limits.get("gt") == 0:  # what is smaller is none, and its inverse would be no number
        limits["gt"] = LEAST
    return Field(json_schema_extra=facts, **limits)


def _limits(facts: Mapping[str, Any]) -> dict[str, float]:
    return {name: facts[name] for name in _HOLDS if name in facts}


def _phrase(text: str) -> Phrase:
    return text if isinstance(text, Phrase) else Phrase(text.replace("{", "{{").replace("}", "}}"))


def between(
    gt: float | None = None,
    ge: float | None = None,
    lt: float | None = None,
    le: float | None = None,
) -> Phrase:
    """Return limits in words.

    >>> between(gt=0, le=1.6), between(ge=1), between(ge=0.5, lt=1)
    ('above 0 and at most 1.6', 'of at least 1', 'from 0.5 to below 1')
    """
    low, high = _plain(gt if ge is None else ge), _plain(lt if le is None else le)
    shapes = {
        (True, False, True, False): "from {low} to {high}",
        (True, False, False, True): "from {low} to below {high}",
        (False, True, True, False): "above {low} and at most {high}",
        (False, True, False, True): "above {low} and below {high}",
        (True, False, False, False): "of at least {low}",
        (False, True, False, False): "above {low}",
    }
    there = (ge is not None, gt is not None, le is not None, lt is not None)
    return Phrase(shapes.get(there, ""), low=low, high=high)


def _plain(limit: float | None) -> str:
    if limit is None:
        return ""
    is_short = float(limit).is_integer() and abs(limit) < _WRITTEN_OUT
    return f"{limit:.0f}" if is_short else f"{limit:g}".replace("e+", "e")


def _quantity(
    kind: Kind, what: str, unit: str, help: str, *, note: str, facts: Mapping[str, Any]
) -> Any:
    in_unit = unit.replace(MONEY, "in the site's currency")
    if not {"lt", "le"} & set(facts):
        facts = {**facts, "le": _MONEY if unit.startswith(MONEY) else UNITS[unit].most}
    if not {"gt", "ge"} & set(facts):
        facts = {**facts, "ge": -facts["le"]}
    if "least" in facts and not note:
        note = Phrase("and at least {key}", key=facts["least"])
    wanted = chain(Phrase(what), between(**_limits(facts)), _phrase(in_unit), _phrase(note))
    return declare(kind, wanted, help, unit=unit, **facts)


def number(unit: str, help: str, *, note: str = "", **facts: Any) -> Any:
    """Declare a number with its unit, what it is, its limits, and a note on what is right."""
    return _quantity(Kind.NUMBER, "a number", unit, help, note=note, facts=facts)


def whole(unit: str, help: str, *, note: str = "", **facts: Any) -> Any:
    """Declare a whole number likewise."""
    return _quantity(Kind.WHOLE, "a whole number", unit, help, note=note, facts=facts)


def share(help: str, **facts: Any) -> Any:
    """Declare a share of one; people are prone to write percent."""
    limits = _limits(facts)
    if limits == {"ge": 0, "le": 1}:
        wanted = Phrase("a share of 0…1, e.g. 0.4 for 40 %")
    else:
        wanted = Phrase("a share of 0…1, {limits}, e.g. 0.4 for 40 %", limits=between(**limits))
    return declare(Kind.SHARE, wanted, help, **facts)


def rate(help: str, **facts: Any) -> Any:
    """Declare a yearly rate of growth or interest."""
    limits = between(**_limits(facts))
    wanted = Phrase("a number {limits} a year, e.g. 0.03 for 3 %", limits=limits)
    return declare(Kind.RATE, wanted, help, unit="a year", **facts)


def text(what: str, help: str = "", **facts: Any) -> Any:
    """Declare a text."""
    return declare(Kind.TEXT, what, help, **facts)


def choice(of: Any, help: str = "", *, kind: Kind = Kind.TEXT) -> Any:
    """Declare one of the words that a type lists."""
    *others, last = get_args(of)
    return declare(kind, f"{', '.join(others)} or {last}", help)


def flag(help: str, **facts: Any) -> Any:
    """Declare a yes or no."""
    return declare(Kind.FLAG, "true or false", help, **facts)
