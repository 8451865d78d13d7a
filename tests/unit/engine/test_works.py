"""Works by basis and time, and the factor for tax and markup."""

from __future__ import annotations

import pytest

from optimizer.engine.works import gross, works_price
from tests.unit.builders import every_work, make_job


@pytest.mark.parametrize(
    ("basis", "first", "swap"),
    [
        ("site", 200.0, 0.0),
        ("inverter_unit", 57.0, 37.0),
        ("battery_unit", 7.0, 11.0),
        ("string", 43.0, 14.0),
        ("kg", 0.6, 0.8),
        ("vented_bank", 180.0, 0.0),
    ],
)
def test_works_of_a_basis(basis, first, swap):
    job = make_job(works=every_work())
    assert works_price(job, basis, first=True) == pytest.approx(first)
    assert works_price(job, basis, first=False) == pytest.approx(swap)


def test_none_listed_costs_nothing():
    assert works_price(make_job(), "site", first=True) == 0


def test_gross_is_markup_then_tax():
    assert gross(make_job(markup=0.15, tax_rate=0.1)) == pytest.approx(1.265)
