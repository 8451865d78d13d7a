"""``keeplit fields``: the facts about columns and keys."""

from __future__ import annotations


def test_one_section_and_its_table(keeplit):
    ran = keeplit("fields", "outages", "fuses")
    assert ran.status == 0
    assert "[outages]" in ran.out
    assert "log_years" in ran.out
    assert "rating_a" in ran.out
    assert "tariff" not in ran.out


def test_all_of_them(keeplit):
    ran = keeplit("fields")
    assert all(
        name in ran.out for name in ("[site]", "tariff", "peukert", "litres_h_idle", "age_years")
    )


def test_an_unknown_name(keeplit):
    ran = keeplit("fields", "resilence")
    assert ran.status == 2
    assert "nearest known: resilience" in ran.err
