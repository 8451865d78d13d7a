"""``keeplit check`` and ``keeplit new``; names from files shown as text."""

from __future__ import annotations

import re

import pytest

from optimizer import load, survey

#: Markup, newlines, a picture, a formula, escape codes: each a name that a file may hold.
ODD = '=SUM(A1) [bold]x[/bold] "q" 🔋'
#: Battery and inverter in one: its two rows name one another.
BOX = "Wickerlock Chest"


def test_what_was_understood_for_programs(keeplit):
    ran = keeplit("check", "house", "--json")
    assert (ran.status, ran.err) == (0, "")
    found = survey(load("house"))
    assert ran.json["peak_w"] == found.peak_w
    assert ran.json["surge_w"] == found.surge_w
    assert ran.json["worst_window_kwh"] == {
        str(hours): kwh for hours, kwh in found.worst_window_kwh.items()
    }
    assert {"outages_per_year", "outage_hours_per_year", "unserved_kwh_per_year"} <= set(ran.json)
    energies = [(one["tier"], one["season"], one["kwh_day"]) for one in ran.json["energy"]]
    assert energies == [(one.tier, one.season, one.kwh_day) for one in found.energy]
    assert len(ran.json["old_prices"]) == len(found.old_prices)


@pytest.mark.parametrize("name", ["house", "clinic", "hall"])
def test_what_was_understood_for_people(keeplit, name):
    ran = keeplit("check", name)
    assert (ran.status, ran.err) == (0, "")
    job, found = load(name), survey(load(name))
    assert ran.out.startswith(job.site.name)
    assert "Nothing is wrong with the files" in ran.out
    for tier in {load_.tier for load_ in job.loads}:
        assert tier in ran.out
    assert f"{found.peak_w:,.0f}" in ran.out
    for old in found.old_prices:
        assert old.name in ran.out


def test_a_new_site_is_checked_as_it_is(keeplit, tmp_path):
    ran = keeplit("new", tmp_path / "mine")
    assert (ran.status, ran.err) == (0, "")
    assert f"keeplit check {tmp_path / 'mine'}" in ran.out
    assert keeplit("check", tmp_path / "mine").status == 0
    again = keeplit("new", tmp_path / "mine")
    assert (again.status, again.out) == (2, "")
    assert "nothing is overwritten" in again.err


def test_a_new_site_like_a_demo(keeplit, tmp_path):
    assert keeplit("new", tmp_path / "mine", "--like", "hall").status == 0
    assert load(tmp_path / "mine").site == load("hall").site
    ran = keeplit("new", tmp_path / "other", "--like", "hal")
    assert ran.status == 2
    assert "nearest: hall" in ran.err


def test_bad_input_for_programs_and_people(keeplit, tmp_path):
    keeplit("new", tmp_path, "--like", "house")
    prices = tmp_path / "prices" / "inverters.csv"
    lines = prices.read_text("utf-8").splitlines()
    cells = lines[1].split(",")
    price = lines[0].split(",").index("price")
    cells[price] = "-5"
    prices.write_text("\n".join([lines[0], ",".join(cells), *lines[2:]]), "utf-8")
    ran = keeplit("check", tmp_path, "--json")
    assert (ran.status, ran.err) == (2, "")
    assert ran.json["error"] == "input"
    (fault,) = ran.json["faults"]
    assert set(fault) == {"file", "row", "column", "found", "wanted", "kind"}
    assert (fault["row"], fault["column"]) == (2, "price")
    assert "-5" in fault["found"]
    for command in ("check", "frontier", "choose"):
        ran = keeplit(command, tmp_path)
        assert (ran.status, ran.out) == (2, "")
        assert f"row 2, price: found {fault['found']}; wanted {fault['wanted']}" in ran.err


def test_another_price_list(keeplit, tmp_path):
    keeplit("new", tmp_path / "mine", "--like", "house")
    inverters = tmp_path / "mine" / "prices" / "inverters.csv"
    lines = inverters.read_text("utf-8").splitlines()
    inverters.write_text("\n".join([lines[0], *lines[-11:]]) + "\n", "utf-8")  # the box is last
    ran = keeplit("check", "house", "--catalog", tmp_path / "mine" / "prices")
    assert "11 inverter-chargers" in ran.out
    gone = keeplit("check", "house", "--catalog", tmp_path / "nowhere", "--json")
    assert (gone.status, gone.json["error"]) == (2, "input")


@pytest.fixture
def odd_site(keeplit, tmp_path):
    """The demo house with odd names: the site's, a load's, every battery's and inverter's."""
    keeplit("new", tmp_path, "--like", "house")
    site = tmp_path / "site.toml"
    text = site.read_text("utf-8")
    text = re.sub(r'name = ".*"', "name = '''Two\nlines " + ODD + "'''", text, count=1)
    site.write_text(text, "utf-8")
    cell = '"' + ODD.replace('"', '""')
    for name in ("batteries.csv", "inverters.csv"):
        path = tmp_path / "prices" / name
        head, *rows = path.read_text("utf-8").splitlines()
        rows = [row for row in rows if not row.startswith(BOX)]
        odd = [f'{cell} {n}",{row.split(",", 1)[1]}' for n, row in enumerate(rows)]
        path.write_text("\n".join([head, *odd]) + "\n", "utf-8")
    return tmp_path


@pytest.mark.slow
@pytest.mark.parametrize("command", ["check", "frontier", "choose"])
def test_odd_names_are_shown_as_text(keeplit, odd_site, command):
    ran = keeplit(command, odd_site)
    assert (ran.status, ran.err) == (0, "")
    whole = re.sub(r"\s+", " ", ran.out)
    assert "[bold]x[/bold]" in whole  # brackets are no markup
    assert "🔋" in whole
    if command != "choose":
        assert "Two␊lines" in whole  # a line break does not break the line


@pytest.mark.slow
@pytest.mark.parametrize("command", ["check", "frontier", "choose"])
def test_odd_names_reach_programs_as_they_are(keeplit, odd_site, command):
    ran = keeplit(command, odd_site, "--json")
    assert (ran.status, ran.err) == (0, "")
    if command == "check":
        assert any(old["name"].startswith(ODD) for old in ran.json["old_prices"])
    else:
        point = ran.json["points"][0] if command == "frontier" else ran.json
        assert point["inverter"].startswith(ODD)
        assert point["banks"][0]["battery"].startswith(ODD)
