"""Numbers at the ends of the ranges that their fields state: answered, or refused; never a failure.

With ``--fuzz-cases 20000`` more of them; a case that fails names its seed and what was put where.
"""

from __future__ import annotations

import csv
import io
import math
from random import Random

from optimizer import InputError, NoDesignError, choose, frontier, load
from optimizer.inputs.columns import Kind
from optimizer.inputs.fields import all_fields
from tests.fuzz.formats import TABLES, Formats

#: One case takes as long as so many spoilt files.
WORTH = 60
FIELDS = all_fields()


def ends(column):
    """The least and the most that may stand in a column, or a hair within."""
    limits = column.limits
    low, high = limits.get("ge", limits.get("gt")), limits.get("le", limits.get("lt"))
    found = [low if "ge" in limits else low + 2e-9, high if "le" in limits else high * (1 - 1e-9)]
    return [round(one) if column.kind is Kind.WHOLE else one for one in found]


def with_edges(dice, text, fields):
    """A table with one number at an end of its range, in one row or in all."""
    head, *rows = csv.reader(io.StringIO(text))
    name = dice.choice([key for key, column in fields.items() if column.limits])
    if name not in head:
        head.append(name)
        rows = [[*row, ""] for row in rows]
    value, place = dice.choice(ends(fields[name])), head.index(name)
    for row in rows if dice.random() < 0.3 else [dice.choice(rows)]:
        row[place] = repr(value)
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows([head, *rows])
    return out.getvalue(), (name, value)


def test_numbers_at_the_ends_of_their_ranges(tmp_path, request):
    formats = Formats(tmp_path)
    failed = []
    for seed in range(request.config.getoption("--fuzz-cases") // WORTH):
        dice, texts, told = Random(seed), dict(TABLES), []
        for _ in range(dice.choice((1, 1, 2, 3))):
            name = dice.choice([one for one in TABLES if one != "outages.csv"])
            texts[name], put = with_edges(dice, texts[name], FIELDS[name.removesuffix(".csv")])
            told.append((name, *put))
        for name, text in texts.items():
            (tmp_path / name).write_text(text, "utf-8")
        try:
            job = load(formats.site)
            points = frontier(job, max_hours=4).points
            sums = [choose(job, hours=2).design.life_cycle_cost, *(p.upfront_cost for p in points)]
            if not all(map(math.isfinite, sums)):
                failed.append((seed, told, sums))
        except (InputError, NoDesignError):
            continue
        except Exception as error:
            failed.append((seed, told, f"{type(error).__name__}: {str(error)[:200]}"))
    assert failed == []
