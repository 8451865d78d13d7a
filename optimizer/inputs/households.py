"""Households to begin one's own from: the template's place with other loads, the demo's prices."""

import tomllib
from functools import lru_cache
from pathlib import Path
from typing import Any

from optimizer.inputs.appliances import appliances
from optimizer.inputs.demo import FOLDER
from optimizer.inputs.draft import Draft, draft_from_files, loads_table
from optimizer.inputs.scaffold import TEMPLATE

_FILE = Path(__file__).with_name("households.toml")


@lru_cache
def households() -> dict[str, dict[str, Any]]:
    """Return by name what each differs in."""
    return tomllib.loads(_FILE.read_text("utf-8"))


def household(name: str) -> Draft:
    """Return one to go on from.

    >>> [load.load for load in household("blank").job().loads]
    ['Refrigerator']
    """
    draft, differs = draft_from_files(TEMPLATE / "site.toml", FOLDER / "prices"), households()[name]
    count = differs["loads"]
    rows = [{**one.row, "count": count[one.name]} for one in appliances() if one.name in count]
    for section, keys in differs.items():
        if section != "loads":
            draft = draft.with_section(section, {**draft.site[section], **keys})
    return draft.with_table("loads", loads_table(rows))
