"""The program's curve and choices on random sites against the exhaustive search, to the cent.

Each site is written to files, read by the product and by the search's own reader.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, assume, event, given, settings
from hypothesis import strategies as st

from optimizer import InputError, NoDesignError, choose, frontier, load

from .candidate import Answer, Limits, Period
from .oracle import Search, least, longest, non_dominated
from .sites import falling_files, frequent_files, limited_files, night_files, site_files

CENT = 0.005
KINDS = {
    "any": site_files(),
    "frequent cuts": frequent_files(),
    "generator": night_files(),
    "falling": falling_files(),
}
SITES = st.one_of(*KINDS.values())


def random_search(cases, **given_values):
    """Run a test on ``cases`` random inputs, shrink a failure, print how to repeat it."""

    def decorate(check):
        return settings(
            max_examples=cases,
            deadline=None,
            print_blob=True,
            suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
        )(given(**given_values)(check))

    return decorate


def read(files):
    """The site as the product reads it and the search over it as the search does."""
    search = Search(files.case())
    with TemporaryDirectory() as folder:
        try:
            job = load(files.write(Path(folder)))
        except InputError:
            # Nothing to choose from: no inverter at a voltage that the batteries make.
            assert not search.candidates
            assume(False)
    return job, search


def plain(design):
    """A design of the product as the search writes one."""
    return Answer(
        hours=design.hours,
        life_cycle_cost=design.life_cycle_cost,
        upfront_cost=design.upfront_cost,
        voltage=design.voltage_v,
        inverter=design.inverter.inverter,
        units=design.inverter_units,
        contract_w=design.contract.power_w if design.contract else None,
        generator=design.generator.generator if design.generator else None,
        banks=tuple(
            Period(
                bank.battery.battery,
                bank.strings,
                bank.battery.max_dod,
                bank.start,
                bank.end,
                bank.service_life_years,
                bank.bought,
            )
            for bank in design.banks
        ),
    )


def assert_same(design, answer, search):
    """Same hours, same money; the design's own chain costs and carries what it says."""
    assert design.hours == answer.hours
    assert design.life_cycle_cost == pytest.approx(answer.life_cycle_cost, abs=CENT)
    found = plain(design)
    checked = search.priced(found)
    assert checked is not None, found
    assert found.life_cycle_cost == pytest.approx(checked.life_cycle_cost, abs=CENT)
    assert found.upfront_cost == pytest.approx(checked.upfront_cost, abs=CENT)
    assert found.voltage == checked.voltage
    for period, other in zip(found.banks, checked.banks, strict=True):
        assert period.service_life == pytest.approx(other.service_life, rel=1e-9)
        assert replace(period, service_life=other.service_life) == other


def assert_same_curve(curve, answers, search):
    points = [(point.hours, round(point.life_cycle_cost, 2)) for point in curve.points]
    wanted = [(answer.hours, round(answer.life_cycle_cost, 2)) for answer in answers]
    assert len(points) == len(wanted), (points, wanted)
    for design, answer in zip(curve.points, answers, strict=True):
        assert_same(design, answer, search)


def a_family(data, search):
    families = sorted({battery.family for battery in search.case.batteries})
    return data.draw(st.sampled_from([None, None, *families]), "family")


def falls(optima):
    """Whether the least cost of meeting the conditions falls somewhere as the hours grow."""
    costs = [optima[hours].life_cycle_cost for hours in sorted(optima)]
    return any(after < before - 1e-6 for before, after in pairwise(costs))


def features(search, answers):
    """What of the model the answers made use of."""
    banks = [bank for answer in answers for bank in answer.banks]
    several = {b.battery for b in search.case.batteries if len(b.max_dods) > 1}
    found = {
        "generator": any(answer.generator for answer in answers),
        "contract helped": any(search.candidate_of(a).setting.excesses for a in answers),
        "box": any(search.candidate_of(a).one.boxed for a in answers),
        "renewals": any(bank.bought > 1 for bank in banks),
        "several spans": any(len(answer.banks) > 1 for answer in answers),
        "a depth chosen": any(bank.battery in several for bank in banks),
        "scheduled cuts": bool(banks and search.case.daily),
        "tiers let go": bool(banks and search.case.site.tier_hours),
        "limit on later years": bool(banks and search.limits.later_limit is not None),
    }
    return [name for name, used in found.items() if used]


#: What the random sites together make use of, so that no feature goes untried.
USED = {
    "generator",
    "contract helped",
    "box",
    "renewals",
    "several spans",
    "a depth chosen",
    "scheduled cuts",
    "tiers let go",
    "limit on later years",
}


@pytest.mark.parametrize("kind", KINDS)
def test_curve(exact_cases, kind):
    seen = dict.fromkeys(("sites", "with a design", "cost falls"), 0)

    cases = exact_cases // 2 if kind == "any" else exact_cases // 6

    @random_search(cases, files=KINDS[kind], data=st.data())
    def check(files, data):
        job, search = read(files)
        family = a_family(data, search)
        optima = search.optima(family)
        answers = non_dominated(optima)
        seen["sites"] += 1
        seen["with a design"] += bool(optima)
        seen["cost falls"] += falls(optima)
        for name in features(search, answers):
            event(name)
            seen[name] = seen.get(name, 0) + 1
        assert_same_curve(frontier(job, family=family), answers, search)

    check()
    assert seen["with a design"] >= seen["sites"] // 4, seen
    if kind == "falling":
        assert seen["cost falls"] >= seen["sites"] // 20, seen
    if kind == "any":  # a few sites need not meet with everything
        assert len(USED & set(seen)) >= (len(USED) if exact_cases >= 2000 else 6), seen


def test_least_cost_of_hours(exact_cases):
    @random_search(exact_cases // 16, files=SITES, data=st.data())
    def check(files, data):
        job, search = read(files)
        family = a_family(data, search)
        hours = data.draw(st.integers(1, job.site.max_hours), "hours")
        answer = least(search.optima(family), hours)
        if answer is None:
            with pytest.raises(NoDesignError):
                choose(job, hours=hours, family=family)
        else:
            assert_same(choose(job, hours=hours, family=family).design, answer, search)

    check()


@pytest.mark.parametrize("limit", ["budget", "lifetime_budget"])
def test_longest_for_the_money(exact_cases, limit):
    @random_search(exact_cases // 16, files=SITES, data=st.data())
    def check(files, data):
        job, search = read(files)
        family = a_family(data, search)
        unlimited = search.optima(family)
        assume(unlimited)
        answer = unlimited[data.draw(st.sampled_from(sorted(unlimited)), "hours")]
        money = answer.upfront_cost if limit == "budget" else answer.life_cycle_cost
        # Exactly what a design costs, a cent less, and somewhat more or less.
        money = data.draw(st.sampled_from([money, money - 0.01, 0.9 * money, 1.1 * money]), limit)
        assume(money > 0)
        search.limits = replace(search.limits, **{limit: money})
        found = longest(search.optima(family))
        if found is None:
            with pytest.raises(NoDesignError):
                choose(job, family=family, **{limit: money})
        else:
            assert_same(choose(job, family=family, **{limit: money}).design, found, search)

    check()


def test_money_for_one_first_bank_and_gas_works(exact_cases):
    """A budget that is exactly one set, one first bank and the works for a later vented one."""

    @random_search(exact_cases // 8, files=limited_files(), data=st.data())
    def check(files, data):
        job, search = read(files)
        assume(search.candidates)
        candidate = data.draw(st.sampled_from(search.candidates), "variant and set")
        hours = data.draw(st.integers(1, job.site.max_hours), "hours")
        first = data.draw(st.sampled_from(list(candidate.first_paid)), "first bank")
        money = float(candidate.upfront[hours - 1] + candidate.gas_works + first)
        search.limits = Limits(money, None, search.limits.later_limit)
        job = replace(job, site=replace(job.site, budget=money, lifetime_budget=None))
        assert_same_curve(frontier(job), non_dominated(search.optima()), search)

    check()


def test_money_of_a_later_year(exact_cases):
    """A limit that is exactly what a design pays in one of its later years, or a cent less."""

    @random_search(exact_cases // 8, files=site_files(), data=st.data())
    def check(files, data):
        job, search = read(files)
        search.limits = replace(search.limits, later_limit=None)
        optima = search.optima()
        assume(optima)
        answer = optima[data.draw(st.sampled_from(sorted(optima)), "hours")]
        later = search.candidate_of(answer).later_sums(answer)
        assume(max(later, default=0.0) > 1)
        money = data.draw(st.sampled_from([max(later), max(later) - 0.01]), "limit")
        search.limits = replace(search.limits, later_limit=money)
        job = replace(job, site=replace(job.site, later_limit=money))
        assert_same_curve(frontier(job), non_dominated(search.optima()), search)

    check()


def test_both_solvers(exact_cases):
    @random_search(exact_cases // 8, files=SITES)
    def check(files):
        job, search = read(files)
        answers = non_dominated(search.optima())
        for solver in ("highs", "cbc"):
            assert_same_curve(frontier(job, solver=solver), answers, search)

    check()
