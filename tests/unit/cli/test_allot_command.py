"""Many sites under one budget, by the command line."""

from __future__ import annotations

import csv
import io
import json

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from tests.unit.programme.programmes import write_programme

pytestmark = pytest.mark.slow

ROWS = """\
Mill Cottage,home,Town,4,,
"Anchor [bold]Court[/bold]",home,Shore,9,3,1.3
Broken House,nowhere,Town,2,,
"""


@pytest.fixture
def sites(tmp_path):
    return write_programme(tmp_path, ROWS)


@pytest.fixture
def store(tmp_path):
    return tmp_path / "store" / "curves.sqlite"


def test_who_gets_what_is_told_and_written(keeplit, sites, store, tmp_path):
    names = [tmp_path / f"out.{ending}" for ending in ("csv", "xlsx", "json")]
    outputs = [word for name in names for word in ("-o", name)]
    ran = keeplit("allot", sites, "--budget", "2700,5200", "--store", store, *outputs)
    assert ran.status == 0, ran.err
    assert "Proven: no other choice within these limits does better." in ran.out
    assert "Broken House is left out" in ran.out
    assert "[bold]" in ran.out  # markup of a name is text
    rows = list(csv.DictReader(io.StringIO(names[0].read_text("utf-8-sig"))))
    assert {row["site"] for row in rows} == {"Mill Cottage", "Anchor [bold]Court[/bold]"}
    assert sum(float(row["upfront_cost"]) for row in rows) <= 2700
    assert int(next(row for row in rows if row["group"] == "Shore")["hours"]) >= 3
    book = load_workbook(names[1])
    assert {"budgets", "curve", "sites_1", "sites_2", "spending_1", "changes_2"} <= set(
        book.sheetnames
    )
    again = keeplit("allot", sites, "--budget", "2700,5200", "--store", store, "--json")
    assert names[2].read_text("utf-8").strip() == again.out.strip()


def test_three_budgets_stand_on_one_page(keeplit, sites, tmp_path):
    page, quote = tmp_path / "council.pdf", tmp_path / "quote.csv"
    words = ["--budget", "4600,5200,9000", "--group-share", "10%", "--scenarios", "--no-store"]
    ran = keeplit("allot", sites, *words, "-o", page, "--quote", "Broken House", quote)
    assert ran.status == 2
    assert "a site that gets something" in ran.err
    assert not page.exists()
    shore = "Anchor [bold]Court[/bold]"
    ran = keeplit("allot", sites, *words, "-o", page, "--quote", shore, quote)
    assert ran.status == 0, ran.err
    (one,) = PdfReader(page).pages
    text = " ".join(one.extract_text().split())
    for told in ("3 budgets", "Town", "Shore", shore, "Broken House", "bought again"):
        assert told in text
    assert b"hours" in quote.read_bytes()


def test_a_site_is_quoted_at_the_first_budget_that_equips_it(keeplit, sites, store, tmp_path):
    file, wanted = tmp_path / "quote.json", ("--quote", "Mill Cottage")
    words = ["--budget", "2700,9000", "--store", store, "--json"]
    ran = keeplit("allot", sites, *words, *wanted, file)
    assert ran.status == 0, ran.err
    poor, rich = (
        next(line for line in one["lines"] if line["name"] == "Mill Cottage")
        for one in ran.json["answers"]
    )
    assert (poor["hours"], rich["hours"] > 0) == (0, True)
    (option,) = json.loads(file.read_text("utf-8"))["options"]
    assert option["design"]["hours"] == rich["hours"]


def test_the_least_money_for_a_figure(keeplit, sites):
    ran = keeplit("allot", sites, "--require", "hours=3", "--goal", "hours", "--no-store", "--json")
    (one,) = ran.json["answers"]
    hours = sum(line["hours"] * line["people"] for line in one["lines"]) / 13
    assert hours >= 3
    assert ran.json["failures"][0]["kind"] == "input"


def test_a_budget_below_what_must_be_is_refused_with_the_least(keeplit, sites):
    ran = keeplit("allot", sites, "--budget", "100", "--no-store")
    assert ran.status == 3
    assert "What must be reached costs €" in ran.err
    assert "1 site must get the hours asked of it: " in ran.err


def test_a_budget_too_small_stops_no_other(keeplit, sites):
    ran = keeplit("allot", sites, "--budget", "100,9000", "--no-store")
    assert ran.status == 0, ran.err
    assert "the budget is €100.00" in ran.out
    assert "equips 2 of 2 sites" in ran.out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--budget", "much"], "commas between several sums"),
        (["--budget", "20,000"], "without marks at the thousands"),
        (["--budget", "20.000"], "without marks at the thousands"),
        (["--budget", "1", "--group-share", "120%"], "a share from 0% to 100%"),
        (["--budget", "1", "--group-share", "60%"], "100% at most together"),
        (["--budget", "1", "--require", "light=3"], "one of share, hours, unserved"),
        (["--budget", "1", "--later-limit", "1=5"], "a year from 2 on"),
        (["--budget", "1", "--later-limit", "9" * 5000 + "=5"], "a year from 2 on"),
        (["--budget", "1", "--group-share", "Nowhere=20%"], "a group of the table"),
        (["--budget", "1", "-o", "table.doc"], "one of .pdf, .xlsx, .csv, .json"),
        (["--budget", "1", "--scheduler", "tcp://127.0.0.1:1"], "the address of a scheduler"),
    ],
)
def test_wrong_words_are_told(keeplit, sites, words, told, monkeypatch):
    monkeypatch.setattr("optimizer.programme.cluster._PATIENCE_S", 1)
    ran = keeplit("allot", sites, "--no-store", *words)
    assert ran.status == 2
    assert told in ran.err


def test_a_folder_of_sites_and_a_folder_without(keeplit, sites, tmp_path):
    (tmp_path / "sites.csv").unlink()
    ran = keeplit("allot", tmp_path, "--budget", "3000", "--no-store", "--json")
    assert [line["name"] for line in ran.json["answers"][0]["lines"]] == ["home"]
    (tmp_path / "empty").mkdir()
    ran = keeplit("allot", tmp_path / "empty", "--budget", "3000", "--no-store")
    assert (ran.status, "one folder" in ran.err or "for each site" in ran.err) == (2, True)


def test_a_faulty_table_is_told_with_row_and_column(keeplit, tmp_path):
    table = write_programme(tmp_path, "one,home,x,-3,,\none,home,y,5,999,\n")
    ran = keeplit("allot", table, "--budget", "3000", "--no-store")
    assert ran.status == 2
    for told in ("row 2, people", "row 3, min_hours", "row 3, site: found 'one', as in row 2"):
        assert told in ran.err
    table.write_text("site,like,group\none,home,North\ntwo,home,north\n", "utf-8")
    ran = keeplit("allot", table, "--budget", "3000", "--no-store")
    assert "row 3, group: found 'north'; wanted 'North', as in row 2" in ran.err


def test_where_no_site_can_be_read_each_fault_names_its_own(keeplit, tmp_path):
    for name in ("east", "west"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "site.toml").write_text("[site", "utf-8")
    ran = keeplit("allot", tmp_path, "--budget", "3000", "--no-store")
    assert ran.status == 2
    assert [line.split(",")[0] for line in ran.err.splitlines()] == [
        "east: site.toml",
        "west: site.toml",
    ]
