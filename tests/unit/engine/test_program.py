"""The program as written: rows by family, names by index, and what it refuses to write."""

from __future__ import annotations

import math
import re
from collections import Counter

import pulp
import pytest

from optimizer.engine.bounds import Bounds
from optimizer.engine.program import _sum, build_program
from optimizer.engine.solver import solve
from optimizer.errors import InternalError
from optimizer.model.job import Contract, GeneratorRules, Work
from tests.unit.builders import make_battery, make_generator, make_inverter, make_job

from .columns import columns

ODD = 'a "name", =1+1\n☂ [x]'


def program_of(job, hours=4, **options):
    bounds = Bounds(columns(job), job.site.budget)
    choices = [bounds.choice(option) for option in bounds.options(hours, math.inf)]
    return build_program(choices, budget=job.site.budget, **options)


def two_gas_job(**changes):
    """Dry and vented banks of some 6 years behind one set, over 10 years."""
    dry = make_battery(ODD, price=300.0, float_life_years=6.0)
    wet = make_battery("Wet", price=200.0, float_life_years=6.0, gas="vented")
    return make_job(
        batteries=[dry, wet],
        inverters=[make_inverter(ODD, max_units=1)],
        works=[Work("Locker", "vented_bank", 150.0, "first")],
        voltages=(12,),
        max_parallel=1,
        vented_allowed=True,
        yearly=((1.0, 1.0),),
        **changes,
    )


def families(program):
    names = program.problem.constraints()
    return Counter(row.name.split("__")[0] for row in names)


def test_every_row_belongs_to_a_family():
    found = families(program_of(two_gas_job()))
    # one set; a chain row for each year that a bank may start or end in; gas rows for each year
    assert found == {"one_set": 1, "chain": 10, "vented": 10}
    assert families(program_of(two_gas_job(budget=920.0))) == found | {"upfront": 1}


def test_names_carry_indices_only():
    program = program_of(two_gas_job(budget=920.0))
    names = [variable.name for variable in program.problem.variables()]
    assert all(re.fullmatch(r"(set_\d{4}|bank_\d{5}|vented_works)", name) for name in names)
    assert len(set(names)) == len(names) == 2 + len(program.columns)
    rows = [row.name for row in program.problem.constraints()]
    assert all(re.fullmatch(r"[a-z_]+__\d+(_\d+)?", row) for row in rows)
    assert ODD not in str(program.problem)


def test_every_variable_is_binary():
    for variable in program_of(two_gas_job()).problem.variables():
        assert (variable.lowBound, variable.upBound, variable.cat) == (0, 1, pulp.LpInteger)


def test_what_the_solution_stands_for():
    program = program_of(two_gas_job())
    choice, periods = program.chosen(solve(program.problem).values)
    assert choice is program.choices[0]
    assert periods[0].start == 0
    assert periods[-1].end == 10
    assert [one.end for one in periods[:-1]] == [one.start for one in periods[1:]]
    # 560 for set and wiring, 150 for the locker, twice 200 against 300 twice
    assert choice.option.cost == pytest.approx(560 + 150 + 2 * 200)
    assert all(one.vented for one in periods)


def test_a_vented_bank_cannot_serve_without_its_works():
    """With the works forced to nothing the dry banks are left."""
    program = program_of(two_gas_job())
    works = program.problem.variablesDict()["vented_works"]
    program.problem.addConstraint(works == 0, "forced__0")
    outcome = solve(program.problem)
    assert outcome.objective * program.money_unit == pytest.approx(560 + 2 * 300)


def test_by_order_counts_units_first_and_then_places():
    """Two units of 6 V against one of 12 V for the same money: one unit is fewer."""
    pair = make_battery("Pair", voltage_v=6.0, class_v=6, price=50.0)
    single = make_battery("Single", price=100.0)
    late = make_battery("Late", price=100.0)
    job = make_job(
        batteries=[pair, single, late],
        inverters=[make_inverter(max_units=1)],
        voltages=(12,),
        yearly=((1.0, 1.0),),
        max_parallel=1,
    )
    c = columns(job)
    bounds = Bounds(c)
    (option,) = bounds.options(4, math.inf)
    program = build_program([bounds.choice(option, every_bank=True)], by_order=True)
    _, periods = program.chosen(solve(program.problem).values)
    assert {c.banks.battery(one.bank_index).battery for one in periods} == {"Single"}


def test_a_repeated_variable_is_refused():
    variable = pulp.LpProblem().add_variable("x", 0, 1)
    with pytest.raises(InternalError, match="twice"):
        _sum([(variable, 1.0), (variable, 2.0)])


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_coefficient_that_is_no_number_is_refused(value):
    variable = pulp.LpProblem().add_variable("x", 0, 1)
    with pytest.raises(InternalError, match="finite"):
        _sum([(variable, value)])


def test_contract_and_generator_are_columns_of_their_own():
    """Two steps and two generators or none: one binary for each, with its own money."""
    steps = (Contract(power_w=2000.0, cost_year=50.0), Contract(power_w=3000.0, cost_year=80.0))
    ash = make_generator()
    job = make_job(
        contracts=steps,
        generators=[ash],
        generator=GeneratorRules(fuel_price=2.0, max_stored_l=50.0),
        voltages=(12,),
        max_parallel=1,
    )
    choices = []
    for number, (step, generator) in enumerate([(s, g) for s in steps for g in (None, ash)]):
        bounds = Bounds(columns(job, contract=step, generator=generator), variant=number)
        choices += [bounds.choice(option) for option in bounds.options(3, math.inf)]
    program = build_program(choices)
    names = {variable.name for variable in program.problem.variables()}
    beside = {"contract_0", "contract_1", "generator_none", "generator_0"}
    assert beside <= names
    assert families(program)["contract"] == families(program)["generator"] == 2
    values = solve(program.problem).values
    chosen, _ = program.chosen(values)
    assert chosen.option.variant == 0
    assert {name for name in beside if values[name] > 0.5} == {"contract_0", "generator_none"}
    forced = program.problem.variablesDict()
    program.problem.addConstraint(forced["contract_1"] + forced["generator_0"] == 2, "forced__0")
    dearer = solve(program.problem).objective - program.choices[0].option.cost / program.money_unit
    fuel = choices[-1].candidates.litres(3)[0] * 2.0 * 10
    assert dearer * program.money_unit == pytest.approx(30 * 10 + 300 + fuel)
