"""The bundled demo sites, found by name wherever the package is installed."""

import tomllib
from functools import cache
from pathlib import Path

from optimizer.errors import nearest
from optimizer.files.reading import NO_FILE, unreadable
from optimizer.inputs.faults import hinted
from optimizer.model.phrase import Phrase

#: Beside the package, in a checkout and in an installed wheel alike.
FOLDER = Path(__file__).resolve().parents[2] / "catalogs_demo"


def demo_names() -> tuple[str, ...]:
    """Return the names of the bundled sites."""
    return tuple(sorted(path.parent.name for path in FOLDER.glob("*/site.toml")))


@cache
def demo_titles() -> frozenset[str]:
    """Return what the bundled sites call themselves."""
    files = (FOLDER / name / "site.toml" for name in demo_names())
    return frozenset(tomllib.loads(file.read_text("utf-8"))["site"]["name"] for file in files)


def demos_near(word: str) -> Phrase:
    """Return the names of the bundled sites, and the one nearest to a word."""
    names = Phrase("{names}", names=", ".join(demo_names()))
    close = nearest(word, demo_names())
    return hinted(names, Phrase("nearest: {guess}", guess=close) if close else "")


def site_file(site: str | Path) -> Path:
    """Return the file that a site's name stands for.

    That is a file; ``site.toml`` in a folder; or a bundled site, where nothing of that name is in
    the working directory. What looks like a file is returned as given: reading it says what is
    wrong. InputError for a bare name that is none of these, and for a folder without a site file.
    """
    path = Path(site)
    if path.is_dir() and (path / "site.toml").is_file():
        return path / "site.toml"
    if not path.exists() and str(site) in demo_names():
        return FOLDER / str(site) / "site.toml"
    if path.suffix or (path.exists() and not path.is_dir()):
        return path
    found = Phrase("a folder without site.toml") if path.is_dir() else NO_FILE
    wanted = Phrase(
        "a site file, a folder that holds site.toml, or a bundled demo: {demos}",
        demos=demos_near(path.name),
    )
    raise unreadable(str(site), found, wanted)
