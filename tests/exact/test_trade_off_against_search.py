"""Pay now or pay later, against the exhaustive search under each limit on the upfront cost."""

from pathlib import Path

import pytest

from optimizer import load, trade_off

from .candidate import Limits
from .case import read_folder
from .oracle import Search, least

CASES = Path(__file__).parents[1] / "cases"


@pytest.mark.parametrize("name", ["worked", "worked4"])
def test_every_point_is_the_optimum_of_the_search_under_its_limit(name):
    job = load(CASES / name).with_site(budget=None, lifetime_budget=None)
    search = Search(read_folder(CASES / name))
    found = trade_off(job)

    def under(budget: float):
        return least(search.optima(limits=Limits(budget=budget)), found.hours)

    for point, follower in zip(found.points, [*found.points[1:], None], strict=True):
        held = under(point.upfront_cost + 0.005)
        assert held.life_cycle_cost == pytest.approx(point.life_cycle_cost, abs=0.01)
        assert held.upfront_cost == pytest.approx(point.upfront_cost, abs=0.01)
        below = under(point.upfront_cost - 0.005)
        if follower is None:
            assert below is None, "nothing costs less upfront"
        else:
            assert below.life_cycle_cost == pytest.approx(follower.life_cycle_cost, abs=0.01)
