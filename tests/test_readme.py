"""The README is true: its commands run, its samples are what they print, its code works."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

README = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```(\w+)\n(.*?)```", README, flags=re.DOTALL)
#: Lines that make environments or open the page are run by .ci/run and the page's own tests.
ELSEWHERE = ("python3 -m venv", ".venv/bin/pip", "keeplit page")
LINES = [
    line.split("#")[0].strip()
    for kind, text in BLOCKS
    if kind == "sh"
    for line in text.splitlines()
    if line.strip() and not line.startswith(ELSEWHERE)
]
SAMPLES = [text for kind, text in BLOCKS if kind == "text"]


def keeplit(line: str, folder: Path) -> subprocess.CompletedProcess[str]:
    words = shlex.split(line)
    assert words[0] == "keeplit"
    return subprocess.run(
        [sys.executable, "-m", "optimizer", *words[1:]],
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
        # without the columns that pytest's readline sets behind Python's back
        env=dict(os.environ),
    )


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One folder for all commands: later ones use what earlier ones wrote."""
    folder = tmp_path_factory.mktemp("readme")
    (design,) = [text for kind, text in BLOCKS if kind == "toml"]
    (folder / "old.toml").write_text(design, encoding="utf-8")
    return folder


@pytest.mark.parametrize("line", LINES)
def test_command_runs(line: str, folder: Path) -> None:
    done = keeplit(line, folder)
    assert done.returncode == 0, done.stderr
    assert done.stdout
    assert [line for line in done.stderr.splitlines() if not line.startswith("Written: ")] == []


@pytest.mark.parametrize("sample", SAMPLES)
def test_sample_is_what_the_command_prints(sample: str, folder: Path) -> None:
    command, printed = sample.split("\n", 1)
    assert command.startswith("$ keeplit ")
    done = keeplit(command.removeprefix("$ "), folder)
    shown = [line.rstrip() for line in (done.stdout + done.stderr).splitlines()]
    for line in printed.splitlines():
        assert line.rstrip() in {*shown, "…"}, line
    assert len(printed.splitlines()) > 1


def test_five_lines_of_python_work(capsys: pytest.CaptureFixture[str]) -> None:
    (code,) = [text for kind, text in BLOCKS if kind == "python"]
    exec(compile(code, "README.md", "exec"), {})
    assert capsys.readouterr().out
