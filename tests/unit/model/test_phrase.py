"""Text that remembers its sentence and operands."""

from __future__ import annotations

import pickle

from optimizer.model.phrase import Phrase, chain


def test_a_phrase_is_its_english_text():
    one = Phrase("at least {least} {unit}", least="3", unit=Phrase("years"))
    assert one == "at least 3 years"
    assert (one.english, one.fields["least"]) == ("at least {least} {unit}", "3")


def test_braces_of_a_file_are_no_fields():
    assert Phrase("found {cell}", cell="{x}") == "found {x}"


def test_pickled_whole():
    one = pickle.loads(pickle.dumps(Phrase("row {row}", row="2")))
    assert (one, one.english, one.fields) == ("row 2", "row {row}", {"row": "2"})


def test_parts_are_chained_without_gaps():
    assert chain("a number", "", Phrase("W")) == "a number W"
