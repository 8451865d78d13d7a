"""What the package exports, and what importing it brings along."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

import optimizer

ROOT = Path(__file__).parents[2]
#: Loaded only by what needs them: the page, tables, solvers, the reading of files.
HEAVY = ("streamlit", "altair", "pandas", "pulp", "highspy", "pydantic", "openpyxl", "rich")


def test_all_is_what_is_exported():
    """Submodules aside: they appear on the package as soon as anything imports them."""
    exported = {
        name
        for name, found in vars(optimizer).items()
        if not name.startswith("_") and not isinstance(found, ModuleType)
    }
    assert set(optimizer.__all__) == exported
    assert list(optimizer.__all__) == sorted(optimizer.__all__)


def test_no_module_hides_behind_an_exported_name():
    """A submodule called like a function would replace it once it is imported."""
    modules = {path.stem for path in (ROOT / "optimizer").glob("*") if path.suffix in {".py", ""}}
    assert modules & set(optimizer.__all__) == set()


@pytest.mark.parametrize("name", optimizer.__all__)
def test_every_public_name_is_explained(name):
    assert getattr(optimizer, name).__doc__


def loaded_by(code):
    """Names of the modules that are loaded once ``code`` has run in a process of its own."""
    script = f"import json, sys\n{code}\nprint(json.dumps(sorted(sys.modules)))"
    run = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return {name.split(".")[0] for name in json.loads(run.stdout.splitlines()[-1])}


@pytest.mark.parametrize("code", ["import optimizer", "import optimizer.cli"])
def test_importing_is_light(code):
    assert loaded_by(code) & set(HEAVY) == set()


def test_reading_and_surveying_a_site_needs_no_solver():
    code = "import optimizer\noptimizer.survey(optimizer.load('house'))"
    assert loaded_by(code) & {"pulp", "highspy", "pandas", "openpyxl", "streamlit"} == set()


def test_a_curve_needs_neither_frames_nor_charts():
    code = "import optimizer\noptimizer.frontier(optimizer.load('house'), max_hours=2)"
    found = loaded_by(code)
    assert found & {"streamlit", "altair", "pandas", "openpyxl", "rich"} == set()
    assert {"pulp", "highspy"} <= found
