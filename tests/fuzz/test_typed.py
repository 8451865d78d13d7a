"""What people type into fields and options: read, or asked back; never another error."""

from __future__ import annotations

from random import Random

import pytest

from optimizer import InputError, load
from optimizer.inputs.bank_words import told_bank
from optimizer.inputs.cells import CellError
from optimizer.inputs.fields import all_fields
from optimizer.inputs.typed import is_average, typed_hours, typed_number
from optimizer.inputs.typed_log import log_text, typed_log

#: Pieces that are right in some field, and what slips between them.
PIECES = [
    *("12", "0", "1e9", "9" * 20, "9" * 5000, "1/2", "1/0", "nan", "inf", "1_000", "٣", "½"),
    *(" ", ",", ".", "-", "−", "/", "'", ":", ";", "\n", "\0", "(", "**", "%", "²", "_"),
    *("V", "Ah", "kWh", "kW", "kVA", "hp", "°F", "eV", "parsec", "x", "×", "6x", "h", "min"),
    *("agm", "gel", "lfp", "per", "month", "a day", "EUR", "€", "\u202f"),
    *("2026-01-31 ", "31.01.2026 ", "1/2/2026 ", "9999-12-31 ", "17:40", "24:00", "25:61", " – "),
]
NUMBERS = [one for part in all_fields().values() for one in part.values() if one.kind.is_numeric]
ROW = {"running_w": 90.0, "power_factor": 0.9, "voltage_v": 12.0}


def read(dice, job, text):
    yield lambda: told_bank(text, job, load_w=100)
    yield lambda: typed_number(text, dice.choice(NUMBERS), ROW, "EUR")
    yield lambda: typed_hours(text)
    yield lambda: is_average(text)
    yield lambda: log_text(typed_log(text).rows[1:])


@pytest.mark.parametrize("seed", range(4))
def test_words_are_read_or_asked_back(seed):
    dice, job = Random(seed), load("house")
    asked_back = 0
    for _ in range(250):
        text = "".join(dice.choices(PIECES, k=dice.randint(1, 6)))
        for reader in read(dice, job, text):
            try:
                reader()
            except (CellError, InputError) as problem:
                asked_back += bool(str(problem) or problem.hint == "")
    assert asked_back > 500
