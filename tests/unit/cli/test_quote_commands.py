"""``keeplit quote`` and ``keeplit prices`` as they are typed."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path

import pytest
from pypdf import PdfReader

pytestmark = pytest.mark.slow

DEMO = Path(__file__).parents[3] / "catalogs_demo"
SUPPLIER = DEMO / "supplier"


def test_every_file_at_once(keeplit, short_house, tmp_path):
    names = [tmp_path / f"quote.{end}" for end in ("pdf", "xlsx", "csv", "json")]
    words = [word for name in names for word in ("-o", name)]
    ran = keeplit(
        "quote", short_house, *words, "--company", DEMO / "company.toml", "--date", "2026-11-25",
        "--installer", tmp_path / "margin.csv", "--as-built", tmp_path,
    )  # fmt: skip
    assert ran.status == 0
    assert ran.out.count("Written: ") >= 6
    assert names[0].read_bytes().startswith(b"%PDF")
    assert json.loads(names[3].read_text("utf-8"))["quote"] == "Q-2026-118"
    assert "margin" in (tmp_path / "margin.csv").read_text("utf-8")
    built = sorted(tmp_path.glob("as-built-*-Q-2026-118-*h.toml"))
    assert len(built) == len(json.loads(names[3].read_text("utf-8"))["options"])
    assert tomllib.loads(built[0].read_text("utf-8"))["units"] >= 1


def test_without_a_file_it_shows_the_options(keeplit, short_house):
    ran = keeplit("quote", short_house, "--options", "2,6", "--date", "2026-11-25")
    assert ran.status == 0
    assert re.search(r"6 hours, (lithium|lead-acid)", ran.out)
    assert "-o FILE" in ran.out


def test_the_appendix_is_added_when_asked_for(keeplit, short_house):
    words = ("--json", "--options", "4", "--date", "2026-11-25", "--appendix")
    added = keeplit("quote", short_house, *words).json["appendix"]
    asked = keeplit("compare", short_house, "--hours", str(added["hours"]), "--json").json
    # the appendix asks for its own line; what is supposed stands with the quote
    for key in set(asked) - {"version", "break_even_line", "supposed"}:
        assert added[key] == asked[key], key


def test_json_for_programs(keeplit, short_house):
    first, again = (
        keeplit("quote", short_house, "--json", "--options", "2,6", "--date", "2026-11-25")
        for _ in range(2)
    )
    assert [option["why_hours"] for option in first.json["options"]] == [2, 6]
    assert first.out == again.out
    words = ("--options", "2", "--options", "6", "--date", "2026-11-25")
    assert keeplit("quote", short_house, "--json", *words).out == first.out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("-o", "quote.doc"), ".pdf, .xlsx, .csv, .json"),
        (("-o", "."), "without an ending"),
        (("--installer", "margin.pdf"), ".xlsx, .csv, .json"),
        (("--options", "12;24"), "commas between"),
        (("--options", "241"), "from 1 to 6"),
        (("--options", "9" * 5000), "commas between"),
        (("--date", "25.11.2026"), "a day such as"),
        (("--company", "nowhere.toml"), "no such file"),
        (("--family", "nickel"), "a family of the price list"),
    ],
)
def test_what_cannot_be_done_is_said(keeplit, short_house, words, said):
    ran = keeplit("quote", short_house, *words)
    assert ran.status == 2
    assert said in ran.err


def test_folders_are_made_but_no_file_becomes_one(keeplit, short_house, tmp_path):
    made = tmp_path / "new" / "folder" / "quote.csv"
    assert keeplit("quote", short_house, "--options", "2", "-o", str(made)).status == 0
    assert "Battery" in made.read_text("utf-8-sig")
    ran = keeplit("quote", short_house, "--options", "2", "-o", str(made / "quote.csv"))
    assert ran.status == 2
    assert "which is no folder" in ran.err


def test_nothing_fits_at_any_hour(keeplit, short_house):
    text = short_house.read_text("utf-8") + "\n[limits]\nbudget = 100\n"
    short_house.write_text(text, "utf-8")
    assert keeplit("quote", short_house).status == 3


def test_a_suppliers_list_becomes_a_table(keeplit, tmp_path):
    ran = keeplit(
        "prices", SUPPLIER / "gorseholm.toml", SUPPLIER / "gorseholm-2026-05.csv", "-o", tmp_path,
        "--skip-unreadable",
    )  # fmt: skip
    assert ran.status == 0
    assert "row 12" in ran.out
    ran = keeplit(
        "prices", SUPPLIER / "gorseholm.toml", SUPPLIER / "gorseholm-2026-11.csv", "-o", tmp_path,
        "--skip-unreadable",
    )  # fmt: skip
    assert "Fulmar 25" in ran.out  # against the table that stood there
    assert "No longer listed: Petrel 12 Old" in ran.out
    again = keeplit(
        "prices", SUPPLIER / "gorseholm.toml", SUPPLIER / "gorseholm-2026-11.csv", "-o", tmp_path,
        "--skip-unreadable", "--json",
    )  # fmt: skip
    assert again.json["tables"][0]["changes"] == {"changed": [], "vanished": [], "added": []}
    (read,) = again.json["lists"]
    assert len(read["rows"]) == 6
    assert read["left_out"][0]["row"] == 11


def test_unreadable_rows_stop_it_unless_asked(keeplit, tmp_path):
    ran = keeplit(
        "prices", SUPPLIER / "gorseholm.toml", SUPPLIER / "gorseholm-2026-11.csv", "-o", tmp_path
    )
    assert ran.status == 2
    assert "row 11, List price → price: found 'on request'" in ran.err
    assert not list(tmp_path.iterdir())


def test_a_mapping_that_is_not_there(keeplit, tmp_path):
    ran = keeplit("prices", tmp_path / "map.toml", SUPPLIER / "gorseholm-2026-11.csv")
    assert ran.status == 2
    assert "no such file" in ran.err


def test_a_quote_is_numbered_found_reopened_and_revised(keeplit, short_house, tmp_path):
    book, company = tmp_path / "quotes.db", tmp_path / "company.toml"
    company.write_text('[company]\nname = "K"\n[quote]\ncustomer = "Éva Núñez"\n', encoding="utf-8")
    words = ("--options", "2", "--date", "2026-11-25", "--company", company, "--register", book)
    for _ in range(2):
        ran = keeplit("quote", short_house, *words, "-o", tmp_path / "q.pdf")
        assert ran.status == 0
    assert "Quote 2026-002" in ran.out
    found = keeplit("register", book, "éva", "--json").json
    assert [one["number"] for one in found["quotes"]] == ["2026-002", "2026-001"]
    back = tmp_path / "back"
    assert keeplit("register", book, "--reopen", "2026-001", "-o", back).status == 0
    names = {one.name for one in back.iterdir()}
    assert names == {"q.pdf", "q-electrician.pdf", "job.json", "company.toml"}
    again = keeplit(
        "quote", back / "job.json", "--options", "6", "--date", "2026-11-26", "--company",
        back / "company.toml", "--register", book, "--revise", "2026-001", "--json",
    )  # fmt: skip
    assert (again.json["quote"], again.json["revision"]) == ("2026-001", 2)
    shown = keeplit("register", book)
    assert shown.out.count("2026-001") == 2
    assert keeplit("quote", short_house, "--revise", "2026-001").status == 2


def test_what_is_supposed_stands_on_every_paper_and_in_no_register(keeplit, short_house, tmp_path):
    pdf, book = tmp_path / "if.pdf", tmp_path / "if.xlsx"
    words = ["quote", short_house, "--options", "2", "--set", "load=x1.2"]
    ran = keeplit(*words, "-o", pdf, "-o", book)
    assert ran.status == 0, ran.err
    assert ran.out.count("Supposed") == 1
    for paper in (pdf, tmp_path / "if-electrician.pdf"):
        first = PdfReader(paper).pages[0].extract_text()
        assert "Supposed, not what the site says: all loads × 1.2" in " ".join(first.split())
    assert keeplit(*words, "--json").json["supposed"][0]["name"] == "load"
    refused = keeplit(*words, "--register", tmp_path / "quotes.db")
    assert refused.status == 2
    assert "supposed numbers" in refused.err
    assert not (tmp_path / "quotes.db").exists()
