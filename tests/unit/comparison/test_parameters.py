"""What a parameter makes of a job."""

from __future__ import annotations

from dataclasses import replace

import pytest

from optimizer.comparison.parameters import (
    Shape,
    parameter_named,
    parameters_of,
    sensitivity_parameters_of,
)
from optimizer.engine.curve import Search
from optimizer.errors import InputError
from tests.unit import builders

from .jobs import small_house


@pytest.mark.parametrize(
    "parameter", sensitivity_parameters_of(small_house()), ids=lambda parameter: parameter.key
)
def test_at_its_base_a_parameter_changes_nothing(parameter):
    job = small_house()
    assert parameter.at(job, parameter.base) is job
    changed = parameter.change(job, parameter.base)
    assert Search(changed).least(12) == pytest.approx(Search(job).least(12), abs=1e-6)


@pytest.mark.parametrize(
    "parameter",
    [
        *sensitivity_parameters_of(small_house()),
        *sensitivity_parameters_of(small_house(horizon_years=24, discount_rate=0.2)),
    ],
    ids=lambda parameter: f"{parameter.key}-{parameter.base:g}",
)
def test_the_doubt_and_the_base_lie_in_the_range(parameter):
    assert (
        parameter.low
        <= parameter.doubt[0]
        <= parameter.base
        <= parameter.doubt[1]
        <= parameter.high
    )


def test_outages_are_counted_by_the_year():
    job = small_house()
    parameter = parameter_named(job, "outages")
    assert parameter.at(job, 5.0).outages.times_a_year == pytest.approx(5.0)


def test_no_outages_no_parameter():
    keys = [parameter.key for parameter in parameters_of(builders.make_job(yearly=()))]
    assert "outages" not in keys
    assert "rate" in keys


def test_a_price_touches_its_family_only():
    job = small_house()
    changed = parameter_named(job, "price:lithium").at(job, 2.0)
    for old, new in zip(job.catalog.batteries, changed.catalog.batteries, strict=True):
        assert new.price == old.price * (2.0 if old.family == "lithium" else 1.0)


def test_a_mean_beyond_the_highest_takes_the_highest_along():
    job = small_house()
    parameter = parameter_named(job, "room")
    hot = parameter.at(job, 38.0).site
    assert (hot.min_degc, hot.mean_degc, hot.max_degc) == (job.site.min_degc, 38.0, 38.0)
    mild = parameter.at(job, 20.0).site
    assert mild.max_degc == job.site.max_degc
    assert parameter.low == job.site.min_degc


def test_no_battery_is_drawn_deeper_than_flat():
    job = small_house()
    changed = parameter_named(job, "depth:lithium").at(job, 1.5)
    depths = {one.max_dod for one in changed.catalog.batteries if one.family == "lithium"}
    assert depths == {1.0}


def test_an_unknown_key_is_no_parameter():
    with pytest.raises(InputError, match="price:unobtainium"):
        parameter_named(small_house(), "price:unobtainium")


def test_lives_are_stretched_of_one_family_and_one_kind_only():
    job = small_house()
    for key, name in (("float-life:lead", "float_life_years"), ("cycle-life:lead", "cycle_points")):
        changed = parameter_named(job, key).at(job, 0.5)
        for old, new in zip(job.catalog.batteries, changed.catalog.batteries, strict=True):
            assert (getattr(new, name) != getattr(old, name)) == (old.family == "lead")
            assert new == replace(old, **{name: getattr(new, name)})


def test_where_money_is_limited_a_price_may_rule_designs_out():
    shapes = {parameter_named(small_house(budget=b), "tariff").shape for b in (None, 4000.0)}
    assert shapes == {Shape.CONCAVE, Shape.ANY}
