"""Every command on every demo; the fixture lays out what it shows at every width.

What the README asks of the house, and comparisons of the short house, pass through it elsewhere.
"""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.slow

COMMANDS = [
    "check SITE",
    "check SITE --what-if",
    "frontier SITE",
    "choose SITE --assumptions",
    "trade-off SITE",
]
#: The house is asked these by the README.
ELSEWHERE = [
    "tiers SITE",
    "outages SITE --years 100",
    "budget SITE --budgets 4000,9000",
    "quote SITE",
]
ASKED = [(command, site) for command in COMMANDS for site in ("house", "clinic", "hall")]
ASKED += [(command, site) for command in ELSEWHERE for site in ("clinic", "hall")]


@pytest.mark.parametrize(("command", "site"), ASKED)
def test_nothing_is_cut_on_a_narrow_terminal(keeplit, command, site):
    assert keeplit(*command.replace("SITE", site).split()).status == 0
