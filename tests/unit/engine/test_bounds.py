"""The cuts made before the solver: each leaves the optimum where it is.

The witness is a program without any cut (`tests.plain_program`), and programs in which one cut
alone is undone.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from optimizer import load
from optimizer.engine.bounds import Bounds
from optimizer.engine.curve import Search
from optimizer.engine.options import Option, Period
from optimizer.engine.program import build_program
from optimizer.engine.solver import Status, solve
from optimizer.inputs.load import load_job
from optimizer.model.job import Work
from tests.plain_program import PlainProgram
from tests.unit.builders import make_battery, make_inverter, make_job, with_site

from .columns import columns

CASES = Path(__file__).parents[2] / "cases"
MONEY = 1e-4


@cache
def job_of(name):
    """A case, or a demo site over fewer years so that uncut programs stay small."""
    if name in {"house", "clinic"}:
        return _plainly_offered(load(name))
    return load_job(CASES / name / "site.toml")


def _plainly_offered(job):
    """The plain program knows neither variants nor boxes that hold battery and inverter."""
    catalog = job.catalog
    boxes = {one.built_into for one in catalog.batteries if one.built_into}
    batteries = tuple(one for one in catalog.batteries if not one.built_into)
    inverters = tuple(one for one in catalog.inverters if one.inverter not in boxes)
    offered = replace(job, catalog=replace(catalog, batteries=batteries, inverters=inverters))
    return with_site(offered, horizon_years=6, contracts=(), peaks=(), generator=None)


@cache
def candidates_of(name):
    return columns(job_of(name))


@cache
def plain_of(name):
    return PlainProgram(job_of(name))


def least_option(candidates, hours, budget=None, **cuts):
    options = Bounds(candidates, budget, **cuts).options(hours, math.inf)
    return min((option.cost for option in options), default=math.inf)


def solved(choices, solver, budget=None):
    program = build_program(choices, budget=budget)
    outcome = solve(program.problem, solver)
    if outcome.status is Status.NONE:
        return math.inf
    assert outcome.status is Status.PROVEN
    return outcome.objective * program.money_unit


PLACES = [("house", 4), ("house", 24), ("worked2", 12)]


@pytest.mark.slow
@pytest.mark.parametrize(("name", "hours"), PLACES)
def test_nothing_cut_at_all_costs_the_same(name, hours):
    """The shortest path's bound is the plain program's optimum."""
    assert plain_of(name).least(hours) == pytest.approx(
        least_option(candidates_of(name), hours), abs=MONEY
    )


@pytest.mark.slow
@pytest.mark.parametrize(("name", "hours"), [("house", 4), ("house", 24)])
def test_nothing_cut_costs_the_same_by_the_other_solver(name, hours):
    assert plain_of(name).least(hours, "highs") == pytest.approx(
        least_option(candidates_of(name), hours), abs=MONEY
    )


def choices_at(bounds, hours, **cuts):
    """Every set that the bounds keep and some chain may serve, with what it is served by."""
    horizon = bounds.candidates.job.site.horizon_years
    for set_index in range(len(bounds.candidates.sets)):
        if not any(set_index in group.sets for group in bounds.groups):
            continue
        choice = bounds.choice(Option(hours, 0, set_index, math.nan), **cuts)
        ends = {(one.start == 0, one.end == horizon) for one in choice.periods}
        if any(first for first, _ in ends) and any(last for _, last in ends):
            yield choice


@pytest.mark.slow
@pytest.mark.parametrize("solver", ["highs", "cbc"])
@pytest.mark.parametrize(("name", "hours"), [("house", 13), ("worked2", 12)])
def test_only_dominated_columns_cut(name, hours, solver):
    """Cuts 3 and 4 undone: every undominated set at several hours, every cheapest bank."""
    c = candidates_of(name)
    bounds = Bounds(c)
    at_hours = list(choices_at(bounds, hours))
    assert len(at_hours) > 1
    assert solved(at_hours, solver) == pytest.approx(least_option(c, hours), abs=MONEY)
    longer = job_of(name).site.max_hours
    more = [*at_hours, *choices_at(bounds, hours + 1), *choices_at(bounds, longer)]
    wanted = min(least_option(c, one) for one in (hours, hours + 1, longer))
    assert solved(more, solver) == pytest.approx(wanted, abs=MONEY)


@pytest.mark.parametrize("solver", ["highs", "cbc"])
@pytest.mark.parametrize(("name", "hours"), [("house", 4), ("house", 24), ("clinic", 9)])
def test_cut_1_every_set(name, hours, solver):
    c = candidates_of(name)
    choices = list(choices_at(Bounds(c, every_set=True), hours))
    assert len(choices) > len(list(choices_at(Bounds(c), hours)))  # there was something to cut
    assert solved(choices, solver) == pytest.approx(least_option(c, hours), abs=MONEY)


@pytest.mark.parametrize("solver", ["highs", "cbc"])
@pytest.mark.parametrize(("name", "hours"), [("house", 13), ("worked2", 4)])
def test_cut_2_every_bank(name, hours, solver):
    c = candidates_of(name)
    bounds = Bounds(c)
    (best,) = bounds.options(hours, math.inf)
    every, cheapest = bounds.choice(best, every_bank=True), bounds.choice(best)
    assert set(cheapest.periods) < set(every.periods)
    assert solved([every], solver) == pytest.approx(best.cost, abs=MONEY)
    assert solved([cheapest], solver) == pytest.approx(best.cost, abs=MONEY)


@pytest.mark.parametrize(("name", "hours"), [("house", 2), ("house", 20), ("worked2", 9)])
def test_cut_3_only_sets_within_the_limit_and_all_of_the_cheapest(name, hours):
    """Each set solved alone: the bounds name those of the least cost and its cost."""
    c = candidates_of(name)
    bounds = Bounds(c)
    alone = {one.option.set_index: solved([one], "highs") for one in choices_at(bounds, hours)}
    least = min(alone.values())
    cheapest = {index for index, cost in alone.items() if cost <= least + 1e-6}
    assert max(alone.values()) > least + 1  # there was something to cut
    for limit in (math.inf, least + 50, least):
        options = bounds.options(hours, math.inf, limit)
        assert {option.set_index for option in options} == cheapest
        assert [option.cost for option in options] == pytest.approx([least] * len(options))
    assert bounds.options(hours, math.inf, least - 0.01) == []


@pytest.mark.parametrize(("name", "hours"), [("house", 13), ("worked2", 12), ("worked2", 4)])
def test_cut_4_spans_on_no_cheapest_path_are_in_no_optimum(name, hours):
    """A program that must use one of the spans cut off costs more than the optimum."""
    c = candidates_of(name)
    bounds = Bounds(c)
    (best,) = bounds.options(hours, math.inf)
    every = bounds.choice(best)
    kept = bounds.choice(best, limit=best.cost + 1e-6)
    assert solved([kept], "highs") == pytest.approx(best.cost, abs=MONEY)
    dropped = [one for one in every.periods if one not in kept.periods]
    assert kept.periods
    assert dropped
    for one in dropped[:: max(1, len(dropped) // 8)]:
        around = [x for x in every.periods if x.end <= one.start or x.start >= one.end]
        program = build_program([every._replace(periods=(*around, one))])
        forced = program.problem.variablesDict()[f"bank_{len(around):05d}"]
        program.problem.addConstraint(forced == 1, "forced__0")
        outcome = solve(program.problem)
        assert outcome.status in {Status.PROVEN, Status.NONE}
        if outcome.status is Status.PROVEN:
            assert outcome.objective * program.money_unit > best.cost + 1e-6


@pytest.mark.slow
@pytest.mark.parametrize(("hours", "limit"), [(4, 400.0), (4, 1200.0), (13, 700.0)])
def test_a_limit_on_later_years_without_any_cut(hours, limit):
    """Over ten years, so that banks and the sets themselves are bought anew."""
    job = with_site(load_job(CASES / "worked" / "site.toml"), later_limit=limit)
    free = with_site(job, later_limit=None)
    search = Search(job)
    plain = PlainProgram(job).least(hours)
    assert plain == pytest.approx(least_option(search.candidates, hours), abs=MONEY)
    assert plain >= least_option(Search(free).candidates, hours) - MONEY
    design = search.cheapest(hours)
    assert design is None or design.life_cycle_cost == pytest.approx(search.least(hours))


def test_a_limit_on_later_years_met_exactly_and_a_cent_less():
    """Bank and set are bought anew in the same year: 100 and 500 with works of 11 and 30."""
    works = [
        Work("Lift", "battery_unit", 11.0, "swap"),
        Work("Refit", "inverter_unit", 30.0, "swap"),
    ]
    job = make_job(
        batteries=[make_battery(float_life_years=5.1, capacity_ah=110.0)],
        inverters=[make_inverter(max_units=1, life_years=5.0)],
        works=works,
        voltages=(12,),
        max_parallel=1,
        yearly=((1.0, 0.001),),
        min_service_share=1.0,
    )
    for limit, exists in ((641.0, True), (640.99, False)):
        limited = with_site(job, later_limit=limit)
        assert Search(limited).exists(4) == exists
        assert (PlainProgram(limited).least(4) < math.inf) == exists


# --- vented banks and money that is short -------------------------------------------------------

LOCKER = Work("Locker", "vented_bank", 150.0, "first")


def short_lived(name, price, **changes):
    return make_battery(name, price=price, float_life_years=6.0, **changes)


def short_of_money(**changes):
    """A sealed bank at 300 and a vented one at 290, each for some 5.9 years; set and cable 560.

    A first sealed bank and a later vented one is the cheapest chain with the locker's 150 paid at
    the start: 560 + 300 + 150 = 1010 at once. Prices of the sealed one rise, so that it is not
    bought again.
    """
    sealed = short_lived("Sealed", 300.0, price_drift=0.2)
    vented = short_lived("Vented", 290.0, gas="vented")
    return make_job(
        batteries=[sealed, vented],
        inverters=[make_inverter(max_units=1)],
        works=[LOCKER],
        voltages=(12,),
        max_parallel=1,
        yearly=((1.0, 1.0),),
        vented_allowed=True,
        **changes,
    )


def optimum(job, hours=4):
    """(cost, upfront, models) of the optimum, the same by the program and by the plain program."""
    design = Search(job).cheapest(hours)
    plain = min(PlainProgram(job).least(longer) for longer in range(hours, hours + 2))
    if design is None:
        assert plain == math.inf
        return None
    assert Search(job, solver="cbc").cheapest(hours) == design
    models = [bank.battery.battery for bank in design.banks]
    return design.life_cycle_cost, design.upfront_cost, models


def test_a_later_vented_bank_pays_its_works_at_the_start():
    cost, upfront, models = optimum(short_of_money(), hours=4)
    assert models == ["Vented", "Vented"]
    assert cost == pytest.approx(560 + 150 + 290 + 290)
    assert upfront == pytest.approx(560 + 150 + 290)


@pytest.mark.parametrize(
    ("budget", "models"),
    [
        (1000.0, ["Vented", "Vented"]),  # exactly set 560, locker 150, bank 290
        (999.0, ["Sealed", "Sealed"]),  # no money for the locker, whenever the vented bank comes
        (860.0, ["Sealed", "Sealed"]),  # exactly set 560, bank 300
        (859.0, None),
    ],
)
def test_the_works_of_a_vented_bank_count_against_the_budget(budget, models):
    found = optimum(short_of_money(budget=budget))
    if models is None:
        assert found is None
    else:
        assert found[2] == models
        assert found[1] <= budget


def test_a_first_sealed_bank_that_leaves_money_for_the_locker():
    """Two sealed banks on offer: the cheaper to own leaves no money for a vented bank later on.

    Budget 960: set 560, locker 150 leave 250 for the first bank. The vented one costs 260.
    """
    job = make_job(
        batteries=[
            short_lived("Good", 290.0, price_drift=0.3, scrap_value=100.0),
            short_lived("Poor", 250.0, price_drift=0.3),
            short_lived("Vented", 260.0, gas="vented"),
        ],
        inverters=[make_inverter(max_units=1)],
        works=[LOCKER],
        voltages=(12,),
        max_parallel=1,
        yearly=((1.0, 1.0),),
        vented_allowed=True,
        budget=960.0,
    )
    _, upfront, models = optimum(job)
    assert models == ["Poor", "Vented"]
    assert upfront == pytest.approx(960)
    # with more money the one cheaper to own comes first: 560 + 290 − 100 + 150 + 260
    cost, upfront, models = optimum(with_site(job, budget=None))
    assert models == ["Good", "Vented"]
    assert (cost, upfront) == (pytest.approx(1160), pytest.approx(1000))


def test_free_works_of_vented_banks_are_no_obstacle():
    job = short_of_money(budget=850.0)
    free = make_job(
        batteries=job.catalog.batteries,
        inverters=job.catalog.inverters,
        voltages=(12,),
        max_parallel=1,
        yearly=((1.0, 1.0),),
        vented_allowed=True,
        budget=850.0,
    )
    assert optimum(free)[2] == ["Vented", "Vented"]


# --- corners -------------------------------------------------------------------------------------


def test_a_shrinking_load_binds_in_the_first_year():
    """The first year asks most and the bank is new; a span is judged at both of its ends."""
    job = make_job(
        load_growth=-0.2, horizon_years=4, voltages=(12,), yearly=((0.5, 0.1),), max_parallel=1
    )
    # 4 h: 100 · 4 / 0.9 + 40 = 484 Wh of 600 · 0.98 in year 0; 5 h: 606 Wh, too much in year 0 only
    search = Search(job)
    assert search.longest().hours == 4
    assert PlainProgram(job).least(5) == math.inf
    assert PlainProgram(job).least(4) == pytest.approx(search.least(4), abs=MONEY)


def test_no_sets_or_no_banks_is_no_option():
    for job in (make_job(inverters=[]), make_job(batteries=[]), make_job(voltages=())):
        bounds = Bounds(columns(job))
        assert bounds.options(1, math.inf) == []
        assert bounds.groups == ()


def test_a_set_that_equals_another_in_everything_stays_out():
    twins = [make_inverter("First", max_units=1), make_inverter("Second", max_units=1)]
    c = columns(make_job(inverters=twins))
    assert [option.set_index for option in Bounds(c).options(2, math.inf)] == [0]
    both = Bounds(c, every_set=True).options(2, math.inf)
    assert {option.set_index for option in both} == {0, 1}


def test_a_better_set_does_not_push_out_an_earlier_one_of_equal_cost():
    """Less idle draw, equal in cost, later in the list: ties go by the list's order."""
    sets = [make_inverter("First", max_units=1), make_inverter("Idler", max_units=1, no_load_w=5.0)]
    c = columns(make_job(inverters=sets, voltages=(12,)))
    found = {c.sets.inverters[one.set_index].inverter for one in Bounds(c).options(2, math.inf)}
    assert found == {"First", "Idler"}
    assert Search(c.job).cheapest(2).inverter.inverter == "First"


def test_periods_tell_what_they_are():
    job = short_of_money()
    bounds = Bounds(columns(job))
    periods = bounds.choice(bounds.options(3, math.inf)[0], every_bank=True).periods
    assert all(isinstance(one, Period) for one in periods)
    assert {one.upfront for one in periods if one.start} == {0.0}
    assert {one.bought for one in periods if one.end - one.start > 5} == {2}
    assert {(one.vented, one.upfront) for one in periods if one.start == 0} == {
        (False, 300.0),
        (True, 290.0),
    }
