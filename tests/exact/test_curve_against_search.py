"""The program's curve on random sites against the exhaustive search, to the cent."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from optimizer import frontier

from .against import KINDS, a_family, assert_same_curve, draw_until, read
from .oracle import non_dominated


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

    @settings(max_examples=cases)
    @given(files=KINDS[kind], data=st.data())
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

    def enough():
        if kind == "any" and len(USED & set(seen)) < (len(USED) if exact_cases >= 2000 else 6):
            return False  # a few sites need not meet with everything
        if kind == "falling" and seen["cost falls"] < cases // 20:
            return False
        return seen["with a design"] >= seen["sites"] // 4

    draw_until(enough, check, seen)
