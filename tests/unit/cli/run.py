"""Running the command line: in this process, as `keeplit` would be run."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from functools import cache
from itertools import product
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from optimizer.cli import main
from optimizer.cli.show import Screen
from optimizer.inputs.scaffold import write_site
from optimizer.report.json.answers import command_schema
from tests.unit.comparison.jobs import BATTERIES, INVERTERS

from .widths import WIDTHS, assert_whole


@dataclass(frozen=True)
class Ran:
    """What a command left behind."""

    status: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out)


@pytest.fixture
def short_house(tmp_path):
    """The demo house with few models and a curve of six hours, as files of one's own: quick."""
    write_site(tmp_path / "short", like="house")
    for table, few in (("batteries", BATTERIES), ("inverters", INVERTERS)):
        file = tmp_path / "short" / "prices" / f"{table}.csv"
        heading, *rows = file.read_text("utf-8").splitlines()
        rows = [row for row in rows if row.split(",")[0] in few]
        assert len(rows) == len(few)
        file.write_text("\n".join([heading, *rows]), "utf-8")
    site = tmp_path / "short" / "site.toml"
    text = site.read_text("utf-8")
    for key, value in (("target_hours", 4), ("max_hours", 6)):
        text = re.sub(rf"^{key} = \d+", f"{key} = {value}", text, flags=re.MULTILINE)
    site.write_text(text, "utf-8")
    return site


@cache
def schema_of(command):
    """What validates the JSON of a command."""
    found = command_schema(command)
    Draft202012Validator.check_schema(found)
    return Draft202012Validator(found)


@pytest.fixture
def keeplit(capsys, monkeypatch):
    """Run ``keeplit`` with words; status, standard output and standard error.

    Every table that it shows is laid out at every width too; JSON is held to its schema.
    """
    shown = []
    tables = Screen.tables

    def noted(screen, *grids):
        shown.extend((grid, screen.write) for grid in grids)
        tables(screen, *grids)

    monkeypatch.setattr(Screen, "tables", noted)

    def run(*words: object) -> Ran:
        status = 0
        try:
            main([str(word) for word in words])
        except SystemExit as left:
            status = left.code or 0
        captured = capsys.readouterr()
        assert "Traceback" not in captured.out + captured.err
        for (grid, writer), width in product(shown, WIDTHS):
            assert_whole(grid, writer, width)
        shown.clear()
        ran = Ran(status, captured.out, captured.err)
        if "--json" in words:
            asked = (one for one in ("--against", "--what-if") if one in words)
            command = "error" if status else next(asked, str(words[0])).removeprefix("--")
            schema_of(command).validate(ran.json)
        return ran

    return run
