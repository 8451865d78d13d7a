"""The bundled demo sites, found by name wherever the package is installed."""

from __future__ import annotations

from pathlib import Path

#: Beside the package, in a checkout and in an installed wheel alike.
FOLDER = Path(__file__).resolve().parent.parent / "catalogs_demo"


def demo_names() -> tuple[str, ...]:
    """Return the names of the bundled sites."""
    return tuple(sorted(path.parent.name for path in FOLDER.glob("*/site.toml")))


def demo_site(name: str | Path) -> Path | None:
    """Return the site file of a bundled site, or None where ``name`` is not one.

    A file or folder of that name in the working directory comes first.
    """
    if Path(name).exists() or str(name) not in demo_names():
        return None
    return FOLDER / str(name) / "site.toml"
