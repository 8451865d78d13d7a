"""Where files lie: a disk, or tables held in memory, read by the same code."""

import os
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple, Protocol


class Place(Protocol):
    """What readers need of a path; `pathlib.Path` has it."""

    @property
    def name(self) -> str:
        """The last part of the path."""

    def __truediv__(self, key: str, /) -> "Place": ...

    def exists(self) -> bool:
        """Tell whether something is there."""

    def is_dir(self) -> bool:
        """Tell whether it is a folder."""

    def is_file(self) -> bool:
        """Tell whether it is a file."""


def leads_outside(folder: Place, name: str) -> bool:
    """Tell whether a path that stays in a folder as it is written leads out of it by a link."""
    if not isinstance(folder, Path):
        return False
    if not Path(os.path.normpath(folder / name)).is_relative_to(os.path.normpath(folder)):
        return False  # it says so in plain sight
    try:
        return not (folder / name).resolve().is_relative_to(folder.resolve())
    except (OSError, ValueError, RuntimeError):
        return False  # reading it says what is wrong


class Held(NamedTuple):
    """A folder of files by name held in memory, or one of them; the folder where ``name`` is empty.

    >>> folder = Held({"fuses.csv": b"rating_a,price"})
    >>> (folder / "fuses.csv").is_file(), (folder / "works.csv").exists()
    (True, False)
    """

    files: Mapping[str, bytes]
    name: str = ""

    def __truediv__(self, key: str, /) -> "Held":
        return Held(self.files, key)

    def __str__(self) -> str:
        return self.name or "price list"

    def exists(self) -> bool:
        """Tell whether something is there."""
        return self.is_dir() or self.is_file()

    def is_dir(self) -> bool:
        """Tell whether it is the folder."""
        return not self.name

    def is_file(self) -> bool:
        """Tell whether it is one of the files."""
        return self.name in self.files
