"""Comparisons in words."""

from __future__ import annotations

from optimizer import load, switch_points
from optimizer.comparison.parameters import parameters_of
from optimizer.comparison.side_by_side import compare_sides
from optimizer.report import rivals_words as words
from tests.unit import builders
from tests.unit.comparison.test_side_by_side import unequal


def test_values_are_said_as_a_person_says_them():
    parameter = {one.key: one for one in parameters_of(load("house"))}
    said = {
        ("price:lead", 0.843): "15.7 % cheaper",
        ("price:lithium", 1.158): "15.8 % dearer",
        ("price:lithium", 1.0): "as today",
        ("rate", 0.0142): "1.42 %",
        ("drift", -0.073): "−7.3 %",
        ("drift", 0.0): "0 %",
        ("horizon", 1.0): "1 year",
        ("horizon", 6.0): "6 years",
        ("outages", 106.67): "107",
        ("warmth", 23.78): "23.8 °C",
        ("depth:lead", 1.277): "× 1.28",
        ("tariff", 0.34): "0.34 EUR/kWh",
    }
    for (key, value), text in said.items():
        assert words.value_in_words(parameter[key], value) == text


def test_the_verdict_names_winner_margin_and_reason():
    found = compare_sides(unequal(min_service_share=1.0), 2)
    assert words.verdict_in_words(found) == (
        "Lithium, for 2 hours: 50 EUR cheaper over 12 years, 810 against 860 for lead."
    )
    assert words.reason_in_words(found) == (
        "Why: later banks cost 200 less; against that, the first bank costs 150 more "
        "(present values)."
    )
    assert words.catch_up_in_words(found) == (
        "Lithium asks 150 EUR more at the start and has caught up after 8 years."
    )


def test_a_tie_and_a_lonely_family_are_said_so():
    slate = builders.make_battery("Slate")
    twin = builders.make_battery("Beech", family="lithium", chemistry="lfp")
    tie = compare_sides(builders.make_job(batteries=[slate, twin]), 4)
    assert words.verdict_in_words(tie).startswith("A tie, for 4 hours")
    assert words.reason_in_words(tie) == ""
    assert words.catch_up_in_words(tie) == "Both ask the same money at the start."
    poor = compare_sides(builders.make_job(budget=1000.0), 4)
    assert "nothing else does it within the budget" in words.verdict_in_words(poor)
    lonely = compare_sides(builders.make_job(), 4)
    assert "nothing else on offer lasts that long" in words.verdict_in_words(lonely)
    assert words.turns_in_words((), lonely) == []


def test_what_turns_the_answer_is_said_with_where_it_turns_back():
    house = load("house")
    comparison = compare_sides(house, 18)
    found = switch_points(house, keys=["horizon", "price:lead", "tariff"])
    (sentence,) = words.turns_in_words(found, comparison)
    assert sentence == (
        "Lead would win with one of: horizon of 2 to 5 years (now 10 years); lead batteries "
        "15.7 % cheaper."
    )
    assert words.regions_in_words(found[0]) == (
        "lithium up to 1 year; lead up to 5 years; then lithium"
    )
    assert words.regions_in_words(found[2]) == "lithium throughout"
    assert words.turns_in_words(found[2:], comparison)[0].startswith("Nothing turns it alone")
