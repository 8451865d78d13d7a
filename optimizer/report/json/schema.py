"""The JSON Schema of a result, made from the same members that are written."""

from __future__ import annotations

import inspect
import re
import types
from collections.abc import Mapping
from datetime import date, datetime
from decimal import Decimal
from enum import Enum
from typing import Any, Literal, Union, get_args, get_origin

from optimizer.model.phrase import Phrase
from optimizer.model.shown import Unbounded
from optimizer.model.supposed import Supposition
from optimizer.report.json.members import members
from optimizer.report.json.serialise import VERSION

Schema = dict[str, Any]
#: What stands once for all: by name the class, and its schema.
Shared = dict[str, tuple[type, Schema]]

_SIMPLE: dict[object, Schema] = {
    type(None): {"type": "null"},
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: {"type": "number"},
    Decimal: {"type": "number"},
    str: {"type": "string"},
    Phrase: {"type": "string"},
    date: {"type": "string", "format": "date"},
    datetime: {"type": "string", "format": "date-time"},
}


def schema_of(result: type, *, of_a_site: bool = False) -> Schema:
    """Return the schema (JSON Schema 2020-12) of what `output` makes of a result."""
    shared: Shared = {}
    body = _object(result, shared)
    first = {"version": {"const": VERSION}}
    if of_a_site:
        first["supposed"] = _schema(tuple[Supposition, ...], shared)
    body["properties"] = {**first, **body["properties"]}
    body["required"] = [*first, *body["required"]]
    draft = "https://json-schema.org/draft/2020-12/schema"
    return {
        "$schema": draft,
        "title": result.__name__,
        **body,
        "$defs": {name: found for name, (_, found) in shared.items()},
    }


def _object(cls: type, shared: Shared) -> Schema:
    """Return the schema of a class; every key is always there, though it may be null."""
    about = _described(cls)
    properties: dict[str, Schema] = {}
    for one in members(cls):
        found = _schema(one.hint, shared)
        text = about.get(one.path[0]) if len(one.path) == 1 else None
        properties[one.key] = {**found, "description": text} if text else found
    return {
        "type": "object",
        "description": about[""],
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _schema(hint: Any, shared: Shared) -> Schema:  # noqa: ANN401 - a type hint
    """Return the schema of a type hint; classes and enums stand once, in ``shared``."""
    if hint in _SIMPLE:
        return dict(_SIMPLE[hint])
    if hint == Unbounded:
        return {"type": ["number", "null"]}
    origin, inner = get_origin(hint), get_args(hint)
    if origin in {Union, types.UnionType}:
        return {"anyOf": [_schema(one, shared) for one in inner]}
    if origin is Literal:
        return {"enum": list(inner)}
    if origin is not None:
        return _many(origin, inner, shared)
    name = hint.__name__
    if name in shared and shared[name][0] is not hint:  # two rooms may call a class the same
        name = f"{hint.__module__.rpartition('.')[2]}.{name}"
    if name not in shared:
        shared[name] = hint, {}  # a class may hold itself
        is_enum = issubclass(hint, Enum)
        found = {"enum": [one.value for one in hint]} if is_enum else _object(hint, shared)
        shared[name] = hint, found
    return {"$ref": f"#/$defs/{name}"}


def _many(origin: type, inner: tuple[Any, ...], shared: Shared) -> Schema:
    if origin is tuple and inner[-1:] != (...,):
        items = [_schema(one, shared) for one in inner]
        return {"type": "array", "prefixItems": items, "items": False, "minItems": len(items)}
    if issubclass(origin, Mapping):
        return {"type": "object", "additionalProperties": _schema(inner[1], shared)}
    return {"type": "array", "items": _schema(inner[0], shared)}


def _described(cls: type) -> dict[str, str]:
    """Return what a docstring in numpy's convention says of a class ("") and of its fields."""
    text = inspect.cleandoc(cls.__doc__ or "")
    summary, _, rest = text.partition("Parameters\n----------\n")
    found = {"": " ".join(summary.split("\n\n")[0].split())}
    for names, about in re.findall(r"^(\w[\w, ]*) : .*\n((?:    .*\n?)+)", rest, re.MULTILINE):
        for name in names.split(", "):
            found[name] = " ".join(about.split())
    return found
