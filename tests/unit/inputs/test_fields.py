"""The facts about each field stand on the field, and nothing is left out."""

from __future__ import annotations

from dataclasses import fields

import pytest

from optimizer.inputs.columns import MONEY, Kind
from optimizer.inputs.fields import all_fields
from optimizer.model.job import GeneratorRules, Site

FIELDS = [(name, field) for name, known in all_fields().items() for field in known.values()]


@pytest.mark.parametrize(("name", "field"), FIELDS, ids=lambda one: getattr(one, "name", one))
def test_each_field_says_what_it_is_and_what_may_stand_there(name, field):
    assert field.help
    assert field.wanted
    if field.kind in {Kind.NUMBER, Kind.WHOLE} and field.unit:
        shown = field.unit.replace(MONEY, "in the site's currency")
        assert shown in field.wanted, name


@pytest.mark.parametrize(("name", "field"), FIELDS, ids=lambda one: getattr(one, "name", one))
def test_each_number_has_two_finite_limits(name, field):
    if field.kind in {Kind.NUMBER, Kind.WHOLE, Kind.SHARE, Kind.RATE} and field.limits:
        assert {"gt", "ge"} & set(field.limits), name
        assert {"lt", "le"} & set(field.limits), name
        assert all(abs(limit) <= 1e12 for limit in field.limits.values()), name


@pytest.mark.parametrize(("name", "field"), FIELDS, ids=lambda one: getattr(one, "name", one))
def test_limits_stand_in_the_words(name, field):
    for limit in field.limits.values():
        whole = float(limit).is_integer() and limit < 1e9
        plain = f"{limit:.0f}" if whole else f"{limit:g}".replace("e+", "e")
        shown = "0…1" if field.kind is Kind.SHARE and limit in {0, 1} else plain
        assert shown in field.wanted, name


def test_defaults_are_those_of_the_dataclasses():
    known = {key: field for _, section in SITE.items() for key, field in section.items()}
    for owner in (Site, GeneratorRules):
        for field in fields(owner):
            if field.name in known and isinstance(field.default, int | float):
                assert known[field.name].default == field.default, field.name


SITE = {name: known for name, known in all_fields().items() if name.startswith("[")}


def test_every_value_of_a_site_has_a_key():
    keys = {key for known in SITE.values() for key in known}
    made_of_several = {"seasons", "generator", "supply_voltage_v"}
    assert {field.name for field in fields(Site)} <= keys | made_of_several
