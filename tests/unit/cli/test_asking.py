"""The options that all commands about a site share."""

from __future__ import annotations

import pytest
from click import Context

from optimizer import load
from optimizer.cli import cli
from optimizer.comparison.parameters import sensitivity_parameters_of
from optimizer.report.words.parameters import name
from optimizer.report.words.writer import Writer

#: The page has fields of its own.
WITHOUT = {"page"}


def test_every_command_about_a_site_takes_what_ifs():
    context = Context(cli)
    options = {
        name: {one.name for one in cli.get_command(context, name).params}
        for name in cli.list_commands(context)
    }
    about = {name for name, known in options.items() if known & {"site", "sites"}}
    taking = {name for name, known in options.items() if "changes" in known}
    assert taking == about - WITHOUT
    assert len(taking) > 5


def test_what_may_be_supposed_is_listed_with_units_and_ranges(keeplit):
    told = keeplit("check", "house", "--what-if").out
    for one in sensitivity_parameters_of(load("house")):
        assert one.key in told
        assert name(Writer("EUR"), one) in told
    answer = keeplit("check", "house", "--what-if", "--json").json
    assert list(answer) == ["version", "supposed", "numbers"]
    assert {one["key"] for one in answer["numbers"]} >= {"outages", "rate", "room"}


def test_what_was_supposed_is_used_and_told(keeplit, short_house):
    words = ["--set", "outages=x2", "--set", "price:lithium=-20%"]
    made = load(short_house).what_if({"outages": "x2", "price:lithium": "-20%"})
    ran = keeplit("check", short_house, *words)
    assert ran.out.count("Supposed") == 2
    assert keeplit("check", short_house, *words, "--json").json[
        "outages_per_year"
    ] == pytest.approx(sum(times for _, times in made.outages.yearly))


def test_an_unknown_number_is_told_the_nearest(keeplit):
    ran = keeplit("choose", "house", "--set", "outage=x2", "--set", "rate=0.9")
    assert ran.status == 2
    assert "nearest known: outages" in ran.err
    assert "0 to 0.15" in ran.err


def test_in_a_pipe_no_line_ends_in_blanks(keeplit):
    lines = keeplit("check", "house").out.splitlines()
    assert len(lines) > 20
    assert not [line for line in lines if line.endswith(" ")]
