from __future__ import annotations

import io
import tomllib
from dataclasses import replace
from decimal import Decimal

import pytest
from PIL import Image

from optimizer.errors import InputError
from optimizer.quote import Stage, company_from, read_company
from optimizer.quote.company import StageKind

VALID = """\
[company]
name = "Kettle & Sons"

[quote]
number = "7"
locale = "de"

[payment]
deposit = 0.4
stages = { "At the end" = 0.6 }
"""


def read(folder, text: str):
    path = folder / "company.toml"
    path.write_text(text, "utf-8")
    return read_company(path)


def faults(folder, text: str):
    with pytest.raises(InputError) as caught:
        read(folder, text)
    return [(f.row, f.column, f.found, f.wanted) for f in caught.value.faults]


def test_a_valid_file(tmp_path):
    found = read(tmp_path, VALID)
    assert (found.name, found.number, found.locale) == ("Kettle & Sons", "7", "de")
    assert found.stages == (
        Stage(StageKind.WITH_ORDER, "", Decimal("0.4")),
        Stage(StageKind.NAMED, "At the end", Decimal("0.6")),
    )
    assert (found.valid_days, found.markup) == (30, "spread")


def test_a_deposit_alone_leaves_the_rest(tmp_path):
    found = read(tmp_path, '[company]\nname = "K"\n[payment]\ndeposit = 0.3\n')
    assert [stage.share for stage in found.stages] == [Decimal("0.3"), Decimal("0.7")]


@pytest.mark.parametrize(
    ("change", "place", "found", "wanted"),
    [
        (("name =", "nam ="), (2, "company.nam"), "an unknown key", "nearest known: name"),
        (('"7"', "7"), (5, "quote.number"), "7", "a text such as"),
        (('"de"', '"zz"'), (6, "quote.locale"), "'zz'", "a locale that is known"),
        (("0.4", "40"), (9, "payment.deposit"), "40", "0.4 if 40 % was meant"),
        (("0.6", "0.5"), (10, "payment.stages"), "0.9 in all", "make up 1"),
        (("0.6", "-0.6"), (10, "payment.stages"), "-0.6 for 'At the end'", "above 0"),
        (("[quote]", "[quotes]"), (4, "quotes"), "an unknown section", "nearest known: quote"),
        (('number = "7"', "valid_days = 0"), (5, "quote.valid_days"), "0", "from 1 to 730 days"),
        (('number = "7"', 'markup = "hide"'), (5, "quote.markup"), "'hide'", '"line"'),
        (('number = "7"', "valid_days = 3 0"), (5, None), "no TOML", "lines such as"),
    ],
)
def test_what_is_wrong_is_said(tmp_path, change, place, found, wanted):
    [fault] = faults(tmp_path, VALID.replace(*change, 1))[:1]
    assert fault[:2] == place
    assert found in fault[2]
    assert wanted in fault[3]


def test_every_fault_is_said_at_once(tmp_path):
    text = VALID.replace('"7"', "7").replace('"de"', "3").replace("0.6", "0.5")
    assert len(faults(tmp_path, text)) == 3


def test_no_name_and_no_file(tmp_path):
    assert faults(tmp_path, "[company]\n")[0][1:3] == ("company.name", "no such key")
    with pytest.raises(InputError, match="no such file"):
        read_company(tmp_path / "other.toml")


def test_a_logo_is_a_picture(tmp_path):
    text = '[company]\nname = "K"\nlogo = "logo.png"\n'
    assert "no such file" in faults(tmp_path, text)[0][2]
    (tmp_path / "logo.png").write_text("<svg/>")
    assert "another kind of file" in faults(tmp_path, text)[0][2]
    drawn = io.BytesIO()
    Image.new("RGB", (40, 20), "#7a3b8f").save(drawn, "PNG")
    (tmp_path / "logo.png").write_bytes(drawn.getvalue()[:-30])
    assert "a damaged picture" in faults(tmp_path, text)[0][2]
    (tmp_path / "logo.png").write_bytes(drawn.getvalue())
    assert read(tmp_path, text).logo == drawn.getvalue()


def test_from_a_page_as_from_a_file(tmp_path):
    found = company_from(tomllib.loads(VALID))
    assert replace(found, file="") == replace(read(tmp_path, VALID), file="")
    with pytest.raises(InputError, match="name"):
        company_from({})
