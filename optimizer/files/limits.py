"""The largest things that are opened, each checked before it is read; the README tells them."""

from typing import Final

#: Any file that is opened, tables and saved jobs [bytes].
FILE_BYTES: Final = 10_000_000
#: A TOML file: sites, designs, mappings and companies are written by hand [bytes].
TOML_BYTES: Final = 500_000
#: A logo: it is a mark, not a poster [bytes; pixels].
LOGO_BYTES: Final = 5_000_000
LOGO_PIXELS: Final = 4_000_000
#: A workbook, a ZIP archive, once its parts are unpacked [bytes].
UNPACKED_BYTES: Final = 60_000_000
#: The parts of a workbook that hold no cells: styles, names, lists of its parts [bytes].
WORKBOOK_PARTS_BYTES: Final = 2_000_000
#: A table, blank rows and blank cells inside its rows included.
ROWS: Final = 20_000
COLUMNS: Final = 500
CELLS: Final = 500_000
#: One cell [characters].
CELL_CHARACTERS: Final = 5_000


def megabytes(size: float) -> str:
    """Return a size as messages write it.

    >>> megabytes(10_000_000), megabytes(500_000)
    ('10 MB', '0.5 MB')
    """
    return f"{size / 1e6:,.4g} MB"
