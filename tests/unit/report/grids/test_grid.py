from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from optimizer.report.grids.grid import Cell, Column, Grid, Kind, cell_text
from optimizer.report.words.writer import Writer


@pytest.mark.parametrize(
    ("kind", "decimals", "value", "shown"),
    [
        (Kind.TEXT, None, "a\tb", "a␉b"),
        (Kind.TEXT, None, None, ""),
        (Kind.MONEY, None, 5132.6, "5,133"),
        (Kind.CENTS, None, Decimal("5132.605"), "5,132.61"),
        (Kind.NUMBER, 2, 3, "3.00"),
        (Kind.FIGURE, None, 1687.4, "1,687"),
        (Kind.SHARE, None, 0.075, "7.5%"),
        (Kind.SHARE, 0, 0.075, "8%"),
        (Kind.HOURS, None, 6.99, "6.9"),
        (Kind.HOURS, 0, 6.99, "6"),
        (Kind.DATE, None, date(2026, 1, 2), "2 Jan 2026"),
        (Kind.YES_NO, None, False, "no"),
    ],
)
def test_a_value_is_written_as_its_column_says(kind, decimals, value, shown):
    assert cell_text(Writer("EUR"), Column("it", "It", kind, decimals), value) == shown


def test_a_cell_may_be_of_another_kind_than_its_column():
    column = Column("it", "It", Kind.MONEY)
    assert cell_text(Writer("EUR"), column, Cell(0.5, Kind.SHARE)) == "50%"
    assert cell_text(Writer("EUR"), column, Cell("none")) == "none"


def test_headings_carry_the_unit():
    assert Column("mass_kg", "Mass", Kind.NUMBER, unit="kg").heading == "Mass, kg"
    assert Column("bank", "Bank").heading == "Bank"


def test_a_row_has_a_value_for_every_column():
    grid = Grid("it", "It", [Column("a", "A"), Column("b", "B")], [["only one"]])
    with pytest.raises(ValueError, match="shorter"):
        grid.texts(Writer("EUR"))
