"""The same survey in every form that spreadsheets write."""

from __future__ import annotations

from datetime import datetime

import pytest

from optimizer.errors import InputError
from optimizer.inputs.load import load_job
from optimizer.inputs.tables import decode, read_table
from tests.site_files import FILES, write_site

LOADS = "loads.csv"


def semicolons(text: str) -> str:
    """Turn a comma file into one with semicolons and decimal commas, list cells quoted."""
    rows = []
    for line in text.splitlines():
        cells = [cell.replace(".", ",") for cell in line.split(",")]
        rows.append(";".join(f'"{cell}"' if ";" in cell else cell for cell in cells))
    return "\n".join(rows) + "\n"


@pytest.mark.parametrize(
    "content",
    [
        FILES[LOADS].encode("utf-8-sig"),
        FILES[LOADS].encode("utf-16"),
        FILES[LOADS].encode("utf-16-le"),
        FILES[LOADS].encode("utf-16-be"),
        FILES[LOADS].encode("cp1252"),
        FILES[LOADS].replace("\n", "\r\n").encode(),
        FILES[LOADS].replace("\n", "\r").encode(),
        FILES[LOADS].replace(",", "\t").encode(),
        semicolons(FILES[LOADS]).encode(),
        semicolons(FILES[LOADS]).encode("utf-16"),
        b"\n,,,,,,,,\n" + FILES[LOADS].replace("\n", "\n\n").encode(),
    ],
)
def test_every_form_reads_the_same(tmp_path, content):
    (tmp_path / "plain").mkdir()
    expected = load_job(write_site(tmp_path / "plain")).loads
    assert load_job(write_site(tmp_path, {LOADS: content})).loads == expected


def test_decode():
    for encoding in ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"):
        assert decode("Kühlschrank".encode(encoding)) == "Kühlschrank"
    assert decode(b"") == ""
    assert decode(b"\x81\x8d") is None


@pytest.mark.parametrize(
    "name",
    ['6" pump, "big"', "two\nlines", "Ⓐ 🔋 Wärme", "=SUM(A1)", "a;b\tc", "'quoted'", "-5", "nan"],
)
def test_names_survive(tmp_path, name):
    quoted = '"' + name.replace('"', '""') + '"'
    job = load_job(write_site(tmp_path, {LOADS: ("Fridge", quoted)}))
    assert job.loads[0].load == name


def test_rows_keep_their_number_after_line_breaks_and_blank_lines(tmp_path):
    changes = {LOADS: [("Fridge", '"Fri\n\ndge"'), ("Pump", "\n,,,,,,,,\nPump"), ("0.5,", "5,")]}
    with pytest.raises(InputError) as caught:
        load_job(write_site(tmp_path, changes))
    assert [fault.row for fault in caught.value.faults] == [6]


def test_note_columns_are_ignored(tmp_path):
    lines = FILES[LOADS].splitlines()
    text = "\n".join([f"# note,{lines[0]},#", *(f"anything,{line},12.3" for line in lines[1:])])
    job = load_job(write_site(tmp_path, {LOADS: text}))
    assert [load.load for load in job.loads] == ["Fridge", "Lamps", "Pump"]


def test_columns_in_any_order(tmp_path):
    rows = [line.split(",") for line in FILES["fuses.csv"].splitlines()]
    text = "\n".join(",".join(reversed(row)) for row in rows)
    assert load_job(write_site(tmp_path, {"fuses.csv": text})).catalog.fuses[0].rating_a == 100


def write_workbook(path, rows, *, formula=None):
    from openpyxl import Workbook

    book = Workbook()
    for row in rows:
        book.active.append(row)
    if formula is not None:
        book.active[formula] = "=1+1"
    else:
        for cells in book.active.iter_rows():
            for cell in cells:
                if cell.data_type == "f":
                    cell.data_type = "s"
    book.save(path)


def typed(text):
    """The rows of a comma file with numbers as numbers."""

    def value(cell):
        try:
            return float(cell)
        except ValueError:
            return cell or None

    return [[value(cell) for cell in line.split(",")] for line in text.splitlines()]


def test_workbooks_read_the_same(tmp_path):
    (tmp_path / "plain").mkdir()
    expected = load_job(write_site(tmp_path / "plain"))
    changes = {"site.toml": [("loads.csv", "loads.xlsx"), ("outages.csv", "outages.xlsx")]}
    changes |= {f"{name}.csv": None for name in ("batteries", "inverters", "works", "cables")}
    site = write_site(tmp_path, changes)
    for name in ("loads", "batteries", "inverters", "works", "cables"):
        write_workbook(tmp_path / f"{name}.xlsx", typed(FILES[f"{name}.csv"]))
    outages = [line.split(",") for line in FILES["outages.csv"].splitlines()]
    moments = [[datetime.fromisoformat(cell) for cell in row] for row in outages[1:]]
    write_workbook(tmp_path / "outages.xlsx", [outages[0], *moments])
    assert load_job(site) == expected


def test_workbook_dates_and_formulas(tmp_path):
    site = write_site(tmp_path, {"site.toml": ("loads.csv", "loads.xlsx")})
    rows = typed(FILES[LOADS])
    rows[2][6] = datetime(2026, 8, 6)
    write_workbook(tmp_path / "loads.xlsx", rows)
    with pytest.raises(InputError) as caught:
        load_job(site)
    (fault,) = caught.value.faults
    assert (fault.file, fault.row, fault.column) == ("loads.xlsx", 3, "hours")
    assert fault.found == "'2026-08-06T00:00:00'"
    assert "turned the window into a date" in fault.wanted

    write_workbook(tmp_path / "loads.xlsx", typed(FILES[LOADS]), formula="D3")
    with pytest.raises(InputError) as caught:
        load_job(site)
    (fault,) = caught.value.faults
    assert (fault.row, fault.found) == (3, "'=1+1', a formula without a stored result")


def test_workbook_names_that_look_like_formulas_are_text(tmp_path):
    site = write_site(tmp_path, {"site.toml": ("loads.csv", "loads.xlsx")})
    rows = typed(FILES[LOADS])
    rows[1][0] = "=Fridge"
    write_workbook(tmp_path / "loads.xlsx", rows)
    assert load_job(site).loads[0].load == "=Fridge"


def test_a_table_knows_when_it_is_bare(tmp_path):
    (tmp_path / "a.csv").write_text("x,y\n")
    (tmp_path / "b.csv").write_text("x,y\n1,2,3\n")
    faults = []
    assert read_table(tmp_path / "a.csv", faults).bare
    assert not faults
    assert not read_table(tmp_path / "b.csv", faults).bare
    assert len(faults) == 1
