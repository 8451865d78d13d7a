"""Another language needs one catalogue and no code: an invented one, and nothing English left.

Exempt are names and free texts from files (sources of chemistries among them), keys and columns,
units, and the help of the commands.
"""

from __future__ import annotations

import ast
import re
import string
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import write_po
from click.testing import CliRunner

import optimizer
from optimizer import load
from optimizer.cli import cli
from optimizer.inputs.fields import all_fields
from optimizer.model.phrase import Phrase
from optimizer.report.words import catalogue
from tests.site_files import FILES, write_site

pytestmark = pytest.mark.slow

PACKAGE = Path(optimizer.__file__).parent
#: A language whose own letters, for months, years and the like, are none of those looked for.
LOCALE = "ru"
ACCENTED = str.maketrans(
    string.ascii_letters, "áƀčđéƒǧĥíĵķĺɱńóþɋŕšťúṽŵẋýžÁɃČĐÉƑǦĤÍĴĶĹṀŃÓÞɊŔŠŤÚṼŴẊÝŽ"
)
UNITS = {"Ah", "EUR", "GBP", "LFP", "AGM", "VA", "kA", "kWh", "kVA", "kg", "mm", "ms", "per", "min"}
UNITS |= {
    "litre",
    "kW",
    "years",
    "year",
    "days",
    "day",
    "month",
    "of",
    "the",
    "strings",
    "units",
    "share",
    "false",
    "hour",
    "km",
}


@pytest.fixture(scope="module")
def messages():
    keywords = {"say": None, "say_number": (1, 2), "Phrase": None, "one_of": (1,)}
    keywords["Sentence"] = None
    methods = [("**.py", "python")]
    found = [
        one
        for place in (PACKAGE, PACKAGE.parent / "ui")
        for one in extract_from_dir(str(place), methods, keywords=keywords, strip_comment_tags=True)
    ]
    facts = [field for section in all_fields().values() for field in section.values()]
    told = [
        sentence
        for field in facts
        for sentence in sentences(field.help, field.wanted, field.source)
    ]
    return [*(message for _, _, message, _, _ in found), *told]


def sentences(*phrases):
    """Yield the sentences that phrases are made of: those of facts are no literals of a call."""
    for phrase in phrases:
        if isinstance(phrase, Phrase):
            yield phrase.english
            yield from sentences(*phrase.fields.values())


@pytest.fixture
def pseudo(messages, tmp_path, monkeypatch):
    """A catalogue of every message of the package, in letters that no English word has."""
    found = Catalog(locale=LOCALE)
    for message in messages:
        forms = (message,) if isinstance(message, str) else message
        said = [accented(one) for one in forms]
        if len(said) > 1:
            found.add(forms, (said[0], *[said[1]] * (found.num_plurals - 1)))
        else:
            found.add(message, said[0])
    with (tmp_path / f"{LOCALE}.po").open("wb") as file:
        write_po(file, found)
    monkeypatch.setattr(catalogue, "FOLDER", tmp_path)
    monkeypatch.setenv("KEEPLIT_LOCALE", LOCALE)
    catalogue.of_locale.cache_clear()
    yield
    catalogue.of_locale.cache_clear()


def accented(message):
    """Return a message with every letter outside its fields in place of the English one."""
    pieces = re.split(r"(\{[^}]*\})", message)
    return "".join(one if one.startswith("{") else one.translate(ACCENTED) for one in pieces)


def names(job):
    """Return every word that stands in the files of a site or names one of their columns."""
    texts = [job.site.name, *(season.name for season in job.site.seasons)]
    texts += [text for load in job.loads for text in (load.load, load.tier)]
    for battery in job.catalog.batteries:
        texts += [battery.battery, battery.chemistry, battery.family, battery.gas]
        texts += battery.sources.values()
    texts += [inverter.inverter for inverter in job.catalog.inverters]
    texts += [generator.generator for generator in job.catalog.generators]
    texts += [work.item for work in job.catalog.works]
    fields = all_fields()
    texts += [*fields, *(name for section in fields.values() for name in section)]
    return {word for text in texts for word in words_of(text)}


def words_of(text):
    """Return the words of English letters, two at least; keys such as max_hours are none."""
    return re.findall(r"(?<![\w.])[A-Za-z]{2,}(?![\w])", text)


BANK = """
inverter = "Bosunwick Saloon 48"
units = 1
battery = "Netherlume Ember"
strings = 2
voltage = 48
age_years = 3
"""


@pytest.mark.parametrize(
    "command",
    [
        "choose house --assumptions",
        "choose clinic",
        "frontier house --max-hours 12",
        "assess house BANK --hours 30",
        "assess house BANK --hours 2",
        "outages house --years 20",
        "check house",
        "compare house",
        "budget house",
        "tiers house",
        "fields battery_room batteries generators",
    ],
)
def test_nothing_english_comes_through(pseudo, tmp_path, command):
    bank = tmp_path / "bank.toml"
    bank.write_text(BANK, "utf-8")
    words = [str(bank) if word == "BANK" else word for word in command.split()]
    ran = CliRunner().invoke(cli, words, catch_exceptions=False)
    assert ran.exit_code == 0
    site = "clinic" if "clinic" in words else "house"
    known = names(load(site)) | UNITS
    assert [word for word in words_of(ran.output) if word not in known] == []
    assert re.search("[áéíóú]", ran.output)


def test_a_new_site_is_told_in_the_language_too(pseudo, tmp_path):
    folder = tmp_path / "place"
    ran = CliRunner().invoke(cli, ["new", str(folder)], catch_exceptions=False)
    assert ran.exit_code == 0
    files = " ".join(str(path) for path in [folder, *folder.rglob("*")])
    assert set(words_of(ran.output)) <= {*words_of(files), "keeplit", "check"}
    assert re.search("[áéíóú]", ran.output)


def test_a_refusal_is_told_in_the_language_too(pseudo, capsys):
    from optimizer.cli import main

    with pytest.raises(SystemExit):
        main(["choose", "hall", "--budget", "3000"])
    assert words_of(capsys.readouterr().err) == []


def test_every_sentence_is_a_literal_that_can_be_extracted(messages):
    assert len(messages) > 300
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Attribute):
                continue
            if node.func.attr in {"say", "say_number"}:
                wanted = 1 if node.func.attr == "say" else 2
                given = [isinstance(one, ast.Constant) for one in node.args[:wanted]]
                # a phrase's own text is a literal where the phrase is made
                phrase = isinstance(node.args[0], ast.Attribute) and node.args[0].attr == "english"
                assert all(given) or phrase, f"{path.name}:{node.lineno}"


def test_english_itself_is_what_is_said(pseudo, monkeypatch):
    """The same command without the catalogue: the check above can fail."""
    monkeypatch.setenv("KEEPLIT_LOCALE", "en")
    ran = CliRunner().invoke(cli, ["check", "house"], catch_exceptions=False)
    left = [word for word in words_of(ran.output) if word not in names(load("house")) | UNITS]
    assert len(left) > 20


def test_a_fault_is_told_in_the_language_too(pseudo, tmp_path, capsys):
    from optimizer.cli import main

    changes = {
        "batteries.csv": [("12.8", "128"), ("flooded,6", "floded,6"), ("11,,0.7", "11 A,7,9")],
        "site.toml": [("target_hours = 8", "target_hours = 80"), ("tariff", "tarif")],
        "outages.csv": None,
    }
    path = write_site(tmp_path, changes)
    with pytest.raises(SystemExit):
        main(["check", str(path)])
    told = capsys.readouterr().err
    files = {word for text in (*FILES, *FILES.values()) for word in words_of(text)}
    known = files | names(load("house")) | UNITS | {"floded", "tarif", "EUR", path.parent.name}
    shown = told.replace(str(tmp_path), "")
    assert [word for word in words_of(shown) if word not in known] == []
    assert len(told.splitlines()) >= 6
