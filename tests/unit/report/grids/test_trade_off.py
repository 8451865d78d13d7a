"""Pay now or pay later as a table: all that is bought at the start is named."""

from __future__ import annotations

import pytest

from optimizer import load, trade_off
from optimizer.report.grids.trade_off import designs
from optimizer.report.words.writer import Writer

pytestmark = pytest.mark.slow


def test_each_design_is_told_with_its_generator():
    found = trade_off(load("house"), 18)
    bought = [point.generator for point in found.points]
    assert any(bought)
    shown = designs(Writer("EUR"), found).only("equipment").rows
    for (told,), generator in zip(shown, bought, strict=True):
        parts = str(told).split("; ")
        assert parts[2:] == ([] if generator is None else [generator.generator])
