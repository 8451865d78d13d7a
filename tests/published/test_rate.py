"""Peukert's law with rated hours."""

from __future__ import annotations

import pytest

from optimizer.formulas.rate import fixed_time_share
from tests.published.parts import shipped
from tests.published.table import Value, values

SHARES = {
    1.1: "100/93.9/92.0/88.2/84.2/76.2",
    1.2: "100/89.1/85.8/79.4/72.9/60.7",
    1.3: "100/85.2/80.9/72.6/64.5/50.1",
}
HOURS = (20, 10, 8, 5, 3, 1)

# ranges in public tables of exponents; the shipped values must lie in them
EXPONENTS = {"flooded": (1.20, 1.60), "agm": (1.05, 1.15), "gel": (1.10, 1.25), "lfp": (1.04, 1.06)}


def discharge_hours(capacity_ah: float, rate_h: float, peukert: float, current_a: float) -> float:
    """How long a constant current runs a battery flat: t = H · (C / (I · H))^k (Peukert 1897)."""
    return rate_h * (capacity_ah / (current_a * rate_h)) ** peukert


def drawn_a(capacity_ah: float, peukert: float, hours: float) -> float:
    """What a battery rated at 20 h gives for some hours; a tolerance in hours is k times larger."""
    return capacity_ah * float(fixed_time_share(hours, 20, peukert)) / hours


@values(
    Value("250 Ah at 20 A last 10.856 h [A]", lambda: drawn_a(250, 1.3, 10.856), "20",
          "W. Peukert 1897, with rated hours", "arithmetic", 20 * 0.0005 / 10.856 / 1.3),
    Value("100 Ah at 10 A last 8.706 h [A]", lambda: drawn_a(100, 1.2, 8.706), "10",
          "W. Peukert 1897, with rated hours", "arithmetic", 10 * 0.0005 / 8.706 / 1.2),
    Value("100 Ah at 10 A, encyclopaedia: 8.7 h [A]", lambda: drawn_a(100, 1.2, 8.7), "10",
          "encyclopaedia's example", "from memory", 10 * 0.05 / 8.7 / 1.2),
    *(
        Value(
            f"k {peukert}, {hours} h [%]",
            lambda hours=hours, peukert=peukert: 100 * fixed_time_share(hours, 20, peukert),
            printed,
            "(h/20)^((k−1)/k)",
            "arithmetic",
            0.05,
        )
        for peukert, row in SHARES.items()
        for hours, printed in zip(HOURS, row.split("/"), strict=True)
    ),
)  # fmt: skip
def test_value(value):
    value.check()


def test_the_short_form_is_a_trap():
    # C / I^k = 5.09 h is published as if right (secondary source): it holds for C at 1 A only
    short_form_h = 250 / 20**1.3
    assert short_form_h == pytest.approx(5.09, abs=0.005)
    assert discharge_hours(250, 20, 1.3, 20) > 2 * short_form_h
    # at the rated current the right form gives the rated hours back, the short one does not
    assert discharge_hours(250, 20, 1.3, 12.5) == pytest.approx(20)


@pytest.mark.parametrize("chemistry", EXPONENTS)
def test_shipped_exponents_lie_in_published_ranges(chemistry):
    low, high = EXPONENTS[chemistry]
    assert low <= shipped(chemistry).peukert <= high


@pytest.mark.parametrize("peukert", [1.05, 1.2, 1.4])
@pytest.mark.parametrize("hours", [0.5, 3.0, 12.0])
def test_fixed_time_and_fixed_current_are_one_law(hours, peukert):
    share = float(fixed_time_share(hours, 20, peukert))
    assert discharge_hours(100, 20, peukert, 100 * share / hours) == pytest.approx(hours)
