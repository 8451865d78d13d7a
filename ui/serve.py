"""Serve the page: what `keeplit page` starts as a process of its own.

All that is slow to import is imported before the first person comes, so that the first page is as
fast as the next, and no two visitors' threads import the same thing half.
"""

from __future__ import annotations

import importlib
from typing import Final

from streamlit.web import cli

_SLOW: Final = (
    "altair",
    "pandas",
    "highspy",
    "pulp",
    "optimizer.answers.choice",
    "optimizer.answers.independent_simulation",
    "optimizer.comparison.answers",
    "optimizer.comparison.switch_points",
    "optimizer.comparison.side_by_side",
    "ui.answers",
    "ui.answers.quote",
    "ui.answers.rivals",
    "ui.questions",
)


def main() -> None:
    """Import, and hand over to the server."""
    for name in _SLOW:
        importlib.import_module(name)
    cli.main(prog_name="keeplit page")


if __name__ == "__main__":
    main()
