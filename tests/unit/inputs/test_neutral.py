"""No text of a file is run as a formula, and none is changed by going out and in again."""

from __future__ import annotations

import pytest

from optimizer.inputs.neutral import neutralised, read_back


@pytest.mark.parametrize("text", ["=1+1", "+4", "-4", "@x", "\tx", "'=x", "''-x"])
def test_text_is_no_formula_and_comes_back(text):
    marked = neutralised(text)
    assert marked == f"'{text}"
    assert read_back(marked) == text


@pytest.mark.parametrize("value", ["Harbour 12", "'quoted'", -2.5, None, 3])
def test_other_values_stay(value):
    assert neutralised(value) == value
