"""Money that ships in one currency is asked for in another, never taken over."""

from __future__ import annotations

import pytest

from optimizer import InputError
from optimizer.inputs.draft import draft_from_files
from optimizer.inputs.exchange import open_money, with_money
from tests.unit.quote.made import DEMO


def dinars():
    draft = draft_from_files(DEMO / "house" / "site.toml")
    return draft.with_site("site", "currency", "KWD")


def test_amounts_are_filled_in_where_rows_leave_them_open():
    draft = dinars()
    asked = open_money(draft)
    assert {(column, amount) for (_, column), amount in asked.items()} == {
        ("scrap_value", 8),
        ("upkeep_year", 3),
    }
    with pytest.raises(InputError):
        draft.job()
    filled = with_money(draft, dict.fromkeys(asked, 2.5))
    assert open_money(filled) == {}
    batteries = filled.job().catalog.batteries
    assert {one.scrap_value for one in batteries if one.gas == "vented"} == {2.5}
    assert open_money(draft_from_files(DEMO / "house" / "site.toml")) == {}
