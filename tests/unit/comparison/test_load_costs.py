"""What a load costs: the whole question asked again without it, or with it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from optimizer import choose, load, load_costs, staircase
from optimizer.report.grids.tiers import loads as grid
from optimizer.report.words.writer import Writer
from tests.unit import builders


def made(*loads, **changes):
    return builders.make_job(
        *loads,
        batteries=[
            builders.make_battery(max_parallel=4),
            builders.make_battery("Shale", capacity_ah=160.0, price=190.0, float_life_years=14.0),
        ],
        max_hours=6,
        **changes,
    )


LOADS = (
    builders.make_load("Fridge", 60.0),
    builders.make_load("Boiler", 40.0),
    builders.make_load("Circulator", 30.0, only_with="Boiler"),
    builders.make_load("Concentrator", 150.0, critical=True),
    builders.make_load("Heater", 400.0, tier="extra"),
)


@pytest.fixture(scope="module")
def job():
    return made(*LOADS)


@pytest.fixture(scope="module")
def costs(job):
    return load_costs(job, 4)


def alone(job, *names):
    """Least life-cycle and upfront cost of carrying some loads for 4 h, by other ways."""
    chosen = tuple(replace(one, tier="needed") for one in job.loads if one.load in names)
    job = replace(job, loads=chosen)
    first = next(step for step in staircase(job).steps if step.hours >= 4)
    return choose(job, hours=4).design.life_cycle_cost, first.design.upfront_cost


@pytest.mark.slow
def test_each_is_solved_again_without_it_or_with_it(job, costs):
    own = [one.load for one in job.loads if one.tier == "needed"]
    base = alone(job, *own)
    for one in costs:
        if one.carried:
            others = alone(job, *(name for name in own if name not in one.loads))
            expected = base[0] - others[0], base[1] - others[1]
        else:
            wider = alone(job, *own, *one.loads)
            expected = wider[0] - base[0], wider[1] - base[1]
        assert (one.life_cycle_cost, one.upfront_cost) == pytest.approx(expected)
    assert all(one.life_cycle_cost >= 0 and one.upfront_cost >= 0 for one in costs)
    assert max(one.life_cycle_cost for one in costs) > 0


def test_what_serves_together_goes_together_and_marks_are_told(costs):
    assert [(one.tier, one.loads, one.is_tier, one.carried, one.stays_on) for one in costs] == [
        ("needed", ("Fridge", "Boiler", "Circulator"), True, True, True),
        ("extra", ("Heater",), True, False, False),
        ("needed", ("Fridge",), False, True, False),
        ("needed", ("Boiler", "Circulator"), False, True, False),
        ("needed", ("Concentrator",), False, True, True),
        ("extra", ("Heater",), False, False, False),
    ]
    table = grid(Writer("EUR"), costs)
    assert any("not to be left out" in note for note in table.notes)
    assert [(row[0], row[1], row[-1]) for row in table.rows] == [
        ("needed", "what may go of it", False),
        ("extra", "all of it", False),
        ("needed", "Fridge", False),
        ("needed", "Boiler and Circulator", False),
        ("needed", "Concentrator", True),
        ("extra", "Heater", False),
    ]


def test_a_load_alone_costs_all_and_limits_of_money_hide_nothing():
    job = made(builders.make_load("Fridge", 60.0), budget=1.0)
    whole, single = load_costs(job, 4)
    free = choose(job.with_site(budget=None), hours=4).design
    assert whole.life_cycle_cost == single.life_cycle_cost == pytest.approx(free.life_cycle_cost)
    assert single.life_cycle_cost_without == 0.0


def test_what_only_fits_without_a_load_is_told_by_what_is_left():
    job = made(builders.make_load("Fridge", 60.0), builders.make_load("Oven", 1e5))
    oven = load_costs(job, 4)[-1]
    assert (oven.life_cycle_cost_with, oven.life_cycle_cost) == (None, None)
    assert oven.life_cycle_cost_without > 0
    assert grid(Writer("EUR"), load_costs(job, 4)).rows


@pytest.mark.slow
def test_a_load_may_cost_less_than_nothing_where_banks_must_serve_their_share():
    """The clinic's pump wears the first bank out in time for a cheaper start; one rule does it."""
    job = load("clinic")
    costs = load_costs(job, 6)
    assert next(one for one in costs if one.loads == ("Water pump",)).upfront_cost < 0
    notes = grid(Writer("EUR"), costs).notes
    assert any("be replaced before 50% of its life" in note for note in notes)
    free = load_costs(job.with_site(min_service_share=0.0), 6)
    assert all(one.upfront_cost >= 0 and one.life_cycle_cost >= 0 for one in free)
