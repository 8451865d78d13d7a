"""The shipped chemistries: complete, in range, and every number with its source."""

from __future__ import annotations

import re

import pytest

from optimizer.inputs.battery_rows import TRAITS
from optimizer.inputs.chemistry import KINDS, load_chemistries, shipped_chemistry_sources

CHEMISTRIES = load_chemistries()


def test_the_usual_chemistries_ship():
    assert {"flooded", "tubular", "agm", "gel", "lfp"} <= set(CHEMISTRIES)
    assert {row.family for row in CHEMISTRIES.values()} == {"lead", "lithium"}


@pytest.mark.parametrize("name", CHEMISTRIES)
def test_every_number_is_there_and_has_a_source(name):
    sources = shipped_chemistry_sources()
    for field in (*TRAITS, *KINDS):
        assert getattr(CHEMISTRIES[name], field) is not None, field
        assert re.search(
            r"from memory|common practice|secondary source|IEEE|IEC|UFGS", sources[name, field]
        ), field


def test_no_source_without_its_number():
    known = {(name, field) for name in CHEMISTRIES for field in (*TRAITS, *KINDS)}
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


def test_a_start_draws_more_than_hours_do():
    for row in CHEMISTRIES.values():
        assert row.surge_rate_max > row.discharge_rate_max


def test_lithium_held_full_ages_as_measured():
    # Naumann et al. 2018, through the published fit, from memory: 80 % left after about 11.0
    # years at 20 °C and 8.7 at 25 °C.
    lfp = CHEMISTRIES["lfp"]
    assert (lfp.float_life_years, lfp.float_life_degc) == (11, 20)
    at_25_degc = lfp.float_life_years / 2 ** (5 / lfp.halving_degc)
    assert at_25_degc == pytest.approx(8.7, abs=0.05)


def test_starts_follow_from_internal_resistances():
    # Arithmetic on the resistances that the sources name: a drop from the half-discharged
    # 12.1 V (2.03 V a cell) to 0.90 of 12 V (2 V), in amperes per ampere-hour.
    for name, mohm, ah in (("flooded", 9, 100), ("agm", 5, 100), ("gel", 6, 100)):
        reckoned = (12.1 - 0.9 * 12) / (mohm / 1000) / ah
        assert CHEMISTRIES[name].surge_rate_max == pytest.approx(reckoned, rel=0.1), name
    reckoned = (2.03 - 0.9 * 2) / 0.25e-3 / 1000
    assert CHEMISTRIES["tubular"].surge_rate_max == pytest.approx(reckoned, rel=0.1)
