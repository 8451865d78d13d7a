"""Options of the test run."""

from __future__ import annotations

import os
import sys
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests import answered_once

pytest.register_assert_rewrite("tests.exact.against")
answered_once.install()

#: How long an input takes to draw and to try says how busy the machine is. What fails is shrunk,
#: and told with the line that draws it again.
settings.register_profile(
    "keeplit", deadline=None, print_blob=True, suppress_health_check=list(HealthCheck)
)
settings.load_profile("keeplit")

#: Bytecode is kept from run to run even where the environment wants none: to rewrite assertions
#: is half of collecting, to compile the program a fifth of each process that a test starts.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

#: A parallel run tells its workers the width of its terminal: tables would fold there by chance.
os.environ.pop("COLUMNS", None)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--exact-cases",
        type=int,
        default=int(os.environ.get("KEEPLIT_EXACT_CASES", "400")),
        help="random sites on which the program is compared with the exhaustive search",
    )

    parser.addoption(
        "--fuzz-cases", type=int, default=500, help="spoilt files that are read or refused"
    )
    parser.addoption(
        "--all-states", action="store_true", help="every state of the page through axe-core"
    )


def pytest_unconfigure(config: pytest.Config) -> None:
    if not hasattr(config, "workerinput"):  # the last of a parallel run
        answered_once.forget()


HERE = Path(__file__).parent
#: Folders whose tests are quick unless marked slow.
QUICK = ("unit", "errors", "published")
#: Their doctests search whole price lists.
SLOW_DOCTESTS = tuple(HERE.parent / "optimizer" / room for room in ("answers", "comparison"))


#: What takes longest is begun first: no worker should be left alone with it at the end. What the
#: README asks is told by tests of commands and papers too: later ones take its answers.
LONGEST = (
    "test_readme.py",
    "exact",
    "properties",
    "unit/comparison",
    "unit/report/quote",
    "ui",
    "unit/cli",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what is quick and what needs a browser; those come first, then the longest folders."""
    turns = {}
    for item in items:
        if is_quick_place(item.path) and item.get_closest_marker("slow") is None:
            item.add_marker(pytest.mark.quick)
        turns[item] = turn(item.path)
        if not {"browser", "server"}.isdisjoint(getattr(item, "fixturenames", ())):
            item.add_marker(pytest.mark.xdist_group("browser"))
            turns[item] = -1
    items.sort(key=turns.__getitem__)


@cache
def is_quick_place(path: Path) -> bool:
    """Return whether what stands in a file is quick unless it is marked slow; doctests too."""
    if path.is_relative_to(HERE):
        return path.relative_to(HERE).parts[0] in QUICK
    return not any(path.is_relative_to(room) for room in SLOW_DOCTESTS)


@cache
def turn(path: Path) -> int:
    first = (place for place, name in enumerate(LONGEST) if path.is_relative_to(HERE / name))
    return next(first, len(LONGEST))


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """Give each core a worker, and one to the browser: its tests mostly wait."""
    return (os.cpu_count() or 1) + 1


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> object:
    """Keep the tests of a file together, and all in a browser, which is started once."""
    if config.option.dist != "loadgroup":
        return None
    from xdist.scheduler import LoadGroupScheduling

    class ByFile(LoadGroupScheduling):
        def _split_scope(self, nodeid: str) -> str:
            return super()._split_scope(nodeid).split("::")[0]

    config.option.loadscopereorder = False
    return ByFile(config, log)


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """Pass over folders without a quick test where nothing else is asked for: imports take long."""
    beside = collection_path.parent == HERE and collection_path.is_dir()
    is_idle = beside and collection_path.name not in QUICK
    return True if is_idle and config.option.markexpr == "quick" else None


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    answered_once.take_for(item.path)


@pytest.fixture
def exact_cases(request: pytest.FixtureRequest) -> int:
    """Random sites to try in each comparison with the exhaustive search."""
    return request.config.getoption("--exact-cases")
