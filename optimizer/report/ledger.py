"""The ledger of assumptions as tables."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from optimizer.report.tables import new_table
from optimizer.report.words import plain

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rich.table import Table

    from optimizer.answers.ledger import Assumption

#: The columns of the loads: heading and name in the ledger.
_LOAD_COLUMNS = (
    ("Count", "count"),
    ("Running, W", "running_w"),
    ("Power factor", "power_factor"),
    ("Starting, W", "starting_w"),
    ("Duty", "duty"),
    ("Hours of the day", "hours"),
)
_LOAD, _WORK = "Load ", "Work "


def ledger_tables(ledger: Sequence[Assumption]) -> list[Table]:
    """Return every number a design rests on, one table a subject, loads and works in one each."""
    found = []
    for subject, group in groupby(ledger, key=lambda one: _table_of(one.subject)):
        numbers = list(group)
        if subject == _LOAD:
            found.append(_load_table(numbers))
            continue
        works = subject == _WORK
        table = new_table(
            plain("Works" if works else subject),
            *((("Item", False),) if works else ()),
            ("What", False),
            ("Value", True),
            ("Unit", False),
            ("Source", False),
        )
        for one in numbers:
            cells = (plain(one.name), value_in_words(one.value), one.unit, source_in_words(one))
            head = (plain(one.subject.removeprefix(_WORK)),) if works else ()
            table.add_row(*head, *cells)
        found.append(table)
    if found:
        count = f"What it rests on: {len(ledger)} numbers"
        found[0].title = f"{count}\n\n{found[0].title}"
    return found


def _table_of(subject: str) -> str:
    return next((kind for kind in (_LOAD, _WORK) if subject.startswith(kind)), subject)


def _load_table(numbers: Iterable[Assumption]) -> Table:
    table = new_table(
        "Loads, from the load survey",
        ("Load", False),
        *((heading, name != "hours") for heading, name in _LOAD_COLUMNS),
        ("Seasons", False),
    )
    for subject, group in groupby(numbers, key=lambda one: one.subject):
        values = {one.name: value_in_words(one.value) for one in group}
        seasons = "; ".join(
            f"{name.removeprefix('multiplier in ')} × {value}"
            for name, value in values.items()
            if name.startswith("multiplier in ")
        )
        cells = [values[name] for _, name in _LOAD_COLUMNS]
        table.add_row(plain(subject.removeprefix(_LOAD)), *cells, plain(seasons))
    return table


def value_in_words(value: float | str) -> str:
    """Return a value as it was typed, without noise.

    >>> value_in_words(12.0), value_in_words(0.905), value_in_words(1e-9), value_in_words("yes")
    ('12', '0.905', '1e-09', 'yes')
    """
    return plain(value) if isinstance(value, str) else f"{value:.7g}"


def source_in_words(one: Assumption) -> str:
    """Return where a number comes from; a chemistry's default says so.

    >>> from optimizer.answers.ledger import Assumption
    >>> text = "chemistry lfp shipped: common practice"
    >>> source_in_words(Assumption("Battery Reed", "max_dod", 0.9, "", "chemistry", text))
    'default of lfp: common practice'
    """
    name, found, rest = one.source.removeprefix("chemistry ").partition(" shipped: ")
    return plain(f"default of {name}: {rest}" if found else one.source)
