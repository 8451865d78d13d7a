"""A job in another currency buys the same things for as many times the money."""

import pytest

from optimizer import frontier
from optimizer.inputs.demo import site_file
from optimizer.inputs.draft import draft_from_files
from optimizer.inputs.exchange import in_currency


@pytest.mark.parametrize("name", ["house", "hall"])
def test_the_same_designs_at_the_rate(name):
    draft = draft_from_files(site_file(name)).with_site("resilience", "max_hours", 8)
    draft = draft.with_site("resilience", "target_hours", 4)
    rate = 141.3
    here, there = (frontier(one.job()) for one in (draft, in_currency(draft, "KES", rate)))
    bought = [
        [(p.hours, p.inverter.inverter, *(b.battery.battery for b in p.banks)) for p in one.points]
        for one in (here, there)
    ]
    assert bought[0] == bought[1]
    for one, other in zip(here.points, there.points, strict=True):
        assert other.life_cycle_cost == pytest.approx(one.life_cycle_cost * rate, rel=1e-6)
        assert other.upfront_cost == pytest.approx(one.upfront_cost * rate, rel=1e-6)
    assert there.job.site.currency == "KES"


def test_what_is_no_amount_stays_as_it_stands():
    draft = draft_from_files(site_file("house"))
    table = draft.tables["batteries"]
    odd = table.rows[0].index("price")
    row = list(table.rows[1])
    row[odd] = "on request"
    made = in_currency(
        draft.with_table("batteries", type(table)(table.file, (table.rows[0], tuple(row)))),
        "KES",
        2.0,
    )
    assert made.tables["batteries"].rows[1][made.tables["batteries"].rows[0].index("price")] == (
        "on request"
    )
