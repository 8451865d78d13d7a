"""What commands print with --json fits the schema that keeplit schema prints.

The fixture holds all that any test asks for to its schema; here stands what no other asks for.
"""

from __future__ import annotations

import json

import pytest

from optimizer.report.json.answers import ANSWERS, command_schema
from tests.unit.programme.programmes import write_programme

pytestmark = pytest.mark.slow

ASKED = [
    "frontier hall --family lead",
    "choose hall --lifetime-budget 90000",
    "outages house --years 20 --durations exponential:2",
    "budget house --from 3000 --to 4000 --step 500",
    "allot SITES --budget 3000,6000 --scenarios --no-store",
    "allot SITES --require hours=2 --group-share 20% --no-store",
    "quote SHORT --options 2,6,lead:4 --date 2028-11-25",
    "check clinic",
    "check hall",
    "trade-off clinic",
    "worth SHORT --set lost-load=50",
    "choose SHORT --set rate=12% --against SHORT",
    "frontier SHORT --set rate=12% --against rate=2%",
    "compare SHORT --against outages=x2",
    "budget SHORT --budgets 2500 --against price:lead=+20%",
]
REFUSED = ["choose house --hours 0", "allot SITES --budget 1 --no-store"]


@pytest.mark.parametrize("command", ANSWERS)
def test_every_schema_is_printed(keeplit, command):
    ran = keeplit("schema", command)
    assert (ran.status, json.loads(ran.out)) == (0, command_schema(command))


@pytest.mark.parametrize("line", [*ASKED, *REFUSED])
def test_what_is_printed_fits(keeplit, tmp_path, short_house, line):
    sites = write_programme(tmp_path, "one,home,x,3,,\ntwo,home,y,5,2,1.2\n")
    places = {"SHORT": str(short_house), "SITES": str(sites)}
    ran = keeplit(*(places.get(word, word) for word in line.split()), "--json")
    assert (ran.status != 0) == (line in REFUSED)


def test_the_commands_are_listed(keeplit):
    ran = keeplit("schema")
    assert (ran.status, ran.out.split()) == (0, list(ANSWERS))


def test_an_unknown_command_is_told_with_the_nearest(keeplit):
    ran = keeplit("schema", "frontiers")
    assert ran.status == 2
    assert "nearest known: frontier" in ran.err
