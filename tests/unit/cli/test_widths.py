"""Every command on every demo; the fixture lays out what it shows at every width."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.slow

COMMANDS = [
    "check SITE",
    "check SITE --what-if",
    "frontier SITE",
    "choose SITE --assumptions",
    "trade-off SITE",
    "tiers SITE",
    "outages SITE --years 100",
    "budget SITE --budgets 4000,9000",
    "quote SITE",
]


@pytest.mark.parametrize("site", ["house", "clinic", "hall"])
@pytest.mark.parametrize("command", COMMANDS)
def test_nothing_is_cut_on_a_narrow_terminal(keeplit, command, site):
    assert keeplit(*command.replace("SITE", site).split()).status == 0
