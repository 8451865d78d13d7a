"""Why nothing fits: every lever's setting opens the question and one step less does not."""

from __future__ import annotations

from functools import cache

import pytest

from optimizer import NoDesignError, choose, load
from optimizer.engine.curve import Search
from optimizer.engine.relaxations import Question, diagnose, levers_of, open_with
from optimizer.model.requirement import Requirement
from tests.unit.builders import make_battery, make_inverter, make_job, make_load, with_site

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
    "hours": (job_of(), 24, None),
    # set, cable and fuse 560, two strings at 100
    "upfront budget": (job_of(budget=600.0), 8, 760.0),
    "lifetime budget": (job_of(lifetime_budget=600.0, tariff=0.3), 8, None),
    # 2000 W of surge less 100 W of the others: 1900 W
    "start-up of the largest motor": (
        job_of(make_load(running_w=60.0), make_load("Pump", 40.0, starting_w=2600.0, duty=0.1)),
        4,
        1940.0,
    ),
    # 1000 W of 1400 W may be on at once; the surge of nothing stands in the way
    "peak watts": (
        job_of(*(make_load(f"Heater {n}", 350.0, duty=0.02) for n in range(4))),
        4,
        1000.0,
    ),
    # data from 0 °C on, the room at −6.3 °C: the next half degree
    "lowest room temperature": (job_of(min_degc=-6.3, mean_degc=12.0), 4, 0.0),
    # 100 Ah · 0.5 in 50 A · h: an hour a string
    "refill hours": (job_of(recharge_hours=1.0), 8, 2.0),
    # two strings of 30 kg
    "bank mass": (job_of(max_bank_kg=45.0), 8, 60.0),
    "strings in parallel": (job_of(max_parallel=1), 8, 2),
}


@cache
def opening(name):
    job, hours, _ = SHUT[name]
    question = Question(job, hours)
    lever = next(lever for lever in levers_of(question) if lever.name == name)
    return question, lever, open_with(question, lever)


@pytest.mark.parametrize("name", SHUT)
def test_the_setting_opens_and_one_step_less_does_not(name):
    question, lever, found = opening(name)
    assert not question.answered()
    assert found is not None
    assert lever.apply(question, found.needed).answered()
    settings = list(lever.settings)
    place = settings.index(found.needed)
    if place:
        assert not lever.apply(question, settings[place - 1]).answered()
    else:  # the first step from what stands now
        assert not question.answered()


@pytest.mark.parametrize("name", [name for name in SHUT if SHUT[name][2] is not None])
def test_the_setting_by_hand(name):
    _, _, found = opening(name)
    step = {"bank mass": 0.051, "upfront budget": 0.011}.get(name, 1e-9)
    assert found.needed == pytest.approx(SHUT[name][2], abs=step)


def test_the_hours_are_the_longest_that_any_design_carries():
    question, _, found = opening("hours")
    assert found.needed == Search(question.job).longest().hours == 17


def test_the_lifetime_budget_is_the_least_cost():
    question, lever, found = opening("lifetime budget")
    least = Search(with_site(question.job, lifetime_budget=None)).least(8)
    assert least <= found.needed < least + 0.0101
    assert not lever.apply(question, found.needed - 0.02).answered()


@pytest.mark.parametrize("name", SHUT)
def test_what_is_said_names_both_settings(name):
    question, lever, found = opening(name)
    assert f"{found.needed:,.0f}" in found.sentence or f"{found.needed:g}" in found.sentence
    assert found.as_dict() == {
        "lever": name,
        "unit": lever.unit,
        "now": lever.now,
        "needed": found.needed,
    }
    assert question.job.site.currency in {found.unit, "EUR"}


def test_strings_beyond_every_maker_need_consent():
    """30 h are 3633 Wh, a string gives 540 at the end: seven, where the maker allows four."""
    question = Question(job_of(max_hours=48), 30)
    lever = next(lever for lever in levers_of(question) if lever.name == "strings in parallel")
    found = open_with(question, lever)
    assert found.needed == 7
    assert "consent" in found.sentence
    assert "consent" not in opening("strings in parallel")[2].sentence


def test_strings_start_from_the_maker_that_allows_fewest():
    """The heavy model may stand four times, the small one twelve times and gives too little."""
    small = make_battery("Small", capacity_ah=1.0, max_parallel=12, **LIVES)
    question = Question(job_of(batteries=[make_battery(**LIVES), small], max_hours=48), 30)
    lever = next(lever for lever in levers_of(question) if lever.name == "strings in parallel")
    assert open_with(question, lever).needed == 7


def test_the_room_may_be_kept_warmer_than_its_mean():
    """Known from 0 °C on only, where the mean is −5 °C."""
    battery = make_battery(cold_points=((0.0, 1.0),), **LIVES)
    job = job_of(batteries=[battery], min_degc=-10.0, mean_degc=-5.0)
    question = Question(job, 4)
    lever = next(one for one in levers_of(question) if one.name == "lowest room temperature")
    found = open_with(question, lever)
    assert found.needed == 0.0
    assert lever.apply(question, found.needed).job.site.mean_degc == 0.0


def test_a_lifetime_budget_in_a_pair_is_sought_too():
    """A weak floor and too little money over the years: neither alone, and no cent too much."""
    heavy = make_battery(mass_kg=90.0, **LIVES)
    job = job_of(batteries=[heavy], max_bank_kg=80.0)
    least = Search(with_site(job, max_bank_kg=None)).least(1)
    shut = Question(with_site(job, lifetime_budget=least - 100), 1)
    ((one, two),) = diagnose(shut).pairs
    needed = {half.lever: half.needed for half in (one, two)}
    assert least <= needed["lifetime budget"] < least + 0.0101


def test_levers_without_room_are_not_offered():
    """No limits, no hard start, one load alone, a steady room, ten days to refill."""
    question = Question(job_of(mean_degc=10.0, max_degc=10.0, recharge_hours=240.0), 24)
    assert {lever.name for lever in levers_of(question)} == {"hours", "strings in parallel"}
    assert open_with(Question(question.job, 1), levers_of(Question(question.job, 1))[0]) is None


def test_requirements_in_the_way():
    assert diagnose(opening("refill hours")[0]).in_the_way == (Requirement.REFILL,)
    assert diagnose(opening("bank mass")[0]).in_the_way == (Requirement.MASS,)
    cold = diagnose(opening("lowest room temperature")[0])
    assert cold.in_the_way == (Requirement.COLD,)
    wet = job_of(batteries=[make_battery(gas="vented", **LIVES)])
    assert diagnose(Question(wet, 4)).in_the_way == (Requirement.VENTED,)


def test_no_pairs_where_one_lever_is_enough():
    found = diagnose(opening("bank mass")[0])
    assert found.openings
    assert found.pairs == ()


def test_only_a_pair_opens_it():
    """The floor carries one string and the charger refills one; 8 h need two of each."""
    job = job_of(recharge_hours=1.0, max_bank_kg=45.0, max_hours=8)
    question = Question(job, 8)
    found = diagnose(question)
    single = {one.lever for one in found.openings}
    assert single == {"hours"}  # fewer hours always help here
    # where even an hour is too long, nothing alone does
    heavy = make_battery(mass_kg=90.0, **LIVES)
    shut = Question(job_of(batteries=[heavy], recharge_hours=0.9, max_bank_kg=80.0), 1)
    found = diagnose(shut)
    assert found.openings == ()
    pairs = {(one.lever, two.lever): (one.needed, two.needed) for one, two in found.pairs}
    # 90 kg for one string, and an hour for 50 Ah at 50 A
    assert pairs[("refill hours", "bank mass")] == pytest.approx((1.0, 90.0), abs=0.06)
    assert all({"refill hours", "bank mass"} == set(pair) for pair in pairs)


def test_each_half_of_a_pair_is_as_mild_as_may_be():
    heavy = make_battery(mass_kg=90.0, **LIVES)
    question = Question(job_of(batteries=[heavy], recharge_hours=0.9, max_bank_kg=80.0), 1)
    levers = {lever.name: lever for lever in levers_of(question)}
    ((one, two),) = diagnose(question).pairs
    first, second = levers[one.lever], levers[two.lever]

    def answered(a, b):
        return second.apply(first.apply(question, a), b).answered()

    before = {
        lever.name: lever.settings[list(lever.settings).index(half.needed) - 1]
        for lever, half in ((first, one), (second, two))
        if list(lever.settings).index(half.needed)
    }
    assert answered(one.needed, two.needed)
    assert not first.apply(question, one.needed).answered()
    assert not second.apply(question, two.needed).answered()
    if one.lever in before:
        assert not answered(before[one.lever], two.needed)
    if two.lever in before:
        assert not answered(one.needed, before[two.lever])


def test_nothing_opens_it():
    """No inverter of any voltage that the battery makes."""
    job = make_job(batteries=[make_battery(voltage_v=48.0, class_v=48)])
    found = diagnose(Question(job, 4))
    assert found.in_the_way == ()
    assert found.openings == ()
    assert found.pairs == ()
    with pytest.raises(NoDesignError) as caught:
        choose(job, hours=4)
    assert "No single change opens it." in caught.value.reasons
    assert "the price list has nothing for this site" in caught.value.reasons[-1]
    assert caught.value.levers == []
    assert caught.value.pairs == []


def test_progress_counts_levers():
    steps = []
    diagnose(opening("bank mass")[0], lambda done, whole: steps.append((done, whole)))
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
    hours = next(one for one in diagnose(question).openings if one.lever == "hours")
    assert hours.needed == Search(job, "lead").longest().hours < 8


def test_a_pair_is_told_as_one_sentence():
    heavy = make_battery(mass_kg=90.0, **LIVES)
    job = job_of(batteries=[heavy], recharge_hours=0.9, max_bank_kg=80.0, target_hours=1)
    with pytest.raises(NoDesignError) as caught:
        choose(job)
    assert "No single change opens it." in caught.value.reasons
    pair = next(reason for reason in caught.value.reasons if reason.startswith("Two together do"))
    assert "90" in pair
    (halves,) = caught.value.pairs
    assert {half["lever"] for half in halves} == {"refill hours", "bank mass"}


def test_the_demo_house_on_very_little_money():
    job = with_site(load("house"), max_hours=10, target_hours=6)
    with pytest.raises(NoDesignError) as caught:
        choose(job, budget=900.0)
    (lever,) = [one for one in caught.value.levers if one["lever"] == "upfront budget"]
    assert lever["now"] == 900
    needed = lever["needed"]
    assert choose(job, budget=needed).design.upfront_cost <= needed
    with pytest.raises(NoDesignError):
        choose(job, budget=needed - 0.01)
