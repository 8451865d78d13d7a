"""The README tells the limits that hold."""

from __future__ import annotations

from pathlib import Path

from optimizer.files import limits
from optimizer.inputs.cells import FIRST_YEAR, LAST_YEAR
from optimizer.inputs.columns import NAME_CHARACTERS

README = (Path(__file__).parents[3] / "README.md").read_text("utf-8")


def test_limits_stand_in_the_readme():
    told = " ".join(README.split("**Limits.**")[1].split("**Network.**")[0].split())
    for words in (
        f"{limits.megabytes(limits.FILE_BYTES)} a file",
        f"{limits.megabytes(limits.TOML_BYTES)} a TOML file",
        f"{limits.megabytes(limits.UNPACKED_BYTES)} unpacked",
        f"{limits.ROWS:,} rows",
        f"{limits.COLUMNS} columns",
        f"{limits.CELLS:,} cells",
        f"{limits.CELL_CHARACTERS:,} characters a cell",
        f"{NAME_CHARACTERS} a name",
        f"a logo {limits.megabytes(limits.LOGO_BYTES)} and {limits.LOGO_PIXELS / 1e6:g} million",
        f"between {FIRST_YEAR} and {LAST_YEAR}",
    ):
        assert words in told, words
