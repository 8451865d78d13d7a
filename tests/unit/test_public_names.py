"""What the package exports, and what importing it brings along."""

from __future__ import annotations

import ast
import inspect
import json
import subprocess
import sys
from importlib import import_module
from importlib.metadata import version
from pathlib import Path
from typing import get_type_hints

import pytest

import optimizer

ROOT = Path(__file__).parents[2]
#: Loaded only by what needs them: the page, tables, solvers, the reading of files.
HEAVY = ("streamlit", "altair", "pandas", "pulp", "highspy", "pydantic", "openpyxl", "rich")


def test_all_is_what_is_exported():
    """What type checkers are told, what is listed and what is found are the same names."""
    tree = ast.parse((ROOT / "optimizer" / "__init__.py").read_text("utf-8"))
    told = next(node for node in tree.body if isinstance(node, ast.If))
    names = {
        f"{found.module}:{one.name}"
        for found in told.body
        if isinstance(found, ast.ImportFrom)
        for one in found.names
    }
    assert {name.partition(":")[2] for name in names} == set(optimizer.__all__)
    for name in names:
        module, _, public = name.partition(":")
        assert getattr(optimizer, public) is getattr(import_module(module), public)
    assert list(optimizer.__all__) == sorted(optimizer.__all__)
    assert set(optimizer.__all__) <= set(dir(optimizer))


def test_what_is_not_there_is_an_attribute_error():
    with pytest.raises(AttributeError, match="no attribute 'sizing'"):
        optimizer.sizing  # noqa: B018 - the look-up is what is tested


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("judge", "assess"),
        ("second_opinion", "independent_simulation"),
        ("swings", "sensitivities"),
        ("flips", "switch_points"),
        ("border", "break_even_line"),
    ],
)
def test_old_names_are_answered_with_a_warning(old, new):
    with pytest.warns(DeprecationWarning, match=f"{old} is now {new}"):
        assert getattr(optimizer, old) is getattr(optimizer, new)


def test_the_version_is_that_of_the_package():
    assert optimizer.__version__ == version("keeplit")
    assert (ROOT / "optimizer" / "py.typed").is_file()


@pytest.mark.parametrize("name", optimizer.__all__)
def test_the_hints_of_every_public_name_resolve(name):
    public = getattr(optimizer, name)
    members = [one for key, one in vars(public).items() if not key.startswith("_")]
    functions = [getattr(one, "fget", one) for one in members]
    if isinstance(public, type) and issubclass(public, Exception):
        functions.append(public.__init__)
    for one in (public, *filter(inspect.isfunction, functions)):
        assert isinstance(get_type_hints(one), dict)


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


def test_importing_loads_nothing():
    """So that Ctrl+C is ours from the first line on."""
    loaded_by(
        "before = {*sys.modules}\nimport optimizer\nassert {*sys.modules} - before == {'optimizer'}"
    )


def test_telling_the_version_loads_no_command():
    code = """
from optimizer.cli import cli
cli(["--version"], standalone_mode=False)
loaded = {name for name in sys.modules if name.startswith(("optimizer.", "importlib.meta"))}
assert {"optimizer.cli", "optimizer.errors"} <= loaded, loaded
idle = ("optimizer.model.job", "optimizer.cli.curve", "optimizer.cli.asking", "importlib.metadata")
assert loaded.isdisjoint(idle), loaded
"""
    assert loaded_by(code) & {"numpy", "pydantic", "rich", "babel"} == set()


@pytest.mark.slow
def test_reading_and_surveying_a_site_needs_no_solver():
    code = "import optimizer\noptimizer.survey(optimizer.load('house'))"
    assert loaded_by(code) & {"pulp", "highspy", "pandas", "openpyxl", "streamlit"} == set()


@pytest.mark.slow
def test_a_curve_needs_neither_frames_nor_charts():
    code = "import optimizer\noptimizer.frontier(optimizer.load('house'), max_hours=2)"
    found = loaded_by(code)
    assert found & {"streamlit", "altair", "pandas", "openpyxl", "rich"} == set()
    assert {"pulp", "highspy"} <= found


@pytest.mark.slow
def test_a_choice_loads_nothing_that_only_other_questions_need():
    code = """
from optimizer.cli import cli
cli(["choose", "house"], standalone_mode=False)
idle = ("rich.console", "optimizer.engine.diagnosing", "optimizer.answers.ledger",
    "optimizer.answers.site_survey", "optimizer.inputs.design_file")
loaded = {*sys.modules}
assert loaded.isdisjoint(idle), loaded.intersection(idle)
"""
    assert {"optimizer", "pulp", "highspy"} <= loaded_by(code)
