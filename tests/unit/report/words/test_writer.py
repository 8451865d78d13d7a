from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from optimizer.report.words import catalogue
from optimizer.report.words.writer import Writer

NBSP = "\u00a0"


@pytest.mark.parametrize(
    ("spec", "value", "english", "german"),
    [
        ("money", 1234.5, "€1,235", f"1.235{NBSP}€"),
        ("money", -0.2, "€0", f"0{NBSP}€"),
        ("money", -415, "−€415", f"−415{NBSP}€"),
        ("difference", 415.2, "€415 more", f"415{NBSP}€ more"),
        ("difference", -415.2, "€415 less", f"415{NBSP}€ less"),
        ("cents", Decimal("0.005"), "€0.01", f"0,01{NBSP}€"),
        ("number", 1234.5, "1,235", "1.235"),
        ("number.1", -0.04, "0.0", "0,0"),
        ("figure", 0.19735, "0.197", "0,197"),
        ("figure.4", 45.306, "45.31", "45,31"),
        ("factor", 0.843118513, f"×{NBSP}0.843", f"×{NBSP}0,843"),
        ("share", 0.21, "21%", f"21{NBSP}%"),
        ("share.1", 0.0171, "1.7%", f"1,7{NBSP}%"),
        ("hours", 1, "1 hour", "1 Stunde"),
        ("hours", 23.89, "23.8 hours", "23,8 Stunden"),
        ("years", 10, "10 years", "10 Jahre"),
        ("years", 1.94, "1.9 years", "1,9 Jahre"),
        ("date", date(2026, 11, 5), "5 Nov 2026", "05.11.2026"),
        ("clock", 1, "01:00", "01:00"),
        ("list", ["a", "b\nc", "d"], "a, b␊c and d", "a, b␊c und d"),
        ("list", ["a"], "a", "a"),
        ("capital", "a\nb", "A␊b", "A␊b"),
    ],
)
def test_a_field_is_written_as_its_spec_says(spec, value, english, german):
    sentence = f"{{it:{spec}}}"
    assert Writer("EUR").say(sentence, it=value) == english
    assert Writer("EUR", "de").say(sentence, it=value) == german


def test_fields_without_a_spec():
    write = Writer("EUR")
    assert write.say("{name} has {n}", name="two\nlines {n} %s", n=-3) == "two␊lines {n} %s has −3"


def test_the_currency_is_the_writers_own():
    assert Writer("GBP").say("Cost, {currency}") == "Cost, GBP"
    assert Writer("GBP").say("Cost, {currency}", currency="EUR") == "Cost, EUR"


def test_a_sign_stands_where_the_language_puts_it():
    assert Writer("TRY", "tr").share(0.21) == "%21"


def test_an_unknown_spec_is_a_bug():
    with pytest.raises(KeyError):
        Writer("EUR").say("{n:furlongs}", n=1)


@pytest.fixture
def polish(tmp_path, monkeypatch):
    (tmp_path / "pl.po").write_text(
        """msgid ""
msgstr ""
"Content-Type: text/plain; charset=utf-8\\n"
"Language: pl\\n"
"Plural-Forms: nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && "
"(n%100<10 || n%100>=20) ? 1 : 2);\\n"

msgid "{saving:money} cheaper over {time:years}"
msgstr "w {time:years} taniej o {saving:money}"

msgid "{n} bank"
msgid_plural "{n} banks"
msgstr[0] "{n} bateria"
msgstr[1] "{n} baterie"
msgstr[2] "{n} baterii"

#, fuzzy
msgid "Not looked at again"
msgstr "?"
""",
        encoding="utf-8",
    )
    monkeypatch.setattr(catalogue, "FOLDER", tmp_path)
    catalogue.of_locale.cache_clear()
    yield Writer("PLN", "pl_PL")
    catalogue.of_locale.cache_clear()


def test_a_catalogue_may_change_the_order_of_the_fields(polish):
    said = polish.say("{saving:money} cheaper over {time:years}", saving=415, time=10)
    assert said == f"w 10 lat taniej o 415{NBSP}zł"


def test_plurals_follow_the_rule_of_the_language(polish):
    forms = [polish.say_number("{n} bank", "{n} banks", n) for n in (1, 3, 5, 22)]
    assert forms == ["1 bateria", "3 baterie", "5 baterii", "22 baterie"]


def test_what_is_not_translated_stays_english(polish):
    assert polish.say("Nobody translated this") == "Nobody translated this"
    assert polish.say("Not looked at again") == "Not looked at again"
    assert polish.say("") == ""
    assert polish.say_number("{n} cable", "{n} cables", 2) == "2 cables"
