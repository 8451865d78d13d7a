"""Files made to fill a memory or a day: refused with file and place, at once, in little memory."""

from __future__ import annotations

import io
import tracemalloc
import zipfile
from contextlib import suppress
from itertools import cycle
from time import process_time

import pytest

from optimizer import InputError, load
from optimizer.errors import SHOWN_FAULTS
from optimizer.files.limits import CELL_CHARACTERS, CELLS, COLUMNS, ROWS
from optimizer.files.place import Held
from optimizer.inputs.job_file import open_job
from optimizer.inputs.scaffold import write_site
from optimizer.inputs.supplier_list import read_list
from optimizer.inputs.tables import read_table
from optimizer.inputs.toml_text import read_toml
from optimizer.report.words import faults as words
from optimizer.report.words.writer import Writer

pytestmark = pytest.mark.slow

#: A bomb may take this [s of one core; bytes].
SECONDS, BYTES = 5.0, 150_000_000
HEAD = '<?xml version="1.0"?>\n'
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
OPEN = "application/vnd.openxmlformats-officedocument.spreadsheetml"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"


def workbook(rows="", texts="", styles=None, more=()):
    """A workbook of one sheet, part by part."""
    parts = {
        "[Content_Types].xml": f'{HEAD}<Types xmlns="{PACKAGE}/content-types">'
        '<Default Extension="xml" ContentType="application/xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{OPEN}.sheet.main+xml"/>'
        f'<Override PartName="/xl/sharedStrings.xml" ContentType="{OPEN}.sharedStrings+xml"/>'
        f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{OPEN}.worksheet+xml"/>'
        "</Types>",
        "_rels/.rels": f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="r1"'
        f' Type="{RELS}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'{HEAD}<workbook xmlns="{MAIN}" xmlns:r="{RELS}"><sheets>'
        '<sheet name="a" sheetId="1" r:id="r1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships">'
        f'<Relationship Id="r1" Type="{RELS}/worksheet" Target="worksheets/sheet1.xml"/>'
        "</Relationships>",
        "xl/sharedStrings.xml": f'{HEAD}<sst xmlns="{MAIN}">{texts}</sst>',
        "xl/worksheets/sheet1.xml": f'{HEAD}<worksheet xmlns="{MAIN}"><sheetData>{rows}'
        "</sheetData></worksheet>",
        **({} if styles is None else {"xl/styles.xml": styles}),
        **dict(more),
    }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in parts.items():
            archive.writestr(name, text)
    return out.getvalue()


def row(number, *cells):
    return f'<row r="{number}">{"".join(cells)}</row>'


def cell(place, value=None):
    inside = "" if value is None else f"<v>{value}</v>"
    return f'<c r="{place}">{inside}</c>'


def heading():
    return row(1, cell("A1", 1), cell("B1", 2))


WORKBOOKS = {
    "a blank in the last cell": (
        lambda: workbook(heading() + row(1_048_576, cell("XFD1048576"))),
        f"row {ROWS + 1}: found more than 20,000 rows",
    ),
    "very many rows": (
        lambda: workbook("".join(row(n, cell(f"A{n}", n)) for n in range(1, ROWS + 100))),
        f"row {ROWS + 1}: found more than 20,000 rows",
    ),
    "blanks at the end of every row": (
        lambda: workbook("".join(row(n, cell(f"XFD{n}")) for n in range(1, ROWS))),
        "found more than 500,000 cells",
    ),
    "one filled cell far to the right": (
        lambda: workbook(heading() + row(2, cell("XFD2", 1))),
        "row 2: found 16,384 columns; wanted at most 500",
    ),
    "a long cell": (
        lambda: workbook(row(1, f'<c r="A1" t="inlineStr"><is><t>{"x" * 6_000}</t></is></c>')),
        "row 1: found a cell of 6,000 characters; wanted at most 5,000",
    ),
    "a vast cell": (lambda: workbook(row(1, cell("A1", " " * 70_000_000))), "unpacks to 70"),
    "very many texts": (
        lambda: workbook(heading(), texts="<si/>" * (2 * CELLS + 10)),
        "found more than 500,000 texts",
    ),
    "vast styles": (
        lambda: workbook(heading(), styles=f'<styleSheet xmlns="{MAIN}">{"<xf/>" * 600_000}'),
        "MB beside its cells",
    ),
    "entities of entities": (
        lambda: workbook(heading(), more=[("xl/styles.xml", LAUGHS)]),
        "a damaged workbook",
    ),
    "no sheet": (lambda: workbook(more=[("xl/workbook.xml", "")]), "a damaged workbook"),
    "a row that is none": (lambda: workbook(row("x", cell("A1", 1))), "a damaged workbook"),
}
LAUGHS = (
    '<!DOCTYPE s [<!ENTITY a "ha">'
    + "".join(
        f'<!ENTITY {b} "{f"&{a};" * 10}">' for a, b in zip("abcdefgh", "bcdefghi", strict=True)
    )
    + f']><styleSheet xmlns="{MAIN}">&i;</styleSheet>'
)
TEXTS = {
    "newlines": (b"\n" * 9_999_999, f"row {ROWS + 1}: found more than 20,000 rows"),
    "commas": (b"a" + b"," * 9_000_000, "columns; wanted at most 500"),
    "quotes": (b'"' * 9_999_999, "a quote mark that is never closed"),
    "a vast cell": (b"a,b\n" + b"x" * 9_000_000 + b",1\n", "a cell of 9,000,000 characters"),
    "many cells": (b",".join([b"a"] * COLUMNS) + b"\n" + (b"1," * 499 + b"1\n") * 1001, "500,000"),
    "zeros": (b"\0" * 9_999_999, "bytes that are no text"),
    "one byte too many": (b"a" * 10_000_001, "more than 10 MB; wanted a CSV or XLSX file, of"),
}


def told(make, name="list.csv"):
    """Return what is said of a file, after holding the reader to its time and memory."""
    raw = make() if callable(make) else make
    tracemalloc.start()
    began = process_time()
    faults = []
    try:
        found = read_table(Held({name: raw}, name), faults)
        took, (_, most) = process_time() - began, tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert found is None
    assert took < SECONDS
    assert most < BYTES
    return "\n".join(map(str, faults))


@pytest.mark.parametrize("name", WORKBOOKS)
def test_a_workbook_that_is_a_bomb(name):
    make, said = WORKBOOKS[name]
    assert said in told(make)


@pytest.mark.parametrize("name", TEXTS)
def test_a_text_that_is_a_bomb(name):
    make, said = TEXTS[name]
    assert said in told(make)


def test_a_suppliers_list_is_held_to_the_same(tmp_path):
    for raw in (b"\n" * 9_999_999, b"x" * 6_000):
        with pytest.raises(InputError) as caught:
            read_list(Held({"list.csv": raw}, "list.csv"))
        assert len(caught.value.faults) == 1


def test_what_is_just_small_enough_is_read():
    wide = [",".join(["a"] * COLUMNS), ",".join(["x" * CELL_CHARACTERS] + ["1"] * (COLUMNS - 1))]
    long = "a\n" + "1\n" * (ROWS - 1)
    for text in ("\n".join(wide), long):
        faults = []
        assert read_table(Held({"list.csv": text.encode()}, "list.csv"), faults) is not None
        assert faults == []
    blank_end = workbook(heading() + row(2, cell("A2", 3), cell("B2", 4), cell("XFD2")))
    assert read_table(Held({"list.xlsx": blank_end}, "list.xlsx"), []).rows[0].cells == ("3", "4")


@pytest.mark.parametrize(
    "text",
    [
        "[" + " " * 400_000,
        "a" * 400_000,
        "a = " + "[" * 100_000,
        ".".join("a" * 100_000) + " = 1",
        "a = 0x" + "f" * 50_000,
        "a = " + "9" * 50_000,
        'a = "' + "x" * 400_000,
        "# " + "x" * 500_000,
    ],
)
def test_a_toml_file_that_is_a_bomb(text):
    began = process_time()
    with suppress(InputError):
        read_toml(Held({"site.toml": text.encode()}, "site.toml"), "a site file")
    assert process_time() - began < SECONDS


@pytest.mark.parametrize(
    "text", ["[" * 1_000_000, '{"a":' * 100_000, '{"keeplit_job": ' + "9" * 100_000 + "}"]
)
def test_a_job_file_that_is_a_bomb(text):
    with pytest.raises(InputError, match="no JSON"):
        open_job(text.encode(), "mine.json")


HEADING = "load,tier,count,running_w,power_factor,hours,duty,seasons,with"


def test_very_many_names_that_nobody_knows_are_told_in_time(tmp_path):
    """Nearest names are looked for only where they are shown."""
    write_site(tmp_path, like="house")
    rows = [f"Lamp {n},tier {n},1,9,1,0:00-24:00,1,never{n}:1,Nobody {n}" for n in range(10_000)]
    (tmp_path / "loads.csv").write_text("\n".join([HEADING, *rows]), "utf-8")
    began = process_time()
    with pytest.raises(InputError) as caught:
        load(tmp_path)
    assert process_time() - began < SECONDS
    assert len(caught.value.faults) >= 20_000
    said = words.faults(Writer("EUR"), caught.value.faults)
    assert len(said) == SHOWN_FAULTS + 1
    assert "unknown names" in said[-1]
    assert len("".join(said)) < 5_000


def test_ten_thousand_loads_are_read_in_two_seconds_and_200_megabytes(tmp_path):
    write_site(tmp_path, like="house")
    rows = [
        f"Load {n},{tier},{n % 9 + 1},{n + 1},0.8{n % 10},6:00-9:30;18:00-23:00,0.5,winter:1.2,"
        for n, tier in zip(range(10_000), cycle(("essential", "useful")), strict=False)
    ]
    (tmp_path / "loads.csv").write_text("\n".join([HEADING, *rows]), "utf-8")
    began = process_time()
    assert len(load(tmp_path).loads) == 10_000
    assert process_time() - began < 2
    tracemalloc.start()
    load(tmp_path)
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert most < 200_000_000
