"""Tables of sentences by kind: every kind has its sentence."""

from __future__ import annotations

from enum import Enum
from importlib import import_module
from pkgutil import iter_modules

import pytest

from optimizer.comparison.parameters import Unit
from optimizer.model.diagnosis import RelaxationKind
from optimizer.model.warning import WarningKind
from optimizer.quote.figures import FigureKind
from optimizer.quote.sums import Part
from optimizer.report import words
from optimizer.report.words.writer import Sentence

#: Kinds that a function of their own says: in several ways, or as another answer does.
APART = {
    ("parameters", Unit.FACTOR),
    ("quote_lines", Part.CIRCUIT),
    ("relaxations", RelaxationKind.STRINGS),
    ("warnings", WarningKind.WHAT_IF),
}


def tables():
    for info in iter_modules(words.__path__):
        module = import_module(f"{words.__name__}.{info.name}")
        for name, table in vars(module).items():
            if isinstance(table, dict) and all(isinstance(one, Enum) for one in table):
                told = [one for value in table.values() for one in _sentences(value)]
                if told and not name.startswith("__"):
                    yield pytest.param(info.name, table, id=f"{info.name}.{name}")


def _sentences(value):
    if isinstance(value, Sentence):
        return [value]
    return [one for one in value if isinstance(one, Sentence)] if isinstance(value, tuple) else []


@pytest.mark.parametrize(("topic", "table"), [*tables()])
def test_every_kind_has_its_sentence(topic, table):
    kinds = {type(kind) for kind in table}
    assert len(kinds) == 1
    missing = {kind for kind in kinds.pop() if kind not in table}
    apart = {kind for of, kind in APART if of == topic}
    # some kinds have no unit to be told with an axis, and nothing to be minded
    partly = {"parameters": {Unit.TIMES_A_YEAR}, "figure_notes": {*FigureKind}}
    assert missing <= apart | partly.get(topic, set())


def test_the_tables_are_found():
    topics = [one.values[0] for one in tables()]
    assert {"checks", "relaxations", "warnings", "ledger", "parameters", "quote"} <= {*topics}
    assert topics.count("checks") == 2
