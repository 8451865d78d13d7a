"""The exhaustive search reproduces the worked sites, whose optima were found by other programs."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings

from optimizer.inputs import load_job

from .oracle import Search, least, longest, non_dominated, optimum_at
from .strategies import falling_jobs, jobs

CASES = Path(__file__).parents[1] / "cases"
FAMILIES = {"any": None, "lead": "lead", "lithium": "lithium"}


def plain(answer):
    """An answer as the expectation writes it, without the hours it was asked for."""
    return answer and {
        "hours": answer.hours,
        "life_cycle_cost": pytest.approx(answer.life_cycle_cost, abs=0.01),
        "upfront_cost": pytest.approx(answer.upfront_cost, abs=0.01),
        "voltage": answer.voltage,
        "inverter": answer.inverter,
        "units": answer.units,
        "banks": [
            {
                "battery": bank.battery,
                "strings": bank.strings,
                "start": bank.start,
                "end": bank.end,
                "service_life": pytest.approx(bank.service_life, abs=1e-4),
            }
            for bank in answer.banks
        ],
    }


@pytest.mark.parametrize("case", ["worked", "worked2", "worked3"])
def test_worked_site(case):
    job = load_job(CASES / case / "site.toml")
    expected = json.loads((CASES / case / "expected.json").read_text(encoding="utf-8"))
    for name, family in FAMILIES.items():
        optima = optimum_at(job, family)
        rows = expected["optimum"][name]
        assert [row["hours"] for row in rows] == list(range(1, max(optima) + 1))
        for row in rows:
            wanted = {**row, "hours": row["carries"]}
            del wanted["carries"]
            assert plain(least(optima, row["hours"])) == wanted
        assert [plain(point) for point in non_dominated(optima)] == expected["frontier"][name]
    for row in expected["budget"]:
        assert plain(longest(job, budget=row["budget"])) == row["longest"]


def short(job):
    """Four years, two strings and early retirement: few enough chains to follow one by one."""
    years = min(job.site.horizon_years, 4)
    share = min(job.site.min_service_share, 0.25)
    return replace(
        job,
        site=replace(job.site, horizon_years=years, min_service_share=share, max_parallel=2),
    )


@settings(max_examples=60, deadline=None)
@given((jobs() | falling_jobs()).map(short))
def test_chains_year_by_year_miss_none(job):
    """Following every chain to its end finds what the search backwards over the years finds."""
    search, hours = Search(job), 2
    horizon, budget = job.site.horizon_years, job.site.budget
    least_cost = None
    for one in search.sets:
        need_wh = one.need_wh(job, search.demand, hours)
        fitting = [b for b in search.banks[one.inverter.system_v] if search.fits(one, b)]
        unfinished = [(0, one.cost, one.upfront, False)]
        while unfinished:
            year, cost, upfront, vented = unfinished.pop()
            if year == horizon:
                works = search.vented_works if vented else 0.0
                affordable = budget is None or upfront + works <= budget * (1 + 1e-9)
                if affordable and (least_cost is None or cost + works < least_cost):
                    least_cost = cost + works
                continue
            for bank in fitting:
                usable_wh = bank.usable_wh(search.demand, hours)
                for age in bank.ages_at_retirement(job, year, usable_wh, need_wh):
                    paid = upfront + (bank.paid[0] if year == 0 else 0.0)
                    unfinished.append(
                        (year + age, cost + bank.cost[year, age], paid, vented or bank.vented)
                    )
    found = search.at(hours, budget, None)
    if least_cost is None:
        assert found is None
    else:
        assert found is not None
        assert found.life_cycle_cost == pytest.approx(least_cost, abs=1e-6)
