"""What every table must hold on a terminal, however narrow."""

from __future__ import annotations

import re
from collections import Counter

from rich.cells import cell_len

from optimizer.report.grids.grid import cell_text, raw
from optimizer.report.terminal import table

WIDTHS = (50, 80, 120)
#: Names up to this length stand on one line [characters].
NAME = 20


def assert_whole(grid, writer, width):
    """No line is too long, no figure or date is cut or left out, no short name is broken."""
    lines = [line.text for line in table(grid, writer, width)]
    told = "\n".join(lines)
    assert max(map(cell_len, lines)) <= width, told
    assert [line for line in lines if line != line.rstrip(" ")] == []
    figures: Counter[str] = Counter()
    for row in grid.rows:
        for column, cell in zip(grid.columns, row, strict=True):
            text = cell_text(writer, column, cell)
            if isinstance(raw(cell), str):
                parts = re.split(r"(?<=[,;:]) ", text) if not text.endswith(".") else text.split()
                for part in parts:
                    assert len(part) > NAME or part in told, (grid.key, width, part)
            elif text:
                figures[text] += 1
    for figure, times in figures.items():
        found = re.findall(rf"(?<![\w.,]){re.escape(figure)}(?![\w%]|[.,]\d)", told)
        assert len(found) >= times, (grid.key, width, figure)
