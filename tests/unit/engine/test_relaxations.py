"""Why nothing fits: every relaxation's setting opens the question and one step less does not."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from optimizer import NoDesignError, choose, load
from optimizer.engine.curve import Search
from optimizer.engine.diagnosing import diagnose, open_with
from optimizer.engine.relaxations import Question, relaxations_of
from optimizer.model.diagnosis import Hindrance, HindranceKind
from optimizer.model.diagnosis import RelaxationKind as Kind
from optimizer.model.requirement import Requirement
from optimizer.report.words import relaxations as words
from optimizer.report.words.writer import Writer
from tests.unit.builders import make_battery, make_inverter, make_job, make_load, with_site

pytestmark = pytest.mark.slow

LIVES = {"float_life_years": 20.0}


def job_of(*loads, batteries=None, **changes):
    """One inverter of 1000 W, 2000 W surge, 50 A; strings of 12 V and 100 Ah that last."""
    return make_job(
        *loads,
        batteries=batteries or [make_battery(**LIVES)],
        inverters=changes.pop("inverters", [make_inverter(max_units=1)]),
        voltages=(12,),
        yearly=((1.0, 1.0),),
        **changes,
    )


#: Lever → a question that it opens, and the setting worked out by hand where that is short.
SHUT = {
    # four strings: 2400 Wh · 0.9 at the end of ten years for 121.1 W: 17 h
    Kind.HOURS: (job_of(), 24, None),
    # set, cable and fuse 560, two strings at 100
    Kind.UPFRONT_BUDGET: (job_of(budget=600.0), 8, 760.0),
    Kind.LIFETIME_BUDGET: (job_of(lifetime_budget=600.0, tariff=0.3), 8, None),
    # half the float life: two strings at 100 are bought once more
    Kind.LATER_LIMIT: (
        job_of(batteries=[make_battery(**{**LIVES, "float_life_years": 5.0})], later_limit=60.0),
        8,
        200.0,
    ),
    # 2000 W of surge less 100 W of the others: 1900 W
    Kind.LARGEST_START: (
        job_of(make_load(running_w=60.0), make_load("Pump", 40.0, starting_w=2600.0, duty=0.1)),
        4,
        1940.0,
    ),
    # 1000 W of 1400 W may be on at once; the surge of nothing stands in the way
    Kind.PEAK: (
        job_of(*(make_load(f"Heater {n}", 350.0, duty=0.02) for n in range(4))),
        4,
        1000.0,
    ),
    # data from 0 °C on, the room at −6.3 °C: the next half degree
    Kind.LOWEST_TEMPERATURE: (job_of(min_degc=-6.3, mean_degc=12.0), 4, 0.0),
    # 100 Ah · 0.5 in 50 A · h: an hour a string
    Kind.RECHARGE_HOURS: (job_of(recharge_hours=1.0), 8, 2.0),
    # two strings of 30 kg
    Kind.BANK_MASS: (job_of(max_bank_kg=45.0), 8, 60.0),
    Kind.STRINGS: (job_of(max_parallel=1), 8, 2),
}


def alone(requirement):
    return (Hindrance(HindranceKind.REQUIREMENT, requirement=requirement),)


def named(question, kind):
    return next(one for one in relaxations_of(question) if one.kind is kind)


@cache
def opening(name):
    job, hours, _ = SHUT[name]
    question = Question(job, hours)
    relaxation = named(question, name)
    return question, relaxation, open_with(question, relaxation)


@pytest.mark.parametrize("name", SHUT)
def test_the_setting_opens_and_one_step_less_does_not(name):
    question, relaxation, found = opening(name)
    assert not question.answered()
    assert found is not None
    assert relaxation.apply(question, found.needed).answered()
    settings = list(relaxation.settings)
    place = settings.index(found.needed)
    if place:
        assert not relaxation.apply(question, settings[place - 1]).answered()
    else:  # the first step from what stands now
        assert not question.answered()


def test_a_budget_is_found_to_the_cent_as_by_halving():
    question, relaxation, found = opening(Kind.UPFRONT_BUDGET)
    assert not relaxation.apply(question, round(found.needed - 0.01, 2)).answered()
    limited = replace(question, job=with_site(question.job, lifetime_budget=1e6))
    halved = named(limited, Kind.UPFRONT_BUDGET)
    assert len(halved.settings) > 1
    assert open_with(limited, halved).needed == found.needed


@pytest.mark.parametrize("name", SHUT)
def test_searches_that_share_columns_answer_as_new_ones(name):
    question, relaxation, found = opening(name)
    search, settings = Search(question.job), relaxation.settings
    for setting in {found.needed, *(settings[len(settings) * part // 4] for part in range(4))}:
        changed = relaxation.apply(question, setting)
        shared = relaxation.search(search, changed.job)
        assert shared.exists(changed.hours) is changed.answered()


@pytest.mark.parametrize("name", [name for name in SHUT if SHUT[name][2] is not None])
def test_the_setting_by_hand(name):
    _, _, found = opening(name)
    step = {Kind.BANK_MASS: 0.051, Kind.UPFRONT_BUDGET: 0.011, Kind.LATER_LIMIT: 0.011}.get(
        name, 1e-9
    )
    assert found.needed == pytest.approx(SHUT[name][2], abs=step)


def test_the_hours_are_the_longest_that_any_design_carries():
    question, _, found = opening(Kind.HOURS)
    assert found.needed == Search(question.job).longest().hours == 17


def test_the_lifetime_budget_is_the_least_cost():
    question, relaxation, found = opening(Kind.LIFETIME_BUDGET)
    least = Search(with_site(question.job, lifetime_budget=None)).least(8)
    assert least <= found.needed < least + 0.0101
    assert not relaxation.apply(question, found.needed - 0.02).answered()


@pytest.mark.parametrize("name", SHUT)
def test_what_is_said_names_both_settings(name):
    question, relaxation, found = opening(name)
    said = words.opening(Writer(question.job.site.currency), found)
    assert f"{found.needed:,.0f}" in said or f"{found.needed:g}" in said
    assert (found.kind, found.now, found.unit) == (name, relaxation.now, name.unit)


def test_strings_beyond_every_maker_need_consent():
    """30 h are 3633 Wh, a string gives 540 at the end: seven, where the maker allows four."""
    question = Question(job_of(max_hours=48), 30)
    relaxation = named(question, Kind.STRINGS)
    found = open_with(question, relaxation)
    assert found.needed == 7
    assert "consent" in words.opening(Writer("EUR"), found)
    assert "consent" not in words.opening(Writer("EUR"), opening(Kind.STRINGS)[2])


def test_strings_start_from_the_maker_that_allows_fewest():
    """The heavy model may stand four times, the small one twelve times and gives too little."""
    small = make_battery("Small", capacity_ah=1.0, max_parallel=12, **LIVES)
    question = Question(job_of(batteries=[make_battery(**LIVES), small], max_hours=48), 30)
    relaxation = named(question, Kind.STRINGS)
    assert open_with(question, relaxation).needed == 7


def test_the_room_may_be_kept_warmer_than_its_mean():
    """Known from 0 °C on only, where the mean is −5 °C."""
    battery = make_battery(cold_points=((0.0, 1.0),), **LIVES)
    job = job_of(batteries=[battery], min_degc=-10.0, mean_degc=-5.0)
    question = Question(job, 4)
    relaxation = named(question, Kind.LOWEST_TEMPERATURE)
    found = open_with(question, relaxation)
    assert found.needed == 0.0
    assert relaxation.apply(question, found.needed).job.site.mean_degc == 0.0


def test_a_lifetime_budget_in_a_pair_is_sought_too():
    """A weak floor and too little money over the years: neither alone, and no cent too much."""
    heavy = make_battery(mass_kg=90.0, **LIVES)
    job = job_of(batteries=[heavy], max_bank_kg=80.0)
    least = Search(with_site(job, max_bank_kg=None)).least(1)
    shut = Question(with_site(job, lifetime_budget=least - 100), 1)
    ((one, two),) = diagnose(shut).pairs
    needed = {half.kind: half.needed for half in (one, two)}
    assert least <= needed[Kind.LIFETIME_BUDGET] < least + 0.0101


def test_relaxations_without_room_are_not_offered():
    """No limits, no hard start, one load alone, a steady room, ten days to refill."""
    question = Question(job_of(mean_degc=10.0, max_degc=10.0, recharge_hours=240.0), 24)
    assert {one.kind for one in relaxations_of(question)} == {Kind.HOURS, Kind.STRINGS}
    hour = Question(question.job, 1)
    assert open_with(hour, named(hour, Kind.HOURS)) is None


def test_requirements_in_the_way():
    assert diagnose(opening(Kind.RECHARGE_HOURS)[0]).hindrances == alone(Requirement.REFILL)
    assert diagnose(opening(Kind.BANK_MASS)[0]).hindrances == alone(Requirement.MASS)
    cold = diagnose(opening(Kind.LOWEST_TEMPERATURE)[0])
    assert cold.hindrances == alone(Requirement.COLD)
    wet = job_of(batteries=[make_battery(gas="vented", **LIVES)])
    assert diagnose(Question(wet, 4)).hindrances == alone(Requirement.VENTED)


def test_no_pairs_where_one_lever_is_enough():
    found = diagnose(opening(Kind.BANK_MASS)[0])
    assert found.openings
    assert found.pairs == ()


def test_only_a_pair_opens_it():
    """The floor carries one string and the charger refills one; 8 h need two of each."""
    job = job_of(recharge_hours=1.0, max_bank_kg=45.0, max_hours=8)
    question = Question(job, 8)
    found = diagnose(question)
    single = {one.kind for one in found.openings}
    assert single == {Kind.HOURS}  # fewer hours always help here
    # where even an hour is too long, nothing alone does
    heavy = make_battery(mass_kg=90.0, **LIVES)
    shut = Question(job_of(batteries=[heavy], recharge_hours=0.9, max_bank_kg=80.0), 1)
    found = diagnose(shut)
    assert found.openings == ()
    pairs = {(one.kind, two.kind): (one.needed, two.needed) for one, two in found.pairs}
    # 90 kg for one string, and an hour for 50 Ah at 50 A
    assert pairs[(Kind.RECHARGE_HOURS, Kind.BANK_MASS)] == pytest.approx((1.0, 90.0), abs=0.06)
    assert all({Kind.RECHARGE_HOURS, Kind.BANK_MASS} == set(pair) for pair in pairs)


def test_each_half_of_a_pair_is_as_mild_as_may_be():
    heavy = make_battery(mass_kg=90.0, **LIVES)
    question = Question(job_of(batteries=[heavy], recharge_hours=0.9, max_bank_kg=80.0), 1)
    relaxations = {relaxation.kind: relaxation for relaxation in relaxations_of(question)}
    ((one, two),) = diagnose(question).pairs
    first, second = relaxations[one.kind], relaxations[two.kind]

    def answered(a, b):
        return second.apply(first.apply(question, a), b).answered()

    before = {
        relaxation.kind: relaxation.settings[list(relaxation.settings).index(half.needed) - 1]
        for relaxation, half in ((first, one), (second, two))
        if list(relaxation.settings).index(half.needed)
    }
    assert answered(one.needed, two.needed)
    assert not first.apply(question, one.needed).answered()
    assert not second.apply(question, two.needed).answered()
    if one.kind in before:
        assert not answered(before[one.kind], two.needed)
    if two.kind in before:
        assert not answered(one.needed, before[two.kind])


def test_what_would_be_cheaper_without_a_requirement_stands_in_the_way_of_money_alone():
    """400 buy the weak inverter, which no start of the pump allows, and not the strong one."""
    weak = make_inverter("Eave", price=100.0, surge_w=1000.0, max_units=1)
    pump = make_load("Pump", 40.0, starting_w=1500.0, duty=0.1)
    shut = Question(job_of(pump, inverters=[weak, make_inverter(max_units=1)], budget=400.0), 4)
    assert not shut.answered()
    assert Search(shut.job).otherwise(lifted=Requirement.SURGE).exists(4)
    assert [one.kind for one in diagnose(shut).hindrances] == [HindranceKind.MONEY]
    weak_alone = replace(shut, job=job_of(pump, inverters=[weak], budget=400.0))
    assert diagnose(weak_alone).hindrances == alone(Requirement.SURGE)


def test_nothing_opens_it():
    """No inverter of any voltage that the battery makes."""
    job = make_job(batteries=[make_battery(voltage_v=48.0, class_v=48)])
    found = diagnose(Question(job, 4))
    assert [one.kind for one in found.hindrances] == [HindranceKind.NO_PAIR]
    assert found.openings == ()
    assert found.pairs == ()
    with pytest.raises(NoDesignError) as caught:
        choose(job, hours=4)
    assert caught.value.diagnosis == found
    assert "No single change opens it." in str(caught.value)
    assert "the price list has nothing for this site" in str(caught.value)


def test_progress_counts_relaxations():
    steps = []
    diagnose(opening(Kind.BANK_MASS)[0], lambda done, whole: steps.append((done, whole)))
    assert [done for done, _ in steps] == list(range(len(steps)))
    assert {whole for _, whole in steps} == {len(steps)}


def test_the_family_stays_with_the_question():
    batteries = [
        make_battery(capacity_ah=20.0, **LIVES),
        make_battery("Birch", family="lithium", **LIVES),
    ]
    job = job_of(batteries=batteries)
    assert Question(job, 8).answered()
    question = Question(job, 8, "lead")
    assert not question.answered()
    hours = next(one for one in diagnose(question).openings if one.kind == Kind.HOURS)
    assert hours.needed == Search(job, "lead").longest().hours < 8


def test_a_pair_is_told_as_one_sentence():
    heavy = make_battery(mass_kg=90.0, charge_factor=1.35, **LIVES)
    job = job_of(batteries=[heavy], recharge_hours=1.0, max_bank_kg=80.0, target_hours=1)
    with pytest.raises(NoDesignError) as caught:
        choose(job)
    assert "No single change opens it." in str(caught.value)
    pair = next(line for line in str(caught.value).splitlines() if "Two together do" in line)
    assert "90" in pair
    (halves,) = caught.value.diagnosis.pairs
    assert {half.kind for half in halves} == {Kind.RECHARGE_HOURS, Kind.BANK_MASS}


def test_the_demo_house_on_very_little_money():
    job = with_site(load("house"), max_hours=10, target_hours=6)
    with pytest.raises(NoDesignError) as caught:
        choose(job, budget=900.0)
    openings = {one.kind: one for one in caught.value.diagnosis.openings}
    assert openings[Kind.UPFRONT_BUDGET].now == 900
    needed = openings[Kind.UPFRONT_BUDGET].needed
    assert choose(job, budget=needed).design.upfront_cost <= needed
    with pytest.raises(NoDesignError):
        choose(job, budget=needed - 0.01)
