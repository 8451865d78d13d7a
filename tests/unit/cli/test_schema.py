"""What commands print with --json fits the schema that keeplit schema prints."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path

import jsonschema
import pytest

from optimizer import choose, load
from optimizer.quote import Company
from optimizer.quote.as_built import as_built
from optimizer.report.json.answers import ANSWERS, command_schema
from tests.unit.programme.programmes import write_programme

pytestmark = pytest.mark.slow

SUPPLIER = Path(__file__).parents[3] / "catalogs_demo" / "supplier"
#: Each command, and what it is asked.
ASKED = {
    "frontier": [("frontier", "house"), ("frontier", "hall", "--family", "lead")],
    "choose": [
        ("choose", "house"),
        ("choose", "house", "--budget", "3000", "--assumptions"),
        ("choose", "hall", "--lifetime-budget", "90000"),
    ],
    "assess": [
        ("assess", "house", "DESIGN"),
        ("assess", "house", "DESIGN", "--assumptions"),
        ("assess", "--battery", "12 V 95 Ah agm", "--load", "300"),
    ],
    "outages": [
        ("outages", "house", "--years", "20"),
        ("outages", "house", "--years", "20", "--durations", "exponential:2"),
    ],
    "compare": [("compare", "SHORT", "--break-even-line")],
    "sensitivity": [
        ("sensitivity", "SHORT", "--scenarios", "4", "--processes", "1"),
    ],
    "budget": [
        ("budget", "house"),
        ("budget", "house", "--from", "3000", "--to", "4000", "--step", "500"),
    ],
    "tiers": [("tiers", "house")],
    "allot": [
        ("allot", "SITES", "--budget", "3000,6000", "--scenarios", "--no-store"),
        ("allot", "SITES", "--require", "hours=2", "--group-share", "20%", "--no-store"),
    ],
    "quote": [
        ("quote", "SHORT", "--options", "4", "--date", "2026-11-25", "--appendix"),
        ("quote", "SHORT", "--options", "2,6,lead:4", "--date", "2028-11-25"),
    ],
    "check": [("check", "house"), ("check", "clinic"), ("check", "hall")],
    "trade-off": [("trade-off", "clinic")],
    "worth": [("worth", "SHORT", "--set", "lost-load=50")],
    "against": [
        ("choose", "SHORT", "--set", "rate=12%", "--against", "SHORT"),
        ("frontier", "SHORT", "--set", "rate=12%", "--against", "rate=2%"),
        ("compare", "SHORT", "--against", "outages=x2"),
        ("budget", "SHORT", "--budgets", "2500", "--against", "price:lead=+20%"),
    ],
    "prices": [
        (
            "prices",
            str(SUPPLIER / "gorseholm.toml"),
            str(SUPPLIER / "gorseholm-2026-11.csv"),
            "--skip-unreadable",
        ),
    ],
    "error": [
        ("frontier", "nowhere.toml"),
        ("choose", "house", "--budget", "1"),
        ("choose", "house", "--hours", "0"),
        ("allot", "SITES", "--budget", "1", "--no-store"),
    ],
}


@cache
def schema(command):
    found = command_schema(command)
    jsonschema.Draft202012Validator.check_schema(found)
    return found


@pytest.mark.parametrize("command", ANSWERS)
def test_every_schema_is_printed(keeplit, command):
    ran = keeplit("schema", command)
    assert (ran.status, json.loads(ran.out)) == (0, schema(command))


@pytest.mark.parametrize(
    ("command", "words"),
    [(command, words) for command, asked in ASKED.items() for words in asked],
    ids=lambda one: one if isinstance(one, str) else " ".join(one),
)
def test_what_is_printed_fits(keeplit, tmp_path, short_house, command, words):
    words = [str(short_house) if word == "SHORT" else word for word in words]
    if "DESIGN" in words:
        design = tmp_path / "old.toml"
        design.write_text(old_design(), "utf-8")
        words = [str(design) if word == "DESIGN" else word for word in words]
    if "SITES" in words:
        table = write_programme(tmp_path, "one,home,x,3,,\ntwo,home,y,5,2,1.2\n")
        words = [str(table) if word == "SITES" else word for word in words]
    ran = keeplit(*words, "--json")
    assert ran.status == (0 if command != "error" else ran.status)
    jsonschema.validate(ran.json, schema(command))


def old_design():
    job = load("house")
    day = date(2026, 1, 31)
    return as_built(job, choose(job).design, Decimal("5093.49"), Company(), day)


def test_the_commands_are_listed(keeplit):
    ran = keeplit("schema")
    assert (ran.status, ran.out.split()) == (0, list(ANSWERS))


def test_an_unknown_command_is_told_with_the_nearest(keeplit):
    ran = keeplit("schema", "frontiers")
    assert ran.status == 2
    assert "nearest known: frontier" in ran.err
