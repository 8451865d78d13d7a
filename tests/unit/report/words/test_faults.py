"""Faults in the reader's language."""

from __future__ import annotations

import pytest

from optimizer.errors import Fault, FaultKind, InputError
from optimizer.inputs.load import load_job
from optimizer.report.words import catalogue, faults
from optimizer.report.words.writer import Writer
from tests.site_files import FILES, write_site

GERMAN = """\
msgid ""
msgstr "Content-Type: text/plain; charset=UTF-8\\n"

msgid "{place}: found {found}; wanted {wanted}"
msgstr "{place}: statt {found} wird erwartet: {wanted}"

msgid "{file}, row {row}"
msgstr "{file}, Zeile {row}"

msgid "a number"
msgstr "eine Zahl"

msgid "above {low} and at most {high}"
msgstr "über {low} und höchstens {high}"
"""


def wrong(folder):
    changes = {"batteries.csv": FILES["batteries.csv"].replace("220,20", "-220,20")}
    with pytest.raises(InputError) as caught:
        load_job(write_site(folder, changes))
    return caught.value.faults[0]


def test_in_english_as_it_stands(tmp_path):
    one = wrong(tmp_path)
    assert faults.fault(Writer("EUR"), one) == str(one)
    said = "found '-220'; wanted a number above 0 and at most 100000 Ah"
    assert str(one) == f"batteries.csv, row 2, capacity_ah: {said}"


def test_in_another_language(tmp_path, monkeypatch):
    (tmp_path / "de.po").write_text(GERMAN, encoding="utf-8")
    monkeypatch.setattr(catalogue, "FOLDER", tmp_path)
    catalogue.of_locale.cache_clear()
    try:
        text = faults.fault(Writer("EUR", "de"), wrong(tmp_path))
    finally:
        catalogue.of_locale.cache_clear()
    assert text == (
        "batteries.csv, Zeile 2, capacity_ah: statt '-220' wird erwartet: eine Zahl über 0 und "
        "höchstens 100000 Ah"
    )


def test_the_first_are_told_and_the_rest_counted():
    write = Writer("EUR")
    kinds = [FaultKind.VALUE] * 30 + [FaultKind.UNKNOWN] * 2 + [FaultKind.FILE]
    found = [Fault("a.csv", n, "count", "'x'", "a number", kind) for n, kind in enumerate(kinds)]
    told = faults.faults(write, found)
    assert told[:20] == [faults.fault(write, one) for one in found[:20]]
    assert told[20:] == [
        "And 13 more: 10 values unreadable or out of range, 2 unknown names, 1 unreadable file."
    ]
    assert faults.faults(write, found[:20]) == told[:20]
    assert str(InputError(found)).splitlines()[20:] == ["and 13 more"]


def test_names_are_shown_short_and_without_their_control_characters():
    one = Fault("\x1b[31m" + "long" * 100, 2, "x" * 5_000, "'x'", "a number")
    told = faults.fault(Writer("EUR"), one)
    assert "\x1b" not in told
    assert len(told) < 400
