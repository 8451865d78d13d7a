"""The second opinion in words, tables and data."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from optimizer import assumptions, choose, independent_simulation, load, outages
from optimizer.answers.ledger import Assumption, Source, Subject
from optimizer.report.grids import ledger as numbers
from optimizer.report.grids import outages as outage_grids
from optimizer.report.grids import simulation as grids
from optimizer.report.words import ledger as rests
from optimizer.report.words import outages as outage_words
from optimizer.report.words import simulation as words
from optimizer.report.words.writer import Writer
from optimizer.simulate import DailyBalance, Estimate, Shortfall

WRITE = Writer("EUR")


def shown(grid):
    return "\n".join(" | ".join(row) for row in grid.texts(WRITE))


@pytest.fixture(scope="module")
def house():
    job = load("house").with_site(generator=None, contracts=(), peaks=())
    design = choose(job).design
    return job, design, independent_simulation(job, design, years=60)


def balance(**changes):
    values = {
        "year": 2,
        "season": "dry",
        "cut": (6.0, 18.0),
        "hours_off": 12.0,
        "hours_on": 12.0,
        "kwh_drawn": 4.0,
        "kwh_back": 5.0,
        "watts_back": 416.7,
        "amps_needed": 29.8,
        "amps_charger": 15.0,
        "amps_missing": 14.8,
        "charge_volts": 14.0,
        "cuts_from_full": False,
        "cuts_carried": False,
        "deepest": 0.5,
    }
    return DailyBalance(**(values | changes))


def test_hours_are_never_rounded_up():
    assert [words.up_to(WRITE, h, 240.0) for h in (6.999, 7.0, 0.04)] == ["6.9", "7.0", "0.0"]
    assert words.up_to(WRITE, 240.0, 240.0) == "≥\u00a0240"


def test_verdict(house):
    _, _, found = house
    text = words.verdict(WRITE, found.verdict, 0.1)
    assert text.startswith(f"Holds: {found.verdict.claimed_hours} h planned, ")
    assert f"in {found.verdict.season} of year {found.verdict.year + 1}" in text
    assert "margin of 10%" in text
    short = replace(found.verdict, shortfalls=(Shortfall.HOURS,))
    assert words.verdict(WRITE, short, 0.1).startswith("Falls short:")


def test_ages_and_tiers(house):
    _, _, found = house
    ages = shown(grids.hours_by_age(WRITE, found))
    assert "new" in ages
    assert "mid-life, year 6" in ages
    assert "last year of service, year 10" in ages
    later = replace(found, ages=(replace(found.ages[0], year=4),))
    assert "new, bought in year 5" in shown(grids.hours_by_age(WRITE, later))
    (by_tier,) = grids.tiers(WRITE, found)
    assert "comfort | no" in shown(by_tier)
    endless = replace(found, tiers=(replace(found.tiers[0], hours_without=240.0),) * 2)
    (by_tier,) = grids.tiers(WRITE, endless)
    assert shown(by_tier).count("≥") == 4
    assert not grids.tiers(WRITE, replace(found, tiers=found.tiers[:1]))


def test_each_matter(house):
    job, _, found = house
    matters = dict(words.rest(WRITE, found, job))
    assert list(matters) == [
        "Larger loads",
        "In bursts",
        "The site's own log",
        "Simulated years",
        "Cost of unserved energy",
    ]
    assert "25% larger" in matters["Larger loads"]
    assert "A figure of its own" in matters["In bursts"]
    assert "of 32 outages of 3 years carried" in matters["The site's own log"]
    assert "95%" in matters["Simulated years"]
    bare = replace(found, burst_hours=None, replay=None, balance=balance())
    site = replace(job, site=replace(job.site, value_of_lost_load=None))
    matters = dict(words.rest(WRITE, bare, site))
    assert list(matters) == ["Larger loads", "Scheduled cuts", "Simulated years"]


def test_bursts_below_the_hours_asked_for_are_told(house):
    job, _, found = house
    low = replace(found, burst_hours=found.verdict.claimed_hours - 0.5)
    text = dict(words.rest(WRITE, low, job))["In bursts"]
    assert f"below the {found.verdict.claimed_hours} h required" in text


def test_log(house):
    replay = house[2].replay
    missed = [outage for outage in replay.outages if not outage.carried]
    assert missed
    text = words.replay(WRITE, replay)
    assert all(f"{outage.start:%Y-%m-%d}" in text for outage in missed)
    carried = tuple(outage for outage in replay.outages if outage.carried)
    whole = replace(replay, outages=carried, log_years=1.0)
    assert f"all {len(carried)} outages of 1 year carried" in words.replay(WRITE, whole)
    one = replace(replay, outages=carried[:1])
    assert "the one outage of 3 years carried" in words.replay(WRITE, one)
    many = replace(
        replay,
        outages=tuple(replace(missed[0], start=datetime(2025, 1, d, 1)) for d in range(1, 9)),
    )
    assert "3 more" in words.replay(WRITE, many)


def test_drawn_years(house):
    drawn = house[2].simulated_years
    assert "unserved" in words.simulated_years(WRITE, drawn)
    nothing = Estimate(value=0.0, monte_carlo=0.0, from_log=None)
    served = replace(drawn, hours_unserved=nothing, kwh_unserved=nothing)
    assert "no unserved energy" in words.simulated_years(WRITE, served)
    assert "no outage occurred" in words.simulated_years(WRITE, replace(drawn, share_carried=None))


def test_scheduled_cuts_name_the_missing_amperes():
    text = words.scheduled_cuts(WRITE, balance())
    assert "hardest in dry of year 3, 12 hours from 06:00" in text
    assert "Missing: 14.8 A of charger current" in text
    closed = balance(amps_charger=40.0, amps_missing=0.0, cuts_carried=True)
    assert words.scheduled_cuts(WRITE, closed).endswith("enough, every cut is carried.")
    weak = replace(closed, cuts_carried=False)
    assert words.scheduled_cuts(WRITE, weak).endswith("but not every cut is carried.")
    assert "cannot be made good" in words.scheduled_cuts(
        WRITE, balance(hours_on=0.0, hours_off=24.0)
    )


def test_outage_tables():
    run = outages(load("house"), years=40)
    log = outage_grids.log(WRITE, run.replay)
    missed = len(run.replay.outages) - run.replay.carried
    assert [row[-1] for row in log.texts(WRITE)].count("not carried") == missed
    assert log.texts(WRITE)[-1][0] == "Total"
    drawn = outage_grids.simulated_years(WRITE, run)
    assert drawn.title == "40 simulated years, durations from the site's log"
    assert "Seed" in outage_words.notes(WRITE, run)[0]
    head = outage_words.head(WRITE, run.job, run, chosen=True)
    assert f"beside {run.design.generator.generator}." in head
    none = outages(load("house"), run.design, years=5, times_a_year=0.0)
    assert shown(outage_grids.simulated_years(WRITE, none)) == "Outages a year | none | "


def test_outage_notes_of_scheduled_cuts():
    run = outages(load("clinic"), years=5)
    assert run.replay is None
    assert "every cut is carried" in outage_words.notes(WRITE, run)[1]


def test_ledger(house):
    job, design, _ = house
    ledger = assumptions(job, design)
    tables = numbers.tables(WRITE, ledger)
    text = "\n".join(shown(table) for table in tables)
    assert rests.count(WRITE, len(ledger)) == f"It rests on {len(ledger)} numbers"
    assert "secondary source" in text
    assert "winter ×\u00a00.9; summer ×\u00a01.1" in text
    # one table for the loads, one for the works
    assert [table.key for table in tables] == [
        "site",
        "load",
        "outages",
        "inverter",
        "battery",
        "cable",
        "fuse",
        "work",
        "constants",
    ]
    assert numbers.tables(WRITE, []) == []


@pytest.mark.parametrize(
    ("value", "expected"),
    [(0.1 + 0.2, "0.3"), (1e-9, "1e-09"), ("1:2;3:4", "1:2; 3:4"), (True, "yes")],
)
def test_values_of_the_ledger(value, expected):
    one = Assumption(Subject.SITE, "", "x", value)
    assert numbers.tables(WRITE, [one])[0].texts(WRITE) == [["x", expected, "", "site file"]]


def test_source_of_a_number_with_a_detail():
    one = Assumption(Subject.BATTERY, "Reed", "price", 1.0, "EUR", Source.PRICE_LIST, "2026-01-02")
    assert rests.source(WRITE, one) == "price list, 2026-01-02"
