"""Each published value passes through a function of the product that the product itself calls.

``python -m tests.published.test_what_decides`` prints the table and how many there are.
"""

from __future__ import annotations

import ast
import sys
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from tests.published.table import Value

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
#: Values of what the tests use, by the start of their names, and why they pass through nothing.
BESIDE = {
    "cycles of range ": "the counting by which other tests check wear",
    "standard year": "series of loads that other tests ask the product about",
    "family ": "likewise",
    "single ": "likewise",
    "ageing 80 %": "a shipped chemistry, as the product reads it",
    "lead-acid is retired at 80 %": "likewise",
    "depth for lasting": "likewise",
}

Place = tuple[str, str]


def values() -> Iterator[tuple[str, Value]]:
    """Yield every published value with the file it stands in."""
    for path in sorted(HERE.glob("test_*.py")):
        for test in vars(import_module(f"tests.published.{path.stem}")).values():
            for mark in getattr(test, "pytestmark", ()) if callable(test) else ():
                if mark.args and mark.args[0] == "value":
                    yield from ((path.stem, one.values[0]) for one in mark.args[1])


def passed_through(computed: Callable[[], float]) -> list[Place]:
    """Return the product's functions that are called on the way, in order."""
    found: dict[Place, None] = {}

    def note(frame, event, _):
        path, code = Path(frame.f_code.co_filename), frame.f_code
        if event == "call" and path.is_relative_to(ROOT / "optimizer"):
            found[path.relative_to(ROOT).as_posix(), code.co_qualname.split(".")[-1]] = None

    before = sys.getprofile()
    sys.setprofile(note)
    try:
        computed()
    finally:
        sys.setprofile(before)
    return [place for place in found if place[1].isidentifier()]


@cache
def names_in(path: Path) -> tuple[frozenset[str], frozenset[str]]:
    """Return every name that a file of the product speaks of, and all that it imports."""
    nodes = list(ast.walk(ast.parse(path.read_text("utf-8"))))
    told = [getattr(node, "attr", getattr(node, "id", None)) for node in nodes]
    imported = {
        f"{node.module}.{one.name}"
        for node in nodes
        if isinstance(node, ast.ImportFrom)
        for one in node.names
    }
    return frozenset(name for name in told if name), frozenset(imported)


@cache
def is_called(path: str, name: str) -> bool:
    """Tell whether a file of the product speaks of a function, a formula by whence it comes."""
    files = [file for room in ("optimizer", "ui") for file in (ROOT / room).rglob("*.py")]
    module = path.removesuffix(".py").replace("/", ".")
    is_formula = module.startswith("optimizer.formulas.")
    return any(
        name in names_in(file)[0]
        and (
            not is_formula
            or file == ROOT / path
            or {module, f"{module}.{name}"} & names_in(file)[1]
        )
        for file in files
    )


@pytest.mark.slow
def test_every_value_passes_through_a_function_that_the_product_uses_to_decide():
    idle = set(BESIDE)
    for file, value in values():
        first = passed_through(value.computed)[:1]
        beside = {start for start in BESIDE if value.name.startswith(start)}
        idle -= beside
        assert first or beside, f"{file}: {value.name} passes through nothing of the product"
        for path, name in first:
            assert is_called(path, name), f"{file}: {value.name}: only tests call {name} of {path}"
    assert not idle, "no such values"


def main() -> None:
    """Print the values with what they pass through, and how many do."""
    told = [(file, value, passed_through(value.computed)) for file, value in values()]
    for file, value, places in told:
        through = "beside" if not places else f"{places[0][0]}: {places[0][1]}"
        print(f"{file:24} {value.name:44} {value.printed:>10}  {through}")
    print(f"{sum(bool(places) for *_, places in told)} of {len(told)} pass through the product")


if __name__ == "__main__":
    main()
