"""A site to fill in: what is written, what is not, and that it loads."""

from __future__ import annotations

import re

import pytest

from optimizer import InputError, frontier, load
from optimizer.inputs.demo import demo_names
from optimizer.inputs.fields import all_fields
from optimizer.inputs.scaffold import write_site


def test_the_template_is_a_whole_site(tmp_path):
    written = write_site(tmp_path / "mine")
    assert all(path.is_file() for path in written)
    names = {path.name for path in written}
    assert {"site.toml", "loads.csv", "batteries.csv", "inverters.csv"} <= names
    job = load(tmp_path / "mine")
    assert job.loads
    assert frontier(job, max_hours=4).points


def test_the_template_explains_every_section(tmp_path):
    write_site(tmp_path / "mine")
    text = (tmp_path / "mine" / "site.toml").read_text(encoding="utf-8")
    for section in ("site", "resilience", "outages", "economics", "battery_room"):
        assert f"[{section}]" in text
    assert text.count("#") >= 10


def test_a_line_that_is_commented_out_shows_what_holds_without_it(tmp_path):
    """Each taken in alone changes nothing; those without a value are keys without a default."""
    write_site(tmp_path)
    path = tmp_path / "site.toml"
    text, usual = path.read_text("utf-8"), load(tmp_path).site
    section, shown, left_open = "", [], []
    for line in text.splitlines():
        if named := re.match(r"(# )?\[(\w+)\]$", line):
            section = named[2]
        noted = re.match(r"# (\w+) = *(.*?) *(#.*)?$", line)
        if noted is None:
            continue
        key, value, _ = noted.groups()
        if not value:
            left_open.append((section, key))
            continue
        shown.append(key)
        plain = text.replace(f"# [{section}]", f"[{section}]")
        path.write_text(plain.replace(line, f"{key} = {value}"), "utf-8")
        assert load(tmp_path).site == usual, line
    assert {"max_hours", "discount_rate", "voltage_v", "voltages"} <= set(shown)
    assert ("limits", "budget") in left_open
    for name, key in left_open:
        assert all_fields()[f"[{name}]"][key].default is None


@pytest.mark.parametrize("name", demo_names())
def test_like_a_demo_site(tmp_path, name):
    """The copy holds its own prices and is the same job as the bundled one."""
    write_site(tmp_path / "copy", like=name)
    copy, original = load(tmp_path / "copy" / "site.toml"), load(name)
    assert copy.site == original.site
    assert copy.loads == original.loads
    assert copy.outages == original.outages
    assert copy.catalog == original.catalog
    assert 'catalog = "prices"' in (tmp_path / "copy" / "site.toml").read_text(encoding="utf-8")


def test_an_unknown_demo_site_names_the_nearest(tmp_path):
    with pytest.raises(InputError) as caught:
        write_site(tmp_path / "new", like="hause")
    (fault,) = caught.value.faults
    assert fault.column == "--like"
    assert fault.found == "hause"
    assert fault.wanted.endswith("nearest: house")
    assert not (tmp_path / "new").exists()


def test_nothing_like_any_demo_site(tmp_path):
    with pytest.raises(InputError) as caught:
        write_site(tmp_path / "new", like="zzzzzz")
    assert "nearest" not in str(caught.value)


@pytest.mark.parametrize("like", [None, "house"])
def test_nothing_is_overwritten_and_nothing_half_written(tmp_path, like):
    (tmp_path / "loads.csv").write_text("mine", encoding="utf-8")
    with pytest.raises(InputError) as caught:
        write_site(tmp_path, like=like)
    (fault,) = caught.value.faults
    assert (fault.file, fault.found) == (str(tmp_path), "loads.csv")
    assert "nothing is overwritten" in fault.wanted
    assert [path.name for path in tmp_path.iterdir()] == ["loads.csv"]
    assert (tmp_path / "loads.csv").read_text(encoding="utf-8") == "mine"


def test_every_file_in_the_way_is_named_in_one_message(tmp_path):
    write_site(tmp_path)
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    with pytest.raises(InputError) as caught:
        write_site(tmp_path)
    (fault,) = caught.value.faults
    assert {tmp_path / name for name in fault.found.split(", ")} == set(before)
    assert {path: path.read_bytes() for path in before} == before


def test_a_folder_with_other_things_in_it_is_kept(tmp_path):
    (tmp_path / "notes.txt").write_text("keep", encoding="utf-8")
    write_site(tmp_path)
    assert (tmp_path / "notes.txt").read_text(encoding="utf-8") == "keep"
    assert load(tmp_path).loads


def test_a_file_is_no_folder(tmp_path):
    (tmp_path / "thing").write_text("x", encoding="utf-8")
    with pytest.raises(InputError) as caught:
        write_site(tmp_path / "thing")
    (fault,) = caught.value.faults
    assert fault.found == "a file"
