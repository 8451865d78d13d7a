"""The bundled demo sites, found by name wherever the package is installed."""

from __future__ import annotations

from pathlib import Path

#: Beside the package, in a checkout and in an installed wheel alike.
FOLDER = Path(__file__).resolve().parent.parent / "catalogs_demo"


def demo_names() -> tuple[str, ...]:
    """Return the names of the bundled sites."""
    return tuple(sorted(path.parent.name for path in FOLDER.glob("*/site.toml")))


def site_file(site: str | Path) -> Path:
    """Return the file that a site's name stands for.

    Parameters
    ----------
    site : str or Path
        A file; a folder that holds ``site.toml``; or the name of a bundled site, where no file
        or folder of that name is in the working directory.

    Returns
    -------
    Path
        As given where it is none of these: reading it says what is wrong.
    """
    path = Path(site)
    if path.is_dir() and (path / "site.toml").is_file():
        return path / "site.toml"
    if not path.exists() and str(site) in demo_names():
        return FOLDER / str(site) / "site.toml"
    return path
