"""What must hold for the optimum of any site: drawn small sites, each changed in one respect."""

from __future__ import annotations

import math
import os
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given, reject, settings
from hypothesis import strategies as st

from optimizer import InputError, frontier
from optimizer.engine.curve import Search
from tests.exact.sites import (
    falling_files,
    frequent_files,
    limited_files,
    night_files,
    site_files,
)


def job_of(files):
    """Return the job of drawn files; a list without a voltage for both is refused on reading."""
    try:
        return files.job()
    except InputError:
        reject()


#: Sites that mix every feature of the model.
SITES = st.one_of(
    site_files(), falling_files(), limited_files(), frequent_files(), night_files()
).map(job_of)
RELATIVE = 1e-9
#: Costs closer than this are equal [currency units]; a cost may be negative where values left
#: are worth more than what was paid, as at a negative rate.
SAME_MONEY = 1e-6

drawn = settings(max_examples=int(os.environ.get("KEEPLIT_PROPERTY_CASES", "30")))


def with_site(job, **changes):
    return replace(job, site=replace(job.site, **changes))


def with_catalog(job, **changes):
    return replace(job, catalog=replace(job.catalog, **changes))


def least(job, hours, family=None):
    return Search(job, family).least(hours)


def costs(job):
    """Least cost of every hour, and the curve as hours and costs."""
    search = Search(job)
    curve = [(point.hours, point.life_cycle_cost) for point in search.points()]
    return [search.least(hours) for hours in range(1, job.site.max_hours + 1)], curve


def assert_same_costs(job, other, factor=1.0):
    before, curve = costs(job)
    after, other_curve = costs(other)
    same = SAME_MONEY * max(1.0, factor)
    assert after == pytest.approx([cost * factor for cost in before], rel=RELATIVE, abs=same)
    assert [hours for hours, _ in other_curve] == [hours for hours, _ in curve]
    assert [cost for _, cost in other_curve] == pytest.approx(
        [cost * factor for _, cost in curve], rel=RELATIVE, abs=same
    )


# --- loosening a limit never raises the optimum ---------------------------------------------------


def _more(limit, by):
    return None if limit is None else limit * by


#: Limit → the same site with it loosened.
LOOSER = {
    "budget": lambda s: {"budget": _more(s.budget, 1.2)},
    "no budget": lambda _: {"budget": None},
    "lifetime budget": lambda s: {"lifetime_budget": _more(s.lifetime_budget, 1.2)},
    "bank mass": lambda s: {"max_bank_kg": _more(s.max_bank_kg, 1.7)},
    "strings": lambda s: {"max_parallel": s.max_parallel and s.max_parallel + 1},
    "refill hours": lambda s: {"recharge_hours": s.recharge_hours * 2},
    "ventilation": lambda _: {"vented_allowed": True},
    "voltages": lambda _: {"voltages": (12, 24, 48)},
    "exclusions": lambda _: {"exclude": ()},
    "least service": lambda s: {"min_service_share": s.min_service_share / 2},
    "heat": lambda s: {"max_degc": max(s.mean_degc, s.max_degc - 8)},
    "drop": lambda s: {"max_drop": s.max_drop * 2},
    "coincidence": lambda s: {"coincidence": s.coincidence * 0.8},
    "margin": lambda s: {"design_margin": s.design_margin / 2},
    "later years": lambda s: {"later_limit": _more(s.later_limit, 1.3)},
    "tiers let go": lambda s: {"tier_hours": dict.fromkeys(s.tier_hours, 1)},
}
#: Fewest runs, then the smallest cable: the first that fits is taken, and it may be dearer than the
#: one that it replaces. Where it costs nothing, these raise no cost either.
WIRED = ("heat", "drop")


@drawn
@given(SITES, st.sampled_from(sorted(LOOSER)), st.data())
def test_loosening_a_limit_never_raises_the_optimum(job, limit, data):
    hours = data.draw(st.integers(1, job.site.max_hours), "hours")
    if limit in WIRED:
        cables = _times(job.catalog.cables, 0.0, "price_per_m")
        job = with_catalog(job, cables=cables, fuses=_times(job.catalog.fuses, 0.0, "price"))
    looser = with_site(job, **LOOSER[limit](job.site))
    assert least(looser, hours) <= least(job, hours) + SAME_MONEY


@drawn
@given(SITES, st.data())
def test_money_at_the_start_buys_no_fewer_hours_when_there_is_more_of_it(job, data):
    points = frontier(with_site(job, budget=None)).points
    assume(points)
    budget = data.draw(st.sampled_from(points), "point").upfront_cost * 0.97
    fewer, more = (
        Search(with_site(job, budget=money)).longest() for money in (budget, budget * 1.1)
    )
    if fewer is not None:
        assert more is not None
        assert more.hours >= fewer.hours


@drawn
@given(SITES)
def test_more_on_offer_never_raises_the_optimum(job):
    """An inverter whose only box is taken off the list goes with it: alone it was never offered."""
    batteries = job.catalog.batteries[:-1]
    boxed, left = ({one.built_into for one in some} for some in (job.catalog.batteries, batteries))
    inverters = tuple(one for one in job.catalog.inverters[:2] if one.inverter not in boxed - left)
    less = with_catalog(job, batteries=batteries, inverters=inverters)
    for hours in {1, job.site.target_hours, job.site.max_hours}:
        assert least(job, hours) <= least(less, hours) + SAME_MONEY


@drawn
@given(SITES)
def test_one_family_never_beats_all_of_them(job):
    hours = job.site.target_hours
    families = {battery.family for battery in job.catalog.batteries}
    alone = [least(job, hours, family) for family in families]
    assert least(job, hours) <= min(alone) + SAME_MONEY


@drawn
@given(SITES)
def test_hours_that_are_not_asked_for_cost_nothing(job):
    """A longest hour further out can only help: a longer design may be cheaper, none is lost."""
    hours = job.site.target_hours
    longer = with_site(job, max_hours=job.site.max_hours + 5)
    assert least(longer, hours) <= least(job, hours) + SAME_MONEY


# --- order, names and units change nothing ----------------------------------------------------


@drawn
@given(SITES, st.randoms(use_true_random=False))
def test_the_order_of_rows_changes_no_cost(job, random):
    def shuffled(rows):
        return tuple(random.sample(rows, len(rows)))

    tables = ("batteries", "inverters", "generators", "works", "cables", "fuses")
    other = with_catalog(job, **{name: shuffled(getattr(job.catalog, name)) for name in tables})
    other = replace(other, loads=shuffled(job.loads))
    assert_same_costs(job, other)


@drawn
@given(SITES)
def test_rows_doubled_under_another_name_change_no_cost(job):
    batteries, inverters = job.catalog.batteries, job.catalog.inverters
    twice = with_catalog(
        job,
        batteries=batteries
        + tuple(
            replace(
                one,
                battery=f"{one.battery} again",
                built_into=one.built_into and f"{one.built_into} again",
            )
            for one in batteries
        ),
        inverters=tuple(replace(i, inverter=f"{i.inverter} again") for i in inverters) + inverters,
    )
    # a row left out by name stays out under its other name as well
    gone = job.site.exclude
    twice = with_site(twice, exclude=gone + tuple(f"{name} again" for name in gone))
    assert_same_costs(job, twice)


def _times(rows, factor, *names):
    return tuple(
        replace(row, **{name: getattr(row, name) * factor for name in names}) for row in rows
    )


@drawn
@given(SITES, st.sampled_from([1e-6, 0.01, 7.5, 1e6]))
def test_money_in_other_units_scales_every_cost(job, factor):
    catalog, site = job.catalog, job.site
    other = with_catalog(
        job,
        batteries=_times(catalog.batteries, factor, "price", "upkeep_year", "scrap_value"),
        inverters=_times(catalog.inverters, factor, "price"),
        generators=_times(catalog.generators, factor, "price", "upkeep_year"),
        works=_times(catalog.works, factor, "price"),
        cables=_times(catalog.cables, factor, "price_per_m"),
        fuses=_times(catalog.fuses, factor, "price"),
    )
    rules = site.generator
    other = with_site(
        other,
        contracts=_times(site.contracts, factor, "cost_year"),
        generator=rules and replace(rules, fuel_price=rules.fuel_price * factor),
        later_limit=_more(site.later_limit, factor),
        tariff=site.tariff * factor,
        budget=_more(site.budget, factor),
        lifetime_budget=_more(site.lifetime_budget, factor),
    )
    assert_same_costs(job, other, factor)


@drawn
@given(SITES)
def test_one_load_of_two_is_two_loads_of_one(job):
    split = tuple(
        replace(load, load=f"{load.load} {n}", count=1)
        for load in job.loads
        for n in range(load.count)
    )
    assert_same_costs(job, replace(job, loads=split))


# --- the curve --------------------------------------------------------------------------------


@drawn
@given(SITES)
def test_the_curve_rises_strictly_and_misses_nothing(job):
    curve = frontier(job)
    for before, after in pairwise(curve.points):
        assert before.hours < after.hours
        assert before.life_cycle_cost < after.life_cycle_cost
    search = Search(job)
    for hours in range(1, job.site.max_hours + 1):
        point = curve.at(hours)
        cost = math.inf if point is None else point.life_cycle_cost
        assert cost == pytest.approx(search.least(hours), rel=RELATIVE, abs=SAME_MONEY)
        assert (point is None) == (not search.exists(hours))


@drawn
@given(SITES)
def test_every_point_is_what_its_own_hours_and_money_ask_for(job):
    """Asked for a point's cost over the horizon, its hours are the longest that it buys."""
    points = [point for point in frontier(job).points if point.life_cycle_cost > 0]
    for point in points[:3]:  # a limit below nothing is none that a site may set
        again = Search(with_site(job, lifetime_budget=point.life_cycle_cost)).longest()
        assert again.hours == point.hours
        assert again.life_cycle_cost == pytest.approx(
            point.life_cycle_cost, rel=RELATIVE, abs=SAME_MONEY
        )
