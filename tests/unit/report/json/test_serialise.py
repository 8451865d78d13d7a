"""Results as plain data, and the schema that tells what they look like."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass, field, make_dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum
from typing import ClassVar, Literal

import jsonschema
import numpy as np
import pytest

from optimizer.model.shown import Unbounded, shown
from optimizer.report.json.schema import schema_of
from optimizer.report.json.serialise import VERSION, output, to_data


class Colour(StrEnum):
    RED = "red"
    DARK = "dark_red"


@dataclass(frozen=True, slots=True)
class Wheel:
    """A wheel.

    Parameters
    ----------
    size_mm, mass_kg : float
        Across, and what it weighs.
    name : str
        Its name.
    """

    size_mm: float
    mass_kg: float
    name: str = "front"


@dataclass(frozen=True, slots=True)
class Cart:
    """A cart with wheels."""

    also: ClassVar[tuple[str, ...]] = ("doubled", "life")

    colour: Colour
    wheel: Wheel = field(metadata=shown(take=("name",)))
    spare: Wheel | None = field(metadata=shown("kept", take=("name",)))
    side: Wheel = field(metadata=shown(take=("size_mm", "mass_kg")))
    parts: tuple[Wheel, ...]
    pair: tuple[int, str]
    by_name: Mapping[str, Wheel]
    kind: Literal["hand", "horse"]
    bought: date
    seen: datetime
    price: Decimal
    secret: object = field(default=None, metadata=shown(hide=True))
    load: float | None = None

    @property
    def doubled(self) -> bool:
        return len(self.parts) == 2

    @property
    def life(self) -> Unbounded:
        return math.inf


@dataclass(frozen=True)
class Shipment:
    """All of a cart, beside its place."""

    place: str
    cart: Cart = field(metadata=shown(inline=True))


WHEEL = Wheel(600.0, 5.5)
CART = Cart(
    Colour.DARK,
    WHEEL,
    None,
    WHEEL,
    (WHEEL, WHEEL),
    (3, "x"),
    {"left": WHEEL},
    "hand",
    date(2026, 1, 31),
    datetime(2026, 1, 31, 6, 30),
    Decimal("12.50"),
    secret=object(),
)
PLAIN_WHEEL = {"size_mm": 600.0, "mass_kg": 5.5, "name": "front"}
PLAIN_CART = {
    "colour": "dark_red",
    "wheel": "front",
    "kept": None,
    "size_mm": 600.0,
    "mass_kg": 5.5,
    "parts": [PLAIN_WHEEL, PLAIN_WHEEL],
    "pair": [3, "x"],
    "by_name": {"left": PLAIN_WHEEL},
    "kind": "hand",
    "bought": "2026-01-31",
    "seen": "2026-01-31T06:30:00",
    "price": 12.5,
    "load": None,
    "doubled": True,
    "life": None,
}


def test_a_result_as_plain_data():
    assert to_data(CART) == PLAIN_CART
    assert json.loads(json.dumps(to_data(CART), allow_nan=False)) == PLAIN_CART


def test_an_object_whose_keys_stand_beside_the_others():
    assert output(Shipment("yard", CART)) == {"version": VERSION, "place": "yard", **PLAIN_CART}


def test_arrays_are_lists_and_odd_things_are_refused():
    assert to_data(np.array([[1.0, math.nan]])) == [[1.0, None]]
    assert to_data({Colour.RED: frozenset({1})}) == {"red": [1]}
    with pytest.raises(TypeError, match="JSON has no form"):
        to_data(object())


def test_the_schema_is_one_and_fits():
    schema = schema_of(Shipment)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(output(Shipment("yard", CART)), schema)
    assert schema["properties"]["version"] == {"const": VERSION}
    assert schema["$defs"]["Wheel"]["properties"]["mass_kg"]["description"].startswith("Across")
    assert schema["$defs"]["Wheel"]["description"] == "A wheel."


@pytest.mark.parametrize(
    ("key", "wrong"),
    [
        ("colour", "blue"),
        ("wheel", None),
        ("kept", 3),
        ("parts", [3]),
        ("pair", [3, "x", 4]),
        ("by_name", {"left": 1}),
        ("kind", "ox"),
        ("price", "12.50"),
        ("doubled", 1),
        ("life", "long"),
        ("secret", 1),
    ],
)
def test_what_does_not_fit_is_refused(key, wrong):
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**output(Shipment("yard", CART)), key: wrong}, schema_of(Shipment))


def test_classes_of_one_name_stand_apart():
    other = make_dataclass("Wheel", [("spokes", int)], frozen=True)
    other.__module__ = "shop.bicycles"
    pair = make_dataclass("Pair", [("one", Wheel), ("other", other)], frozen=True)
    schema = schema_of(pair)
    assert set(schema["$defs"]) == {"Wheel", "bicycles.Wheel"}
    jsonschema.validate(output(pair(WHEEL, other(32))), schema)


def test_every_key_is_always_there():
    data = output(Shipment("yard", CART))
    for key in data:
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate({k: v for k, v in data.items() if k != key}, schema_of(Shipment))
