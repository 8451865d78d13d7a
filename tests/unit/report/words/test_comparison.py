"""Comparisons in words."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from optimizer import compare, load, switch_points
from optimizer.comparison.parameters import parameters_of
from optimizer.comparison.switch_points import Kind, Neighbour, SwitchPoint, SwitchPoints
from optimizer.report.words import comparison as words
from optimizer.report.words import parameters
from optimizer.report.words.switch_points import regions, turning
from optimizer.report.words.writer import Writer
from tests.unit import builders
from tests.unit.comparison.test_side_by_side import falling_lithium, unequal
from tests.unit.comparison.test_switch_points import two_lives

WRITE = Writer("EUR")


@pytest.mark.parametrize(
    ("key", "value", "text"),
    [
        ("price:lead", 0.843, "15.7% cheaper"),
        ("price:lithium", 1.158, "15.8% dearer"),
        ("price:lithium", 1.0, "as today"),
        ("rate", 0.0142, "1.42%"),
        ("drift", -0.073, "−7.3%"),
        ("drift", 0.03, "+3%"),
        ("drift", 0.0, "0%"),
        ("residual-share", 0.7, "70%"),
        ("study-period", 1.0, "1 year"),
        ("study-period", 6.0, "6 years"),
        ("outages", 106.67, "107"),
        ("room", 23.78, "23.8 °C"),
        ("depth:lead", 1.277, "×\xa01.28"),
        ("cycle-life:lithium", 1.0, "as today"),
        ("tariff", 0.34, "0.34 EUR/kWh"),
    ],
)
def test_values_are_said_as_a_person_says_them(key, value, text):
    parameter = {one.key: one for one in parameters_of(load("house"))}[key]
    assert parameters.value(WRITE, parameter, value) == text


@pytest.mark.parametrize(("site", "hours"), [("house", 18), ("clinic", 6)])
def test_what_speaks_for_the_cheaper_one_and_against_it_adds_up(site, hours):
    found = compare(load(site), hours)
    told = " ".join(words.reasons(WRITE, found))
    assert "for all the rest" in told
    amounts = re.findall(r"€([\d,]+) (more|less)( residual value)?", told)
    saved = sum(
        (-1 if (more == "more") is not bool(residual) else 1) * int(amount.replace(",", ""))
        for amount, more, residual in amounts
    )
    assert saved == pytest.approx(found.cheaper_by, abs=0.5 * (len(amounts) + 1))


def test_the_verdict_names_winner_margin_and_reason():
    found = compare(unequal(min_service_share=1.0), 2)
    assert words.verdict(WRITE, found) == (
        "For 2 hours lithium is €50 cheaper, net over 12 years: €810 against €860 for lead-acid."
    )
    assert words.reasons(WRITE, found) == [
        "For lithium, in present value: €200 less for later banks.",
        "Against it: €150 more for the first bank.",
    ]
    assert words.catch_up(WRITE, found) == (
        "Upfront lithium costs €150 more; it has caught up after 8 years."
    )


def test_a_side_that_wins_only_beyond_another_is_named_too():
    """Along the room: lead-acid, a mixed chain, lithium, lead-acid again, lithium again."""
    room = {one.key: one for one in parameters_of(load("house"))}["room"]
    order = ("lead", "mixed", "lithium", "lead", "lithium")
    points = tuple(
        SwitchPoint(Kind.CROSSING, Neighbour(degc, below, {}), Neighbour(degc, above, {}))
        for degc, (below, above) in zip((27.7, 27.9, 31.9, 34.1), pairwise(order), strict=True)
    )
    assert turning(WRITE, [SwitchPoints(room, "lead", points, False, 22)]) == [
        "With one of these a mixed chain would win: mean room temperature 27.7 °C to 27.9 °C.",
        "With one of these lithium would win: mean room temperature 27.9 °C to 31.9 °C.",
    ]


def at_price(price):
    job = unequal(min_service_share=1.0)
    lead, lithium = job.catalog.batteries
    catalog = replace(job.catalog, batteries=(lead, replace(lithium, price=price)))
    return compare(replace(job, catalog=catalog), 2)


def test_nobody_wins_where_little_is_between_them():
    assert words.verdict(WRITE, at_price(310.0)) == (
        "For 2 hours lead-acid and lithium are level: €860 and €870 over 12 years. €10 between "
        "them is less than prices and lives are known to."
    )
    assert words.verdict(WRITE, at_price(300.0)) == (
        "For 2 hours lead-acid and lithium cost the same: €860 over 12 years."
    )


def test_one_alone_is_said_so():
    alone = compare(builders.make_job(budget=1000.0), 4)
    assert words.verdict(WRITE, alone).startswith("For 4 hours only lead-acid is left")
    assert words.reasons(WRITE, alone) == []
    assert words.catch_up(WRITE, alone) == ""


def test_a_mixed_chain_has_a_name():
    assert "mixed chain" in words.verdict(WRITE, compare(falling_lithium()))


@pytest.mark.slow
def test_what_turns_the_answer_is_said_with_where_it_turns_back():
    """Two lead banks of 100 against one of 180: a tenth off the first, a ninth on the second."""
    keys = ["study-period", "price:lead", "price:lithium", "tariff"]
    found = switch_points(two_lives(target_hours=2), keys=keys, processes=1)
    lead, mixed = turning(WRITE, found)
    assert lead == (
        "With one of these lead-acid would win: study period 5 years or less (now 10 years); price "
        "of lead-acid batteries 10% cheaper; price of lithium batteries 11.1% dearer."
    )
    assert mixed == "With one of these a mixed chain would win: study period 11 years to 15 years."
    assert regions(WRITE, found[1]) == "lead-acid up to 10% cheaper; then lithium"
    assert regions(WRITE, found[3]) == "lithium throughout"
    (nothing,) = turning(WRITE, found[3:])
    assert nothing.startswith("Nothing changes that alone")
