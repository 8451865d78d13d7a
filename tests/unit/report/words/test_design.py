"""Designs and diagnoses as sentences and tables."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from optimizer import NoDesignError, choose
from optimizer.answers.purchases import Purchase, purchases, replacements
from optimizer.answers.site_survey import survey
from optimizer.engine import cashflow
from optimizer.engine.cashflow import PURCHASES
from optimizer.engine.check import CheckKind
from optimizer.report.grids import choice as grids
from optimizer.report.grids import survey as survey_grids
from optimizer.report.words import design as said
from optimizer.report.words import relaxations as words
from optimizer.report.words.writer import Writer, plain
from tests.unit.builders import (
    every_work,
    make_battery,
    make_design,
    make_inverter,
    make_job,
    make_load,
    make_period,
    with_site,
)

WRITE = Writer("EUR")


def reasons(job, **asked):
    with pytest.raises(NoDesignError) as caught:
        choose(job, **asked)
    return list(words.reasons(WRITE, caught.value))


def test_years_are_counted_from_one():
    bought = Purchase(5, 1234.5, ("Slate", "Gable"))
    assert said.next_purchase(WRITE, bought, 10) == (
        "Next purchase: Slate and Gable in year 6, €1,235."
    )
    assert said.next_purchase(WRITE, None, 1) == "Next purchase: none within 1 year."


def test_replacements():
    job = make_job()
    chain = make_design(
        make_period(end=4), make_period(start=4), inverter=make_inverter(life_years=7.0)
    )
    bought = replacements(cashflow.payments(job, chain))
    assert said.replacements(WRITE, bought) == "year 5: Slate; year 8: Gable"
    assert said.replacements(WRITE, replacements(cashflow.payments(job, make_design()))) == "none"


def test_many_banks_one_after_another_are_told_by_their_spacing():
    period = make_period(start=0, end=10, life=1.9, bought=6)
    renewed = make_design(period, inverter=make_inverter(life_years=7.0))
    [inverter, bank] = replacements(cashflow.payments(make_job(), renewed))
    assert inverter.times_years == (0, 7)
    assert inverter.every_years is None
    assert bank.times_years == pytest.approx((0, 1.9, 3.8, 5.7, 7.6, 9.5))
    assert bank.every_years == pytest.approx(1.9)
    assert said.replacements(WRITE, [inverter, bank]) == (
        "6 banks of Slate, one every 1.9 years; year 8: Gable"
    )
    flow = cashflow.payments(make_job(), renewed)
    later = sum(one.amount for one in flow if one.kind in PURCHASES and one.time_years > 0)
    assert said.replacements(WRITE, replacements(flow), purchases(flow)).endswith(
        f"year 8: Gable; €{later:,.0f} in all"
    )


def test_few_replacements_have_each_its_sum():
    job = make_job(works=every_work())
    chain = make_design(make_period(end=4), make_period(start=4))
    flow = cashflow.payments(job, chain)
    paid = sum(one.amount for one in flow if one.year == 4 and one.kind in PURCHASES)
    told = said.replacements(WRITE, replacements(flow), purchases(flow))
    assert told == f"year 5: Slate, €{paid:,.0f}"


def test_a_life_under_two_years_is_told_first():
    choice = choose(make_job(yearly=((1.0, 1.0),)), hours=2)
    period = make_period(start=0, end=10, life=1.9, bought=6)
    short = replace(choice, design=make_design(period))
    assert said.choice(WRITE, short).startswith(
        "The outages here wear a bank of Slate out in 1.9 years: 6 are bought within 10 years."
    )
    longer = replace(choice, design=make_design(replace(period, service_life_years=2.0, bought=5)))
    assert said.choice(WRITE, longer).startswith("4 hours without the grid")


def test_banks_and_sets():
    assert said.bank(WRITE, make_period(series=4, strings=3), 48) == "Slate, 4 × 3, 48 V"
    assert said.inverter_set(WRITE, make_design()) == "Gable"
    assert said.inverter_set(WRITE, make_design(inverter_units=3)) == "3 × Gable"


@pytest.mark.parametrize(
    ("bank", "expected"),
    [
        ((1, 1), "One Slate"),
        ((4, 1), "4 × Slate in series"),
        ((1, 3), "3 × Slate in parallel"),
        (
            (2, 3),
            "6 × Slate, 2 in series, 3 strings",
        ),
    ],
)
def test_a_choice_in_a_sentence(bank, expected):
    series, strings = bank
    choice = choose(make_job(yearly=((1.0, 1.0),)), hours=2)
    design = make_design(
        make_period(series=series, strings=strings), upfront_cost=1500.4, life_cycle_cost=2600.6
    )
    text = said.choice(WRITE, replace(choice, design=design))
    energy = f"{1.2 * series * strings:g}"
    assert f"{expected} (AGM, {energy} kWh) at 12 V behind Gable (1 kW)." in text
    assert text.startswith("4 hours without the grid: €1,500 upfront; €2,601 net over 10 years")
    one_year = replace(choice, design=design, job=with_site(choice.job, horizon_years=1))
    assert "over 1 year," in said.choice(WRITE, one_year)


def test_what_binds():
    choice = choose(make_job(yearly=((1.0, 1.0),)), hours=4)
    free = tuple(replace(one, saving=0.0) for one in choice.explained)
    closest = said.binding(WRITE, replace(choice, explained=free))[1]
    assert closest.startswith("Closest to its limit: Energy for 4 hours in year")
    assert [column.key for column in grids.limits(WRITE, free).columns][-1] == "margin"
    dear = (replace(free[0], saving=50.0), replace(free[1], saving=120.4), *free[2:])
    assert said.binding(WRITE, replace(choice, explained=dear)) == [
        "Apparent power, at 25 °C (continuous power in the heat): lifting it would save €120.",
    ]
    table = grids.limits(WRITE, dear)
    kinds = {one.check.kind for one in free}
    assert [row[-1] for row in table.rows] == [50.0, 120.4, *(None for _ in range(len(kinds) - 2))]
    energy = [one.check.margin for one in free if one.check.kind is CheckKind.ENERGY]
    assert len(energy) > 1
    assert min(energy) in [row[4] for row in table.rows]
    assert table.notes == ("Of each, the bank with the least to spare.",)


def test_money_and_materials_add_up():
    choice = choose(make_job(tax_rate=0.21, markup=0.1), hours=4)
    *rows, total = grids.cash(WRITE, choice.job, choice.design).rows
    assert total[-1] == pytest.approx(choice.design.life_cycle_cost)
    assert sum(row[-1] for row in rows) == pytest.approx(total[-1])
    assert rows[0][-1] == pytest.approx(choice.design.upfront_cost)
    assert grids.materials(WRITE, choice).rows[-1][-1] == pytest.approx(choice.design.upfront_cost)


@pytest.mark.parametrize(
    ("job", "asked", "expected"),
    [
        (
            make_job(make_load(running_w=9000.0), voltages=(24,)),
            {"hours": 1},
            "No inverter set on offer passes",
        ),
        (
            make_job(batteries=[make_battery(gas="vented")], max_bank_kg=1.0),
            {"hours": 1},
            "No battery on offer passes",
        ),
        (
            make_job(batteries=[make_battery(capacity_ah=1.0)]),
            {"hours": 24},
            "banks pass by themselves; no pair of them holds long enough.",
        ),
    ],
)
def test_where_no_single_requirement_is_in_the_way(job, asked, expected):
    assert expected in reasons(job, **asked)[0]


def test_money_is_said_once_with_the_goal():
    assert reasons(make_job(), budget=100.0)[0].startswith("Raise the upfront budget to ")


def test_what_stands_in_the_way_comes_first():
    first, *_ = reasons(
        make_job(recharge_hours=1.0, inverters=[make_inverter(charger_a=10.0)]), hours=4
    )
    assert first.startswith("The charging current stands in the way")


def test_control_characters_become_visible():
    assert plain("a\tb\x1b[31m\x7fc\u202e") == "a␉b␛[31mc"
    assert plain("naïve 🔋 =1+1 [b]") == "naïve 🔋 =1+1 [b]"


def test_tables_of_a_survey_with_and_without_old_prices():
    dated = make_job(batteries=[make_battery(price_date=date(2020, 1, 1))], value_of_lost_load=5.0)
    keys = [grid.key for grid in survey_grids.all_of(WRITE, survey(dated, date(2026, 1, 1)))]
    assert keys == ["loads", "demand", "grid", "old_prices"]
    keys = [grid.key for grid in survey_grids.all_of(WRITE, survey(make_job(), date(2026, 1, 1)))]
    assert keys == ["loads", "demand", "grid"]
