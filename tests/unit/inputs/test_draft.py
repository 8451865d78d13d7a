"""Drafts: a site from disk, edited in memory, read by the same checks."""

import pytest

from optimizer import InputError, frontier, load
from optimizer.inputs.demo import demo_names, site_file
from optimizer.inputs.draft import draft_from_files, load_rows, loads_table, raw_table, survey_rows


@pytest.mark.parametrize("site", demo_names())
def test_draft_makes_the_job_of_its_files(site):
    assert draft_from_files(site_file(site)).job() == load(site)


@pytest.mark.slow
@pytest.mark.parametrize("site", demo_names())
def test_draft_makes_the_same_curve(site):
    here = frontier(draft_from_files(site_file(site)).job()).points
    assert here == frontier(load(site)).points


def test_edits_leave_the_draft_they_started_from():
    draft = draft_from_files(site_file("house"))
    other = draft.with_site("resilience", "target_hours", 30).with_site("limits", "budget", 5000)
    assert other.job().site.target_hours == 30
    assert other.job().site.budget == 5000
    assert other.with_site("limits", "budget", None).job().site.budget is None
    assert draft.job().site.target_hours == 18


def test_faults_carry_the_name_of_the_file_dropped_in():
    draft = draft_from_files(site_file("house"))
    raw = b"battery,chemistry,voltage_v,capacity_ah,rate_h,price,mass_kg\nX,gel,12,100,20,-1,30\n"
    draft = draft.with_table("batteries", raw_table("spring list.csv", raw))
    with pytest.raises(InputError) as caught:
        draft.job()
    fault = caught.value.faults[0]
    assert (fault.file, fault.row, fault.column) == ("spring list.csv", 2, "price")


def test_faults_of_site_and_tables_come_together():
    draft = draft_from_files(site_file("house")).with_site("economics", "tariff", -1)
    rows = survey_rows(draft.tables["loads"])
    rows[3]["duty"] = 7.0
    with pytest.raises(InputError) as caught:
        draft.with_table("loads", loads_table(rows)).job()
    places = [(fault.file, fault.row, fault.column) for fault in caught.value.faults]
    assert places == [("site.toml", None, "economics.tariff"), ("loads", 5, "duty")]


def test_numbers_keep_every_digit():
    rows = survey_rows(draft_from_files(site_file("house")).tables["loads"])
    rows[0]["running_w"] = 80.1 + 0.2
    rows[0]["duty"] = 1 / 3
    draft = draft_from_files(site_file("house")).with_table("loads", loads_table(rows))
    first = draft.job().loads[0]
    assert (first.running_w, first.duty) == (80.1 + 0.2, 1 / 3)
    assert load_rows(draft.job().loads) == [
        {**row, "seasons": row["seasons"] or ""} for row in survey_rows(draft.tables["loads"])
    ]


def test_cells_with_commas_quotes_and_breaks_read_back():
    rows = survey_rows(draft_from_files(site_file("house")).tables["loads"])
    rows[0]["load"] = 'Fridge, "big"'
    draft = draft_from_files(site_file("house")).with_table("loads", loads_table(rows))
    assert draft.job().loads[0].load == 'Fridge, "big"'


def test_workbook_becomes_text(tmp_path):
    from openpyxl import Workbook

    book = Workbook()
    book.active.append(["rating_a", "price"])
    book.active.append([32, 8.5])
    book.save(tmp_path / "fuses.xlsx")
    table = raw_table("fuses.xlsx", (tmp_path / "fuses.xlsx").read_bytes())
    assert table.rows == (("rating_a", "price"), ("32", "8.5"))


def test_bytes_that_are_no_table_are_refused():
    with pytest.raises(InputError, match="old binary workbook"):
        raw_table("old.xls", b"\xd0\xcf\x11\xe0rest")
