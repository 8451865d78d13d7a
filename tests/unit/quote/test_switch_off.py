"""What to switch off: never what stays on, together what serves only together, and the fewest."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from optimizer.model.needs import groups, staying_on
from optimizer.quote.switch_off import fewest_to_double
from optimizer.simulate import ride_through
from tests.unit.builders import make_battery, make_design, make_job, make_load, make_period
from tests.unit.quote.made import curve


def first_year_h(job, design, names):
    """The shortest ride-through of the first year without some loads, by the public simulation."""
    left = tuple(load for load in job.loads if load.load not in names)
    return float(ride_through(replace(job, loads=left), design).hours[0].min())


def may_go(job):
    """Names that may be switched off: those that go together as one."""
    marked = {load.load for load in job.loads if load.critical or load.never_off}
    marked |= {load.load for load in job.loads if load.tier == job.site.tiers[0]}
    bound = [{load.load, load.only_with} for load in job.loads if load.only_with]
    sets = [{load.load} for load in job.loads if load.tier in job.site.tiers]
    for pair in bound:
        together = set().union(*(one for one in sets if one & pair))
        sets = [one for one in sets if not one & pair] + [together]
    return [one for one in sets if not one & marked]


def by_search(job, design):
    """Every fewest choice that doubles the hours, by trying all."""
    wanted = 2 * first_year_h(job, design, ())
    for size in range(1, len(may_go(job)) + 1):
        tried = [set().union(*one) for one in combinations(may_go(job), size)]
        doing = [one for one in tried if first_year_h(job, design, one) >= wanted]
        if doing:
            return size, doing
    return 0, []


@pytest.mark.parametrize(("site", "hours"), [("clinic", 6), ("clinic", 20), ("house", 5)])
def test_the_fewest_loads_are_the_fewest(site, hours):
    job, design = curve(site).job, curve(site).at(hours)
    found = fewest_to_double(job, design)
    _, doing = by_search(job, design)
    assert found.proven
    assert (set(found.loads) in doing) if doing else not found.loads
    if doing:
        assert found.hours_then == pytest.approx(first_year_h(job, design, found.loads))
        assert found.hours_then >= 2 * found.hours_now


@pytest.mark.parametrize("site", ["clinic", "hall", "house"])
def test_the_demo_never_switches_off_what_stays_on(site):
    """At every point of the curve; the names are those that an advice once named."""
    job = curve(site).job
    first_tier = {load.load for load in job.loads if load.tier == job.site.tiers[0]}
    stays = first_tier | {load.load for load in staying_on(job.loads)}
    for point in curve(site).points[::12]:
        assert not stays & set(fewest_to_double(job, point).loads)
    assert {"clinic": "Oxygen concentrator", "hall": "Corridor, toilet and exit lighting"}.get(
        site, "Refrigerator"
    ) in stays


def loads_of(**marks):
    """A first tier of 5 W, then A of 90 W, B of 60 W and C of 5 W, marked as told."""
    return (
        make_load("first", 5.0, tier="needed"),
        make_load("A", 90.0, tier="nice", **marks.get("A", {})),
        make_load("B", 60.0, tier="nice", **marks.get("B", {})),
        make_load("C", 5.0, tier="nice", **marks.get("C", {})),
    )


def found_for(*loads):
    inverter = replace(make_design().inverter, no_load_w=0.0)
    job = make_job(*loads, tiers=("needed", "nice"))
    return fewest_to_double(job, make_design(inverter=inverter))


def test_marks_decide_what_goes():
    assert found_for(*loads_of()).loads == ("A",)
    assert "A" not in found_for(*loads_of(A={"never_off": True})).loads
    assert "A" not in found_for(*loads_of(A={"critical": True})).loads
    assert found_for(*loads_of(A={"only_with": "C"})).loads == ("A", "C")
    # a partner that stays on keeps it on, in either direction
    assert "A" not in found_for(*loads_of(A={"only_with": "C"}, C={"never_off": True})).loads
    assert "A" not in found_for(*loads_of(C={"only_with": "A", "never_off": True})).loads
    assert "A" not in found_for(*loads_of(A={"only_with": "first"})).loads


def test_of_equally_few_those_of_the_later_tier_then_the_longer():
    """Of 160 W half must go, from the second tier on: two of B, C and D do; D is of the last."""
    loads = (
        make_load("A", 1.0, tier="needed"),
        make_load("B", 41.0, tier="nice"),
        make_load("C", 60.0, tier="nice"),
        make_load("D", 60.0, tier="spare"),
    )
    job = make_job(*loads, tiers=("needed", "nice", "spare"))
    design = make_design(inverter=replace(make_design().inverter, no_load_w=0.0))
    assert {frozenset(one) for one in by_search(job, design)[1]} >= {
        frozenset({"C", "D"}),
        frozenset({"B", "D"}),
    }
    assert set(fewest_to_double(job, design).loads) == {"C", "D"}


def test_where_nothing_doubles_the_hours():
    """The inverter's own use stands in the way of doubling."""
    job = make_job(make_load("A", 1.0, tier="a"), make_load("B", 1.0, tier="b"), tiers=("a", "b"))
    inverter = replace(make_design().inverter, no_load_w=100.0)
    found = fewest_to_double(job, make_design(inverter=inverter))
    assert found.loads == ()
    assert found.proven


def test_a_thousand_loads_are_not_searched():
    loads = (
        make_load("first", 1.0, tier="a"),
        *(make_load(f"L{n}", 0.01, tier="b") for n in range(1000)),
    )
    job = make_job(*loads, tiers=("a", "b"))
    assert not fewest_to_double(job, make_design()).proven


def test_groups_grow_over_chains_and_rings():
    loads = [
        make_load("A", 1.0, only_with="B"),
        make_load("B", 1.0, only_with="C"),
        make_load("C", 1.0, only_with="A"),
        make_load("D", 1.0),
        make_load("E", 1.0, only_with="left out"),
    ]
    found = [[load.load for load in group] for group in groups(loads)]
    assert found == [["A", "B", "C"], ["D"], ["E"]]
    marked = [replace(loads[0], never_off=True), *loads[1:]]
    assert [load.load for load in staying_on(marked)] == ["A", "B", "C"]


@settings(max_examples=25)
@given(
    st.lists(
        st.tuples(
            st.integers(5, 120),
            st.integers(0, 20),
            st.integers(2, 24),
            st.sampled_from("abc"),
            st.sampled_from([None, None, None, 0, 1]),
            st.sampled_from([False, False, False, True]),
        ),
        min_size=2,
        max_size=6,
    )
)
def test_the_fewest_of_random_loads(rows):
    """Windows, tiers and marks at random: as few as an exhaustive search finds."""
    loads = tuple(
        make_load(
            f"L{n}",
            float(watts),
            windows=((float(start), float(start + length)),),
            tier=tier,
            never_off=stays,
            only_with=None if partner in {None, n} else f"L{partner}",
        )
        for n, (watts, start, length, tier, partner, stays) in enumerate(rows)
    )
    job = make_job(*loads, tiers=("a", "b", "c"), max_hours=240)
    design = make_design(make_period(make_battery(peukert=1.2, capacity_ah=200.0)))
    found = fewest_to_double(job, design)
    if not found.proven:
        assert 2 * found.hours_now > 960  # beyond what the simulation follows
        return
    _, doing = by_search(job, design)
    assert (set(found.loads) in doing) if doing else not found.loads
