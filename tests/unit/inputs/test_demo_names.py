"""A site's name: a file, a folder, or a bundled demo, in this order."""

from __future__ import annotations

from pathlib import Path

import pytest

from optimizer.errors import InputError
from optimizer.inputs.demo import FOLDER, demo_names, site_file


def test_the_bundled_names():
    assert demo_names() == ("clinic", "hall", "house")


@pytest.mark.parametrize("name", demo_names())
def test_a_demo_by_name(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert site_file(name) == FOLDER / name / "site.toml"
    assert site_file(name).is_file()


def test_a_folder_of_ones_own_comes_first(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "house").mkdir()
    (tmp_path / "house" / "site.toml").write_text("[site]\n", encoding="utf-8")
    assert site_file("house") == Path("house") / "site.toml"


def test_a_folder_without_a_site_is_refused(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "house").mkdir()
    with pytest.raises(InputError) as caught:
        site_file("house")
    (fault,) = caught.value.faults
    assert (fault.file, fault.found) == ("house", "a folder without site.toml")
    assert "a folder that holds site.toml" in fault.wanted


def test_a_file_and_a_path_that_does_not_exist_are_given_back(tmp_path):
    (tmp_path / "here.toml").write_text("", encoding="utf-8")
    assert site_file(tmp_path / "here.toml") == tmp_path / "here.toml"
    assert site_file(tmp_path / "gone.toml") == tmp_path / "gone.toml"


@pytest.mark.parametrize("word", ["../house", "prices", "House", ""])
def test_only_whole_names_of_demos(word, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(InputError) as caught:
        site_file(word)
    assert "a bundled demo: clinic, hall, house" in caught.value.faults[0].wanted


def test_a_name_that_is_nearly_a_demo_is_told_the_demo(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(InputError, match="nearest: house"):
        site_file("hause")
