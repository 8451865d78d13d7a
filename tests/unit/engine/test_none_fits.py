"""The second way to "no design": the solver is asked too."""

from __future__ import annotations

import pytest

from optimizer import InternalError, NotProvenError
from optimizer.engine import none_fits
from optimizer.engine.curve import Search
from optimizer.engine.none_fits import confirm_none
from optimizer.engine.solver import Outcome, Status
from tests.unit.builders import make_battery, make_job, with_site


def small(**changes):
    return make_job(batteries=[make_battery(capacity_ah=50.0)], max_hours=12, **changes)


@pytest.mark.parametrize("solver", ["highs", "cbc"])
def test_nothing_is_confirmed(solver):
    search = Search(small(voltages=(12,)), solver=solver)
    assert search.cheapest(12) is None
    assert confirm_none(search, 12) is None


def test_nothing_within_a_budget_is_confirmed():
    confirm_none(Search(small(budget=600.0)), 1)
    confirm_none(Search(small(lifetime_budget=600.0)), 1)


def test_nothing_on_offer_at_all_is_confirmed():
    confirm_none(Search(make_job(batteries=[])), 1)
    confirm_none(Search(make_job(inverters=[])), 1)


def test_a_design_that_was_missed_is_a_bug():
    search = Search(small())
    assert search.exists(2)
    with pytest.raises(InternalError, match="the solver finds a design that carries 2 h"):
        confirm_none(search, 2)


def test_a_design_beyond_the_lifetime_budget_is_none():
    search = Search(small())
    least = search.least(2)
    confirm_none(Search(with_site(search.job, lifetime_budget=least - 1)), 2)


def test_a_solver_that_cannot_tell_proves_nothing(monkeypatch):
    monkeypatch.setattr(
        none_fits, "solve", lambda *_: Outcome(Status.UNKNOWN, float("nan"), {}, 0.0)
    )
    with pytest.raises(NotProvenError, match="could not tell"):
        confirm_none(Search(small()), 1)
