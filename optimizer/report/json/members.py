"""What JSON holds of a class: its fields as they say themselves, then its ``also`` properties.

Own code instead of a library: `msgspec` and `cattrs` read fields and rename keys, but know no
properties and no "only the name of that object", which half of our keys are; with them the
renaming would be a second set of classes or a hook for each class.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cache, cached_property
from typing import TYPE_CHECKING, Any, get_args, get_type_hints

from optimizer.model.shown import shown_of

if TYPE_CHECKING:
    from collections.abc import Iterator


@dataclass(frozen=True, slots=True)
class Member:
    """One key of an object: the path of attributes to its value, and the value's type."""

    key: str
    path: tuple[str, ...]
    hint: Any

    def of(self, value: object) -> object:
        """Return the member's value; None where something on the way is None."""
        for name in self.path:
            if value is None:
                break
            value = getattr(value, name)
        return value


@cache
def members(cls: type) -> tuple[Member, ...]:
    """Return the members of a dataclass in the order in which they are written."""
    return tuple(_members(cls))


def _members(cls: type) -> Iterator[Member]:
    hints = get_type_hints(cls, include_extras=True)
    for field in fields(cls):
        how = shown_of(field.metadata)
        if how.hide:
            continue
        hint = hints[field.name]
        if how.inline:
            taken = [(one.key, one.path, one.hint) for one in members(hint)]
        elif how.take:
            inner, optional = without_none(hint)
            by_key = {one.key: one for one in members(inner)}
            found = [by_key[name] for name in how.take]
            alone = (how.key or field.name) if len(found) == 1 else None
            taken = [
                (alone or one.key, one.path, one.hint | None if optional else one.hint)
                for one in found
            ]
        else:
            taken = [(how.key or field.name, (), hint)]
        for key, path, kind in taken:
            yield Member(key, (field.name, *path), kind)
    for name in getattr(cls, "also", ()):
        found = getattr(cls, name)
        getter = found.func if isinstance(found, cached_property) else found.fget
        yield Member(name, (name,), get_type_hints(getter, include_extras=True)["return"])


def without_none(hint: Any) -> tuple[Any, bool]:  # noqa: ANN401 - a type hint
    """Return a hint without its "or None", and whether it had one."""
    options = get_args(hint)
    inner = [one for one in options if one is not type(None)]
    if len(inner) == 1 and len(options) > 1:
        return inner[0], True
    return hint, False
