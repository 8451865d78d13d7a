"""What code builds is held to the facts of the files."""

from __future__ import annotations

from dataclasses import replace

import pytest

from optimizer import InputError, choose, compare, frontier, load, staircase, trade_off
from optimizer.inputs.built import checked


@pytest.mark.parametrize("ask", [choose, compare, frontier, staircase, trade_off])
def test_no_question_is_answered_for_a_site_out_of_range(ask):
    job = load("house")
    wrong = replace(job, site=replace(job.site, discount_rate=-2.0, max_drop=0.5))
    with pytest.raises(InputError) as caught:
        ask(wrong)
    assert [fault.column for fault in caught.value.faults] == [
        "economics.discount_rate",
        "wiring.max_drop",
    ]
    assert "above -0.05 and below 0.5" in caught.value.faults[0].wanted


def test_a_number_without_bound_is_none():
    with pytest.raises(InputError, match="voltage_v"):
        checked(load("house").with_site(supply_voltage_v=float("nan")))


@pytest.mark.parametrize("site", ["house", "clinic", "hall"])
def test_what_was_read_passes(site):
    job = load(site)
    assert checked(job) is job
