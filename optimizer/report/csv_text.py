"""Grids as comma-separated values: raw values, not rounded, under the columns' keys."""

import csv
import io

from optimizer.inputs.neutral import neutralised
from optimizer.report.grids.grid import Grid, Value, raw


def as_csv(grid: Grid) -> bytes:
    """Return a grid as a file that spreadsheets read; the same grid gives the same bytes."""
    out = io.StringIO(newline="")
    rows = csv.writer(out, lineterminator="\r\n")
    rows.writerow([column.key for column in grid.columns])
    rows.writerows([_cell(raw(cell)) for cell in row] for row in grid.rows)
    return out.getvalue().encode("utf-8-sig")


def _cell(value: Value) -> Value:
    return neutralised(value) if isinstance(value, str) else value
