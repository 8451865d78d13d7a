"""The second opinion in words, tables and data."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import datetime

import pytest
from rich.console import Console

from optimizer import assumptions, choose, independent_simulation, load, outages
from optimizer.answers.ledger import Assumption
from optimizer.report import opinion as words
from optimizer.report.ledger import ledger_tables, source_in_words, value_in_words
from optimizer.report.opinion_data import opinion_data, outages_data, simulated_data
from optimizer.report.outages import notes_in_words, outage_tables
from optimizer.report.words import hours_in_words
from optimizer.simulate import DailyBalance, Estimate, Shortfall


def shown(renderable):
    console = Console(width=200, markup=False)
    with console.capture() as capture:
        console.print(renderable)
    return capture.get()


@pytest.fixture(scope="module")
def house():
    job = load("house")
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
    assert [hours_in_words(h) for h in (6.999, 7.0, 0.04)] == ["6.9", "7.0", "0.0"]
    assert hours_in_words(240.0, 240.0) == "≥ 240"


def test_verdict(house):
    _, _, found = house
    text = words.verdict_in_words(found.verdict, 0.1)
    assert text.startswith(f"Holds. Asked of it are {found.verdict.claimed_hours} h; simulated")
    assert f"in {found.verdict.season} of year {found.verdict.year + 1}" in text
    assert "margin of 10%" in text
    short = replace(found.verdict, shortfalls=(Shortfall.HOURS,))
    assert words.verdict_in_words(short, 0.1).startswith("Falls short.")


def test_ages_and_tiers(house):
    _, _, found = house
    ages = shown(words.ages_table(found.ages, found.horizon_hours))
    assert "new" in ages
    assert "mid-life, year 6" in ages
    assert "last year of service, year 10" in ages
    later = replace(found.ages[0], year=4)
    assert "new, bought in year 5" in shown(words.ages_table([later], 240.0))
    tiers = shown(words.tiers_table(found.tiers, found.horizon_hours))
    assert "comfort" in tiers
    endless = replace(found.tiers[0], hours_without=240.0)
    assert "≥ 240" in shown(words.tiers_table([endless], 240.0))


def test_each_matter(house):
    job, _, found = house
    matters = dict(words.opinion_in_words(found, job))
    assert list(matters) == [
        "Larger loads",
        "In minutes",
        "The site's own log",
        "Simulated years",
        "What that is worth",
    ]
    assert "25% larger" in matters["Larger loads"]
    assert "A figure of its own" in matters["In minutes"]
    assert "of 32 outages of 3 years carried" in matters["The site's own log"]
    assert "95%" in matters["Simulated years"]
    bare = replace(found, burst_hours=None, replay=None, balance=balance())
    site = replace(job, site=replace(job.site, value_of_lost_load=None))
    matters = dict(words.opinion_in_words(bare, site))
    assert list(matters) == ["Larger loads", "Scheduled cuts", "Simulated years"]


def test_bursts_below_the_hours_asked_for_are_told(house):
    job, _, found = house
    low = replace(found, burst_hours=found.verdict.claimed_hours - 0.5)
    text = dict(words.opinion_in_words(low, job))["In minutes"]
    assert f"below the {found.verdict.claimed_hours} h asked for" in text


def test_log(house):
    replay = house[2].replay
    missed = [outage for outage in replay.outages if not outage.carried]
    assert missed
    text = words.replay_in_words(replay)
    assert all(f"{outage.start:%Y-%m-%d}" in text for outage in missed)
    carried = tuple(outage for outage in replay.outages if outage.carried)
    whole = replace(replay, outages=carried, log_years=1.0)
    assert f"all {len(carried)} outages of one year carried" in words.replay_in_words(whole)
    one = replace(replay, outages=carried[:1])
    assert "the one outage of 3 years carried" in words.replay_in_words(one)
    many = replace(
        replay,
        outages=tuple(replace(missed[0], start=datetime(2025, 1, d, 1)) for d in range(1, 9)),
    )
    assert "and 3 more" in words.replay_in_words(many)


def test_simulated_years(house):
    drawn = house[2].simulated_years
    assert "not served a year" in words.drawn_in_words(drawn)
    nothing = Estimate(value=0.0, monte_carlo=0.0, from_log=None)
    served = replace(drawn, hours_unserved=nothing, kwh_unserved=nothing)
    assert "left unserved" in words.drawn_in_words(served)
    assert "no outage was drawn" in words.drawn_in_words(replace(drawn, share_carried=None))


def test_scheduled_cuts_name_the_missing_amperes():
    text = words.balance_in_words(balance())
    assert "hardest in dry of year 3, 12 h from 06:00" in text
    assert "Missing: 14.8 A of charger current" in text
    closed = balance(amps_charger=40.0, amps_missing=0.0, cuts_carried=True)
    assert words.balance_in_words(closed).endswith("enough, every cut is carried.")
    weak = replace(closed, cuts_carried=False)
    assert words.balance_in_words(weak).endswith("but not every cut is carried.")
    assert "cannot be made good" in words.balance_in_words(balance(hours_on=0.0, hours_off=24.0))


def test_data_is_plain(house):
    job, design, found = house
    data = json.loads(json.dumps(opinion_data(found), allow_nan=False))
    assert data["verdict"] == "holds"
    assert data["log"]["carried"] == found.replay.carried
    assert data["tiers"][0]["cost_hours"] > 0
    assert data["simulated_years"]["share_carried"]["from_log"]["low"] < 1
    assert data["scheduled_cuts"] is None
    short = simulated_data(job, design)
    assert short["hours"] == found.verdict.hours
    assert short["last_year_hours"] == found.ages[-1].shortest_hours


def test_outage_tables():
    run = outages(load("house"), years=40)
    log, drawn = (shown(table) for table in outage_tables(run))
    assert log.count("NOT CARRIED") == len(run.replay.outages) - run.replay.carried
    assert "in all" in log
    assert "40 simulated years, durations from the site's log" in drawn
    assert "Seed" in notes_in_words(run)[0]
    assert outages_data(run)["log"]["outages"] == 32
    none = outages(load("house"), run.design, years=5, times_a_year=0.0)
    assert "none drawn" in shown(outage_tables(none)[1])


def test_outage_notes_of_scheduled_cuts():
    run = outages(load("clinic"), years=5)
    assert len(outage_tables(run)) == 1
    assert "every cut is carried" in notes_in_words(run)[1]
    assert outages_data(run)["scheduled_cuts"]["closes"] is True


def test_ledger(house):
    job, design, _ = house
    ledger = assumptions(job, design)
    tables = ledger_tables(ledger)
    text = "".join(shown(table) for table in tables)
    assert f"What it rests on: {len(ledger)} numbers" in shown(tables[0])
    assert "default of lfp: secondary source" in text
    assert "winter × 0.9; summer × 1.1" in text
    # one table for the loads, one for the works
    assert len(tables) == len(
        {"Site", "Loads", "Outages", "Inverter", "Battery", "Cable", "Fuse", "Works", "Constants"}
    )
    assert value_in_words(0.1 + 0.2) == "0.3"
    assert ledger_tables([]) == []


def test_source_of_a_price_list_own_chemistry():
    source = "chemistry lfp in the catalog"
    one = Assumption("Battery", "peukert", 1.1, "", "chemistry", source)
    assert source_in_words(one) == source
