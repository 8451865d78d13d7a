"""One grid, four writers."""

from __future__ import annotations

import csv
import io

import pytest
from openpyxl import load_workbook

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
    assert [line.text for line in terminal.table(grid, Writer("EUR"), 60)] == [
        "Banks",
        "Bank            Upfront, EUR      Share",
        "=SUM(A1) | [b]         5,133      25.0%",
        "-x",
        "Total                  5,133  all of it",
        "One note.",
    ]


def test_terminal_puts_below_what_has_no_room(grid):
    assert list(terminal.table(grid, Writer("EUR"), 24)) == [
        ("Banks", "bold"),
        ("                Upfront,", "bold"),
        ("Bank                 EUR", "bold"),
        ("=SUM(A1) | [b]     5,133", ""),
        ("    Share: 25.0%", ""),
        ("-x", ""),
        ("Total              5,133", "bold"),
        ("    Share: all of it", "bold"),
        ("One note.", "dim"),
    ]


def test_long_texts_go_below_first_and_are_named_once():
    columns = [
        Column("hours", "Hours", Kind.HOURS),
        Column("bank", "Bank; inverter set"),
        Column("detail", "Detail", Kind.NUMBER, is_detail=True),
        Column("cost", "Cost", Kind.MONEY),
    ]
    rows = [[4, "Ostley Hearth, 2 × 1, 24 V; Bosunwick Galley", 12345, 6789.0]]
    grid = Grid("banks", "", columns, rows)

    def texts(width):
        return [line.text for line in terminal.table(grid, Writer("EUR"), width)]

    assert texts(70) == [
        "Hours  Bank; inverter set                            Detail   Cost",
        "    4  Ostley Hearth, 2 × 1, 24 V; Bosunwick Galley  12,345  6,789",
    ]
    assert texts(32) == [
        "Hours  Detail   Cost",
        "    Bank; inverter set",
        "    4  12,345  6,789",
        "    Ostley Hearth, 2 × 1, 24 V;",
        "        Bosunwick Galley",
    ]
    assert texts(16)[-2:] == ["    Detail:", "        12,345"]


def test_alternatives_stand_below_each_other_where_they_have_no_room_side_by_side():
    names = ["The first of them", "The second of them"]
    columns = [Column("what", ""), *(Column(name, name) for name in names)]
    grid = Grid(
        "both", "", columns, [["Bank", "Kelpstone Ebb, 4", "Ostley Hearth"]], has_alternatives=True
    )
    lines = [line.text for line in terminal.table(grid, Writer("EUR"), 24)]
    assert lines == [
        "      The first of them",
        "Bank  Kelpstone Ebb, 4",
        "",
        "      The second of them",
        "Bank  Ostley Hearth",
    ]


def test_wide_letters_count_twice():
    grid = Grid("names", "", [Column("name", "名"), Column("n", "N", Kind.NUMBER)], [["東京湾", 1]])
    assert [line.text for line in terminal.table(grid, Writer("EUR"), 9)] == [
        "名      N",
        "東京湾  1",
    ]


def test_markdown(grid):
    assert markdown.table(grid, Writer("EUR")).splitlines() == [
        "| Bank | Upfront, EUR | Share |",
        "| --- | ---: | ---: |",
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
