"""The highest floor of a budget against trying every floor and every allotment."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from optimizer.errors import InputError
from optimizer.programme.answers import allot_answer
from optimizer.programme.floors import highest_floor
from optimizer.programme.survey import site_curves, supposing
from optimizer.programme.terms import Terms
from optimizer.report.words.allotment import floor
from optimizer.report.words.writer import Writer

from .programmes import by_hours, searched, write_programme
from .test_allotment import drawn


@pytest.mark.parametrize("seed", range(40))
def test_no_higher_floor_is_found_by_trying_everything(seed):
    dice = np.random.default_rng(3000 + seed)
    sites = drawn(dice)
    terms = Terms(later_limit=float(dice.integers(5, 20)) if seed % 2 else None)
    budget = float(dice.integers(500, 12_000)) / 100
    # without a budget the least money is sought
    least = {
        hours: searched(sites, replace(terms, floor_hours=hours, budget=None))
        for hours in range(1, 21)
    }
    within = [hours for hours, money in least.items() if money is not None and money <= budget]
    found = highest_floor(sites, budget, terms)
    assert found.hours == max(within, default=0)
    if found.hours:
        assert found.upfront_cost == pytest.approx(least[found.hours])
    if found.next_hours is not None and found.next_upfront_cost < np.inf:
        assert found.next_hours > found.hours
        assert found.next_upfront_cost == pytest.approx(least[found.next_hours])
        assert found.next_upfront_cost > budget


def test_a_floor_is_told_with_what_the_next_takes():
    # each unit of money buys the n-th of these hours: 2 each is 4, 3 and 2 are 5
    sites = by_hours({"A": [2, 4, 9], "B": [3, 5, 6]})
    answer = allot_answer(sites, Terms(), [4.5])
    found = answer.answers[0].floor
    assert (found.hours, found.upfront_cost, found.next_hours, found.next_upfront_cost) == (
        4,
        4.0,
        5,
        5.0,
    )
    held, longer = floor(Writer("EUR"), found)
    assert "is 4 hours at every site, for €4 at least" in held
    assert "Giving every site 5 hours takes at least €5" in longer
    assert not list(floor(Writer("EUR"), None))
    assert highest_floor(sites, 1.0).hours == 0
    assert highest_floor(sites, 99.0).next_hours is None


def test_numbers_are_supposed_of_the_sites_that_have_them(tmp_path):
    table = write_programme(tmp_path, "one,home,x,3,,\n")
    as_is = site_curves(table, processes=1)
    dear = site_curves(table, processes=1, what_if={"price:lead": "x2", "price:lithium": "x2"})
    assert dear.supposed == ("price:lead=x2", "price:lithium=x2")
    before, after = (one.candidates[0].curve.points[0].upfront_cost for one in (as_is, dear))
    assert after > before
    planned = tuple(one.site for one in as_is.candidates)
    with pytest.raises(InputError, match="nearest known: outages"):
        supposing(planned, {"outage": "x2"})
    with pytest.raises(InputError, match="fuel-price"):  # no site has a generator
        supposing(planned, {"fuel-price": "x2"})
