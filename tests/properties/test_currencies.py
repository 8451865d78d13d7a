"""A job in a currency of other size has the same answers, every sum as many times as large."""

from __future__ import annotations

from datetime import date
from functools import cache

import pytest

from optimizer import choose, compare, frontier, make_quote, staircase, trade_off
from optimizer.inputs.demo import demo_names, site_file
from optimizer.inputs.draft import draft_from_files
from optimizer.inputs.exchange import in_currency

HOURS = 6
#: One of the site's currency is so many of the other, which has coins of one thousandth or one.
SIZES = [("KWD", 1e-3), ("VND", 1e4), ("VND", 1e8)]


@cache
def job_of(demo, currency="EUR", size=1.0):
    return in_currency(draft_from_files(site_file(demo)), currency, size).job()


def money(design):
    return design.life_cycle_cost, design.upfront_cost


def equipment(design):
    banks = [(one.battery.battery, one.strings, one.start, one.end) for one in design.banks]
    return design.hours, design.inverter.inverter, design.inverter_units, banks


def proven(job):
    """Every design that the commands show, by what was asked."""
    compared = compare(job, HOURS)
    return [
        *frontier(job, max_hours=12).points,
        choose(job, hours=HOURS).design,
        *trade_off(job, HOURS).points,
        *(one.design for one in (*compared.alternatives, *compared.chemistries)),
    ]


@cache
def proven_here(demo):
    return proven(job_of(demo))


@pytest.mark.slow
@pytest.mark.parametrize(("currency", "size"), SIZES)
@pytest.mark.parametrize("demo", demo_names())
def test_the_same_designs(demo, currency, size):
    here, there = proven_here(demo), proven(job_of(demo, currency, size))
    assert [equipment(one) for one in there] == [equipment(one) for one in here]
    for one, other in zip(here, there, strict=True):
        assert money(other) == pytest.approx([sum_ * size for sum_ in money(one)], rel=1e-6)


@pytest.mark.slow
def test_the_same_steps_and_prices():
    """Coins are finer there: a step may stand a coin lower, a quote as much."""
    size = 1e8
    here, there = job_of("clinic"), job_of("clinic", "VND", size)
    steps, others = staircase(here).steps, staircase(there).steps
    assert [equipment(one.design) for one in others] == [equipment(one.design) for one in steps]
    for one, other in zip(steps, others, strict=True):
        assert one.budget - 0.01 <= other.budget / size <= one.budget * (1 + 1e-9)
    one, other = (
        float(make_quote(job, options=[HOURS], day=date(2026, 11, 1)).options[0].pricing.total)
        for job in (here, there)
    )
    assert other == pytest.approx(one * size, abs=0.2 * size)
