"""The tree of errors: statuses, data and texts."""

from __future__ import annotations

import ast
import re
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import pytest

from optimizer import errors
from optimizer.errors import (
    Fault,
    InputError,
    InternalError,
    KeeplitError,
    NoDesignError,
    NotProvenError,
    nearest,
)
from optimizer.model.diagnosis import (
    Diagnosis,
    Goal,
    GoalKind,
    Hindrance,
    HindranceKind,
    Opening,
    RelaxationKind,
)
from optimizer.report.json.serialise import to_data

STATUSES = {
    KeeplitError: (1, "error"),
    InputError: (2, "input"),
    NoDesignError: (3, "no_design"),
    NotProvenError: (4, "not_proven"),
    InternalError: (5, "internal"),
}


@pytest.mark.slow
def test_no_fault_is_made_of_a_sentence():
    """What was found is a phrase, or the user's own text; what is wanted has the phrase's type."""
    root, sentences = Path(errors.__file__).parents[1], []
    paths = [path for room in ("optimizer", "ui") for path in (root / room).rglob("*.py")]
    for path in paths:
        for function in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(function, ast.FunctionDef):
                continue
            nodes = list(ast.walk(function))
            told = {
                target.id: one.value
                for one in nodes
                if isinstance(one, ast.Assign)
                for target in one.targets
                if isinstance(target, ast.Name)
            }
            for call in nodes:
                if isinstance(call, ast.Call) and getattr(call.func, "id", "") == "Fault":
                    found = call.args[3] if len(call.args) > 3 else call.args[-1]
                    found = told.get(getattr(found, "id", ""), found)
                    pieces = found.values if isinstance(found, ast.JoinedStr) else [found]
                    words = [
                        str(piece.value) for piece in pieces if isinstance(piece, ast.Constant)
                    ]
                    if any(re.search("(?<![-a-z])[a-z]{2,} |^[a-z]+$", word) for word in words):
                        sentences.append(f"{path.name}:{call.lineno}: {words}")
    assert sentences == []
    assert len(paths) > 100


@pytest.mark.parametrize(
    ("kind", "wanted"), STATUSES.items(), ids=lambda x: getattr(x, "__name__", "")
)
def test_exit_statuses(kind, wanted):
    assert (kind.exit_status, kind.kind) == wanted
    assert issubclass(kind, KeeplitError)


def test_the_tree_at_the_top_of_the_file_is_the_tree():
    raised = {
        name: found
        for name, found in vars(errors).items()
        if isinstance(found, type) and issubclass(found, Exception)
    }
    for name, found in raised.items():
        line = next(line for line in errors.__doc__.splitlines() if f"{name} " in line)
        assert line.split(name)[1].split()[-1 if name == "KeeplitError" else 0] == str(
            found.exit_status
        )


@pytest.mark.parametrize(
    ("row", "column", "text"),
    [
        (4, "price", "a.csv, row 4, price: found -3; wanted a price"),
        (None, "price", "a.csv, price: found -3; wanted a price"),
        (4, None, "a.csv, row 4: found -3; wanted a price"),
        (None, None, "a.csv: found -3; wanted a price"),
    ],
)
def test_a_fault_as_text(row, column, text):
    fault = Fault("a.csv", row, column, "-3", "a price")
    assert str(fault) == text
    assert to_data(fault) == {
        "file": "a.csv",
        "row": row,
        "column": column,
        "found": "-3",
        "wanted": "a price",
        "kind": "value",
    }


def test_input_errors_hold_every_fault():
    faults = [Fault("a.csv", row, None, "x", "y") for row in (2, 3)]
    error = InputError(iter(faults))
    assert error.faults == tuple(faults)
    assert str(error) == "\n".join(map(str, faults))


GOAL = Goal(GoalKind.HOURS, currency="EUR", hours=9)
OPENING = Opening(RelaxationKind.HOURS, now=9, needed=4)
DIAGNOSIS = Diagnosis((Hindrance(HindranceKind.MONEY),), (OPENING,), ())


def test_the_text_of_no_design_is_made_when_it_is_shown():
    error = NoDesignError(GOAL, DIAGNOSIS)
    assert str(error).splitlines() == [
        "No design carries 9 hours for the money allowed.",
        "Ask for 4 hours instead of 9 hours.",
    ]


@pytest.mark.slow
def test_errors_come_back_from_another_process_whole():
    errors_of_each_kind = (
        InputError([Fault("a.csv", 2, None, "x", "y")]),
        NoDesignError(GOAL, DIAGNOSIS),
        NotProvenError("stopped"),
        InternalError("two disagree"),
    )
    with ProcessPoolExecutor(1, get_context("spawn")) as pool:
        for error in errors_of_each_kind:
            with pytest.raises(type(error)) as caught:
                pool.submit(_fail, error).result()
            assert str(caught.value) == str(error)
            assert vars(caught.value).keys() >= vars(error).keys()
            assert all(getattr(caught.value, name) == value for name, value in vars(error).items())


def _fail(error):
    raise error


def test_nearest():
    known = ("capacity_ah", "Price", "mass_kg")
    assert nearest("capcity_ah", known) == "capacity_ah"
    assert nearest("PRICE", known) == "Price"  # as it is written
    assert nearest("zzz", known) is None
    assert nearest("price", ()) is None
