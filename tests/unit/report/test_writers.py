"""One grid, four writers."""

from __future__ import annotations

import csv
import io

import pytest
from openpyxl import load_workbook
from rich.console import Console

from optimizer.report import csv_text, markdown, sheets, terminal
from optimizer.report.grids.grid import Cell, Column, Grid, Kind
from optimizer.report.words.writer import Writer


@pytest.fixture
def grid():
    columns = [
        Column("bank", "Bank"),
        Column("upfront_cost", "Upfront", Kind.MONEY, unit="EUR"),
        Column("share", "Share", Kind.SHARE, 1),
    ]
    rows = [
        ["=SUM(A1) | [b]", 5132.612, 0.25],
        ["-x", None, None],
        ["Total", 5132.612, Cell("all of it")],
    ]
    return Grid("banks", "Banks", columns, rows, notes=["One note."], has_total=True)


def test_terminal(grid):
    console = Console(width=60, file=io.StringIO(), force_terminal=False)
    console.print(terminal.table(grid, Writer("EUR"), 60))
    lines = [line.rstrip() for line in console.file.getvalue().splitlines()]
    assert lines == [
        "Banks",
        "Bank            Upfront, EUR      Share",
        "=SUM(A1) | [b]         5,133      25.0%",
        "-x",
        "Total                  5,133  all of it",
        "One note.",
    ]


@pytest.mark.parametrize("width", [20, 24, 30, 38, 60])
def test_terminal_keeps_numbers_whole_and_the_width(grid, width):
    console = Console(width=width, file=io.StringIO(), force_terminal=False)
    console.print(terminal.table(grid, Writer("EUR"), width))
    lines = console.file.getvalue().splitlines()
    assert sum("5,133" in line for line in lines) == 2
    assert any("25.0%" in line for line in lines)
    assert max(len(line) for line in lines) <= width


def test_markdown(grid):
    assert markdown.table(grid, Writer("EUR")).splitlines() == [
        "| Bank | Upfront, EUR | Share |",
        "|---|---:|---:|",
        r"| =SUM(A1) \| \[b\] | 5,133 | 25.0% |",
        "| -x |  |  |",
        "| Total | 5,133 | all of it |",
        "",
        "One note.",
    ]


def test_csv_is_raw_and_calculates_nothing(grid):
    text = csv_text.as_csv(grid).decode("utf-8-sig")
    assert list(csv.reader(io.StringIO(text))) == [
        ["bank", "upfront_cost", "share"],
        ["'=SUM(A1) | [b]", "5132.612", "0.25"],
        ["'-x", "", ""],
        ["Total", "5132.612", "all of it"],
    ]


def test_sheets_keep_numbers_as_numbers(grid):
    book = load_workbook(io.BytesIO(sheets.as_xlsx([grid], Writer("EUR"))))
    sheet = book["banks"]
    assert [cell.value for cell in sheet[1]] == ["bank", "upfront_cost", "share"]
    assert [cell.value for cell in sheet[2]] == ["=SUM(A1) | [b]", 5132.612, 0.25]
    assert [cell.data_type for cell in sheet[2]] == ["s", "n", "n"]
    assert [cell.number_format for cell in sheet[2]] == ["General", "#,##0.00", "0.0%"]


def test_a_grid_may_stand_below_others_on_a_sheet(grid):
    from xlsxwriter import Workbook

    buffer = io.BytesIO()
    with Workbook(buffer) as book:
        sheet = book.add_worksheet("both")
        after = sheets.write_grid(book, sheet, grid, Writer("EUR"), first_row=2)
    assert after == 6
    rows = load_workbook(buffer)["both"]
    assert [cell.value for cell in rows[3]] == ["Bank", "Upfront, EUR", "Share"]
