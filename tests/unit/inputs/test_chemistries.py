"""The shipped chemistries: complete, in range, and every number with its source."""

from __future__ import annotations

import re

import pytest

from optimizer.inputs import load_chemistries, shipped_chemistry_sources
from optimizer.inputs.battery_rows import OPEN_TRAITS, TRAITS
from optimizer.inputs.chemistry import KINDS

CHEMISTRIES = load_chemistries()


def test_the_usual_chemistries_ship():
    assert {"flooded", "tubular", "agm", "gel", "lfp"} <= set(CHEMISTRIES)
    assert {row.family for row in CHEMISTRIES.values()} == {"lead", "lithium"}


@pytest.mark.parametrize("name", CHEMISTRIES)
def test_every_number_is_there_and_has_a_source(name):
    sources = shipped_chemistry_sources()
    for field in (*TRAITS, *KINDS):
        if field in OPEN_TRAITS and getattr(CHEMISTRIES[name], field) is None:
            continue
        assert getattr(CHEMISTRIES[name], field) is not None, field
        assert re.search(
            r"from memory|common practice|secondary source|IEEE|UFGS", sources[name, field]
        ), field


def test_no_source_without_its_number():
    known = {
        (name, field)
        for name, row in CHEMISTRIES.items()
        for field in (*TRAITS, *KINDS)
        if getattr(row, field) is not None
    }
    assert set(shipped_chemistry_sources()) == known


def test_cold_shares_are_the_reciprocals_of_the_factors():
    # IEEE Std 485, factors at the coldest electrolyte, base 25 °C; from memory.
    factors = {-3.9: 1.52, 4.4: 1.30, 10.0: 1.19, 15.6: 1.11, 21.1: 1.04, 25.0: 1.00}
    for name in ("flooded", "tubular", "agm", "gel"):
        points = dict(CHEMISTRIES[name].cold_points)
        assert points.keys() == factors.keys()
        for degc, share in points.items():
            assert share == pytest.approx(1 / factors[degc], abs=0.0005)


def test_lead_at_freezing_gives_71_percent():
    # Arithmetic: a straight line between the points at -3.9 and 4.4 °C.
    (cold_degc, cold), (warm_degc, warm) = CHEMISTRIES["flooded"].cold_points[:2]
    share = cold + (0 - cold_degc) / (warm_degc - cold_degc) * (warm - cold)
    assert share == pytest.approx(0.71, abs=0.005)


def test_lithium_is_not_charged_below_freezing():
    # Common practice.
    assert CHEMISTRIES["lfp"].min_charge_degc == 0


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [("flooded", 1.20, 1.30), ("agm", 1.05, 1.15), ("gel", 1.10, 1.25), ("lfp", 1.03, 1.07)],
)
def test_peukert_within_published_ranges(name, low, high):
    # Secondary sources: ranges of the exponent by type.
    assert low <= CHEMISTRIES[name].peukert <= high


@pytest.mark.parametrize(
    ("name", "depth", "low", "high"),
    [
        ("flooded", 0.5, 750, 750),  # secondary source: a public list of questions
        ("flooded", 0.8, 225, 225),
        ("agm", 0.5, 500, 700),  # from memory, as the rest
        ("gel", 0.5, 700, 1000),
        ("tubular", 0.5, 1800, 2500),
        ("lfp", 0.8, 4000, 8000),
    ],
)
def test_cycles_within_usual_ranges(name, depth, low, high):
    assert low <= dict(CHEMISTRIES[name].cycle_points)[depth] <= high
