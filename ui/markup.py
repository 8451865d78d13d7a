"""Text from people and files, made safe to stand between the page's own words; grids likewise."""

import re
from typing import Final

from optimizer.report.grids.grid import Grid
from optimizer.report.words.writer import Writer, plain

#: Invisible; keeps what looks like an address, a directive or a symbol from being taken for one.
_JOINER: Final = "\u2060"
_SPECIAL: Final = re.compile(r"([\\`*_{}\[\]()#+\-.!|<>~$&\"'])")
_ADDRESS: Final = re.compile(r"(?i)(:(?=//|[a-z])|www(?=\.)|@)")


def safe(text: str) -> str:
    r"""Return a text that shows as itself in Markdown: no picture, link, colour or formula.

    >>> safe("![x](http://a.b)") == "\\!\\[x\\]\\(http:\u2060//a\\.b\\)"
    True
    """
    marked = _ADDRESS.sub(lambda found: found[0] + _JOINER, plain(text))
    return _SPECIAL.sub(r"\\\1", marked)


def shown(grid: Grid, write: Writer) -> str:
    """Return a grid as Markdown, numbers to the right, its notes below.

    Where a column alone has no heading, the grid's title stands there.
    """
    headings = [column.heading for column in grid.columns]
    if any(headings):
        headings = [heading or grid.title for heading in headings]
    lines = [
        [safe(heading) for heading in headings],
        ["---:" if column.is_number else ":---" for column in grid.columns],
        *([safe(text) for text in row] for row in grid.texts(write)),
    ]
    made = "\n".join("| " + " | ".join(line) + " |" for line in lines)
    return "\n\n".join([made, *(safe(note) for note in grid.notes)])
