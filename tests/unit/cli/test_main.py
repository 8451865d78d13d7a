"""Leaving the command line: statuses, errors for programs, nonsense options, real processes."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

import optimizer
from optimizer import NotProvenError
from optimizer.cli import cli
from optimizer.cli.show import ProgressBar
from optimizer.engine import banks, verify
from optimizer.errors import InternalError, KeeplitError
from optimizer.inputs.scaffold import write_site
from tests import site_files

ROOT = Path(__file__).parents[3]
NONSENSE = [
    ["frontier"],
    ["frontier", "house", "more"],
    ["frontier", "house", "--max-hours", "x"],
    ["choose", "house", "--hours", "1.5"],
    ["choose", "house", "--hours"],
    ["choose", "house", "--budget", "lots"],
    ["choose", "house", "--colour", "red"],
    ["check", "house", "--hours", "3"],
    ["new"],
    ["grow", "house"],
    ["--loud"],
]
OUT_OF_RANGE = [
    ["frontier", "house", "--max-hours", "0"],
    ["frontier", "house", "--max-hours", "241"],
    ["frontier", "house", "--family", "steam"],
    ["choose", "house", "--hours", "0"],
    ["choose", "house", "--hours", "-3"],
    ["choose", "house", "--hours", "241"],
    ["choose", "house", "--budget", "-1"],
    ["choose", "house", "--budget", "nan"],
    ["choose", "house", "--lifetime-budget", "inf"],
    ["check", "no-such-site"],
    ["check", "."],
]


@pytest.mark.parametrize("words", NONSENSE, ids=" ".join)
def test_nonsense_options(keeplit, words):
    ran = keeplit(*words)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err
    as_json = keeplit(*words, "--json")
    assert as_json.status == 2
    assert as_json.json["error"] == "input"
    assert as_json.json["faults"][0]["file"] == "command line"


@pytest.mark.parametrize("words", OUT_OF_RANGE, ids=" ".join)
def test_options_out_of_range(keeplit, words, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    ran = keeplit(*words)
    assert (ran.status, ran.out) == (2, "")
    assert "found" in ran.err
    assert "wanted" in ran.err
    as_json = keeplit(*words, "--json")
    assert (as_json.status, as_json.err) == (2, "")
    assert as_json.json["error"] == "input"


@pytest.mark.parametrize(
    ("error", "status", "kind"),
    [
        (NotProvenError("stopped"), 4, "not_proven"),
        (InternalError("two lines\nof it"), 5, "internal"),
        (KeeplitError("odd"), 1, "error"),
    ],
)
def test_statuses_of_other_errors(keeplit, monkeypatch, error, status, kind):
    def raises(*_args, **_options):
        raise error

    monkeypatch.setattr(optimizer, "load", raises)
    ran = keeplit("check", "house")
    assert (ran.status, ran.out) == (status, "")
    if kind == "internal":
        assert ran.err.startswith("A fault of keeplit itself: two lines␊of it\nTo report it, ")
    else:
        assert ran.err == f"{error}\n"
    as_json = keeplit("check", "house", "--json")
    assert as_json.status == status
    assert (as_json.json["error"], as_json.json["message"]) == (kind, str(error))


def test_control_characters_in_errors_are_made_visible(keeplit):
    ran = keeplit("check", "no\x1b[31msuch")
    assert ran.status == 2
    assert "\x1b" not in ran.err


def test_interrupted(keeplit, monkeypatch):
    def aborts(*_args, **_options):
        raise click.Abort

    monkeypatch.setattr(optimizer, "load", aborts)
    ran = keeplit("check", "house")
    assert (ran.status, ran.out, ran.err) == (130, "", "")


def test_a_place_that_takes_no_more(keeplit, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device", "x/site.toml")

    monkeypatch.setattr("optimizer.inputs.scaffold.write_site", full)
    answer = keeplit("new", "x")
    assert answer.status == 2
    assert answer.err.startswith("x/site.toml: found No space left on device; wanted a disk")


def test_commands_run_by_a_shell_tester():
    runner = CliRunner()
    ran = runner.invoke(cli, ["frontier", "house", "--max-hours", "4", "--json"])
    assert ran.exit_code == 0
    assert json.loads(ran.stdout)["points"]
    assert "version" in runner.invoke(cli, ["--version"]).output


def process(*words, **options):
    return subprocess.run(
        [sys.executable, "-m", "optimizer", *words],
        cwd=ROOT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        errors="replace",  # what a narrow encoding wrote
        check=False,
        **options,
    )


@pytest.mark.slow
@pytest.mark.parametrize(
    ("words", "status"),
    [
        (["choose", "house", "--hours", "6", "--json"], 0),
        (["check", "nowhere", "--json"], 2),
        (["choose", "SHORT", "--budget", "800", "--json"], 3),
    ],
)
def test_processes(short_house, words, status):
    ran = process(*(str(short_house) if word == "SHORT" else word for word in words))
    assert ran.returncode == status
    assert ran.stderr == ""
    shown = json.loads(ran.stdout)
    assert shown.get("error") == {0: None, 2: "input", 3: "no_design"}[status]


@pytest.mark.slow
@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_a_process_whose_output_knows_few_letters(tmp_path, encoding):
    """Tables show a sign in place of what has no code; data for programs stays whole."""
    name = "Łódź 🔋"
    write_site(tmp_path, like="house")
    for file, word in (("site.toml", "Gull Row 14, Varrowmouth"), ("loads.csv", "Refrigerator")):
        text = (tmp_path / file).read_text("utf-8")
        (tmp_path / file).write_text(text.replace(word, name), "utf-8")
    narrow = {"env": {"PYTHONIOENCODING": encoding}}
    ran = process("check", str(tmp_path), **narrow)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "?: 12 loads, " in ran.stdout
    data = process("check", str(tmp_path), "--json", **narrow)
    assert name in json.loads(data.stdout)["load_kwh_day"]


@pytest.mark.parametrize(
    ("told", "width"),
    [({}, 120), ({"COLUMNS": "64"}, 64), ({"COLUMNS": "2"}, 30), ({"COLUMNS": "wide"}, 120)],
)
def test_lines_are_as_wide_as_told_and_end_without_blanks(keeplit, monkeypatch, told, width):
    for name, text in told.items():
        monkeypatch.setenv(name, text)
    lines = keeplit("frontier", "house", "--max-hours", "4").out.splitlines()
    assert width - 12 < max(map(len, lines)) <= width
    assert [line for line in lines if line != line.rstrip(" ")] == []


@pytest.mark.parametrize(
    ("told", "bold"),
    [
        ({}, False),
        ({"FORCE_COLOR": "1"}, True),
        ({"FORCE_COLOR": "1", "TERM": "dumb"}, False),
        ({"FORCE_COLOR": "1", "NO_COLOR": "1"}, True),
    ],
)
def test_headings_are_bold_where_the_terminal_can_and_nothing_is_coloured(
    keeplit, monkeypatch, told, bold
):
    monkeypatch.setenv("TERM", "xterm-256color")
    for name, text in told.items():
        monkeypatch.setenv(name, text)
    out = keeplit("check", "house").out
    assert ("\x1b[1m" in out) is bold
    assert set(re.findall(r"\x1b\[([\d;]*)m", out)) <= {"0", "1", "2"}


class _Terminal:
    """A standard error that says it is a terminal and keeps what is written."""

    encoding = "utf-8"

    def __init__(self):
        self.text = ""

    def isatty(self):
        return True

    def write(self, text):
        self.text += text
        return len(text)

    def flush(self):
        pass


def test_progress_is_shown_on_a_terminal_after_a_second(monkeypatch):
    terminal = _Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    clock = iter([0.0, 0.5, 1.5, 1.6, 1.7])
    monkeypatch.setattr("optimizer.cli.show.time.monotonic", lambda: next(clock, 2.0))
    bar = ProgressBar("hours")
    with bar as step:
        step(1, 10)
        assert bar._bar is None
        step(2, 10)
        step(3, 10)
        assert bar._bar.tasks[0].completed == 3
    assert bar._bar.finished is False
    assert "hours" in terminal.text


def test_progress_is_silent_where_nobody_looks(capsys, monkeypatch):
    monkeypatch.setattr("optimizer.cli.show.time.monotonic", lambda: 1e9)
    with ProgressBar("hours") as step:
        step(1, 2)
    assert capsys.readouterr() == ("", "")


def test_a_failure_that_nobody_foresaw_is_told_as_ours(keeplit, monkeypatch):
    def fails(job):
        raise ZeroDivisionError("1 by 0")

    monkeypatch.setattr("optimizer.survey", fails)
    ran = keeplit("check", "house")
    assert ran.status == 5
    assert "A fault of keeplit itself: ZeroDivisionError at test_main.py:" in ran.err
    assert "house/site.toml" in ran.err
    assert "To report it" in ran.err
    assert keeplit("check", "house", "--json").json["error"] == "internal"


def test_a_failure_names_the_row_it_was_at_work_on(keeplit, monkeypatch, tmp_path):
    """Injected: the formulas take any row that was read."""

    def breaks(job, battery, *rest):
        if battery.battery == "Wharf 12":
            raise ZeroDivisionError("1 by 0")
        return kept(job, battery, *rest)

    kept = banks._capacity_share
    monkeypatch.setattr(banks, "_capacity_share", breaks)
    site_files.write_site(tmp_path)
    ran = keeplit("frontier", str(tmp_path))
    assert ran.status == 5
    assert f"It was at work on {tmp_path / 'batteries.csv'}, row 3." in ran.err


def test_a_design_that_fails_its_checks_names_its_rows(keeplit, monkeypatch, tmp_path):
    monkeypatch.setattr(verify, "_MONEY_AGREES", -1)
    site_files.write_site(tmp_path)
    ran = keeplit("choose", str(tmp_path), "--hours", "4")
    assert ran.status == 5
    assert "fails its checks: life-cycle cost" in ran.err
    assert f"{tmp_path / 'batteries.csv'}, row " in ran.err
    assert f"{tmp_path / 'inverters.csv'}, row " in ran.err


def test_a_word_with_control_characters_is_shown_without_them(keeplit):
    ran = keeplit("check", "house", "\x1b[31mred")
    assert ran.status == 2
    assert "\x1b" not in ran.err
