"""Values that once ended in a traceback: each is told at its place."""

from __future__ import annotations

import json
from datetime import date

import pytest

from optimizer import InputError, NoDesignError, choose, frontier
from optimizer.cli.budget import _budgets
from optimizer.cli.quote import _day
from optimizer.inputs.demo import site_file
from optimizer.inputs.design_file import load_design
from optimizer.inputs.draft import draft_from_files
from optimizer.inputs.job_file import open_job, save_job
from optimizer.inputs.load import load_job
from optimizer.quote import read_company
from optimizer.simulate import Exponential, Lognormal, Weibull
from optimizer.suppliers.mapping import mapping_from
from tests.site_files import FILES, write_site


@pytest.mark.parametrize(
    ("name", "old", "new", "place", "wanted"),
    [
        ("loads.csv", ",600,", ",1e20,", (2, "starting_w"), "at most 10000000 W"),
        ("loads.csv", ",90,", ",1/0 hp,", (2, "running_w"), "W"),
        ("loads.csv", ",90,", ",5 W**9**9**9,", (2, "running_w"), "W"),
        ("loads.csv", "Fridge", "x" * 300, (2, "load"), "at most 200 characters"),
        ("loads.csv", ",90,", ",1e-308,", (2, "running_w"), "so small a number is none"),
        ("batteries.csv", ",120,", f",{'9' * 30},", (2, "price"), "from 0 to 1e12"),
        *(
            (name, old, new, place, "the same currency as the prices")
            for name, old, new, place in (
                ("batteries.csv", ",190,", ",1e12,", (3, "price")),
                ("works.csv", ",150,", ",1e12,", (2, "price")),
                ("cables.csv", ",17", ",1e12", (3, "price_per_m")),
                ("fuses.csv", ",16", ",1e9", (3, "price")),
                ("site.toml", "tariff = 0.3", "tariff = 1e9", (22, "economics.tariff")),
            )
        ),
        ("outages.csv", "2024-01-10T20:10", "9999-12-31T23:59", (2, "end"), "1900 to 2199"),
        ("outages.csv", "2024-01-10T17:40", "0001-01-01T00:00+14:00", (2, "start"), "1900 to 2199"),
    ],
)
def test_in_a_table(tmp_path, name, old, new, place, wanted):  # noqa: PLR0917 - one a column
    with pytest.raises(InputError) as caught:
        load_job(write_site(tmp_path, {name: FILES[name].replace(old, new, 1)}))
    fault = caught.value.faults[0]
    assert (fault.file, fault.row, fault.column) == (name, *place)
    assert wanted in fault.wanted
    assert len(str(fault)) < 300


@pytest.mark.parametrize("column", ["cycle_points", "halving_degc"])
def test_a_bank_that_lasts_no_week_is_not_offered(tmp_path, column):
    """Years of it would be renewals without number."""
    least = {"cycle_points": "0.001:2;0.0011:1", "halving_degc": "2e-9"}[column]
    site = FILES["site.toml"].replace(
        "mean_degc = 15\nmax_degc = 30", "mean_degc = 40\nmax_degc = 40"
    )
    head, *rows = FILES["batteries.csv"].splitlines()
    table = "\n".join([f"{head},{column}", *(f"{row},{least}" for row in rows)])
    job = load_job(write_site(tmp_path, {"site.toml": site, "batteries.csv": table}))
    assert frontier(job).points == ()
    with pytest.raises(NoDesignError):
        choose(job, hours=2)


def test_a_list_is_no_name(tmp_path):
    site = write_site(tmp_path)
    text = (
        'inverter = "Tide 12"\nunits = 1\nstrings = 1\nvoltage = 12\n[battery]\nbattery = [nan]\n'
    )
    (tmp_path / "bank.toml").write_text(text, "utf-8")
    with pytest.raises(InputError) as caught:
        load_design(tmp_path / "bank.toml", site)
    assert (caught.value.faults[0].row, caught.value.faults[0].column) == (6, "battery.battery")
    with pytest.raises(InputError, match=r"columns.battery.value: found \[nan\]"):
        mapping_from(
            {
                "list": {"table": "batteries", "currency": "EUR"},
                "columns": {"battery": {"value": [float("nan")]}},
            }
        )


def test_half_a_character_in_a_job_file():
    data = json.loads(save_job(draft_from_files(site_file("house"))))
    data["site"]["site"]["name"] = "Quay \ud800"
    with pytest.raises(InputError) as caught:
        open_job(json.dumps(data).encode(), "mine.json")
    [fault] = caught.value.faults
    assert fault.file == "mine.json"
    assert "half a character after" in fault.found
    assert "Quay" in fault.found


def test_a_fault_inside_a_job_file_names_the_file_that_was_opened():
    data = json.loads(save_job(draft_from_files(site_file("house"))))
    data["tables"]["fuses"]["rows"][1][0] = "many"
    with pytest.raises(InputError, match=r"mine.json, in it fuses.csv, row 2, rating_a: found 'ma"):
        open_job(json.dumps(data).encode(), "mine.json")


@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01", "2026-02-30", ""])
def test_a_day_outside_the_calendar(day):
    with pytest.raises(InputError, match="1900 to 2199"):
        _day(day)
    assert _day("2026-01-31") == date(2026, 1, 31)


def test_steps_without_end():
    for step in (1e-308, 1e-9, 1.0):
        with pytest.raises(InputError, match="2,000 at most"):
            _budgets(0.0, 1e6, step, needed=True)
    assert _budgets(1000.0, 3000.0, 1000.0, needed=True) == [1000.0, 2000.0, 3000.0]


@pytest.mark.parametrize(
    "make",
    [
        lambda: Lognormal(3, 1e6),
        lambda: Lognormal(1e300, 1),
        lambda: Lognormal(3, float("nan")),
        lambda: Weibull(1e-9, 3),
        lambda: Weibull(1, 1e300),
        lambda: Exponential(float("inf")),
    ],
)
def test_durations_that_no_outage_has(make):
    with pytest.raises(InputError, match="and at most"):
        make()


def test_an_address_of_a_hundred_lines(tmp_path):
    lines = ", ".join(['"line"'] * 100)
    (tmp_path / "company.toml").write_text(f'[company]\nname = "K"\naddress = [{lines}]\n', "utf-8")
    with pytest.raises(InputError, match=r"company\.address: found .*; wanted .*at most 8 lines"):
        read_company(tmp_path / "company.toml")
