"""The exhaustive search reproduces the worked sites, whose optima were found by other programs."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path

import pytest

from .candidate import Limits
from .case import read_folder
from .oracle import Search, least, longest, non_dominated

CASES = sorted((Path(__file__).parents[1] / "cases").glob("worked*"))
FAMILIES = {"any": None, "lead": "lead", "lithium": "lithium"}


def test_the_cases_are_all_here():
    assert len(CASES) == 7


def told(answer):
    """An answer as the expectation writes it."""
    if answer is None:
        return None
    told = asdict(answer)
    for amount in ("life_cycle_cost", "upfront_cost"):
        told[amount] = pytest.approx(told[amount], abs=0.01)
    told["banks"] = [
        {**bank, "service_life": pytest.approx(bank["service_life"], abs=1e-4)}
        for bank in told["banks"]
    ]
    return told


@pytest.mark.parametrize("folder", CASES, ids=lambda folder: folder.name)
def test_worked_site(folder):
    case = read_folder(folder)
    search = Search(case)
    expected = json.loads((folder / "expected.json").read_text(encoding="utf-8"))
    assert set(expected["optimum"]) == set(expected["frontier"]) == set(FAMILIES)
    for name, family in FAMILIES.items():
        optima = search.optima(family)
        rows = expected["optimum"][name]
        assert [row["hours"] for row in rows] == list(range(1, max(optima) + 1))
        for row in rows:
            wanted = {**row, "hours": row["carries"]}
            del wanted["carries"]
            assert told(least(optima, row["hours"])) == wanted
        assert [told(point) for point in non_dominated(optima)] == expected["frontier"][name]
    assert expected["budget"]
    for row in expected["budget"]:
        assert told(longest(search.optima(limits=Limits(budget=row["budget"])))) == row["longest"]
