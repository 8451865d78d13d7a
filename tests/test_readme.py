"""The README is true: its commands run, its samples are what they print, its code works."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from tests.unit.cli.run import keeplit

__all__ = ["keeplit"]

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


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One folder for all commands: later ones use what earlier ones wrote."""
    folder = tmp_path_factory.mktemp("readme")
    (design,) = [text for kind, text in BLOCKS if kind == "toml"]
    (folder / "old.toml").write_text(design, encoding="utf-8")
    return folder


@pytest.fixture
def run(keeplit, folder: Path, monkeypatch: pytest.MonkeyPatch):
    """Run a line of the README in the folder, in this process."""
    monkeypatch.chdir(folder)

    def run(line: str):
        first, *words = shlex.split(line)
        assert first == "keeplit"
        return keeplit(*words)

    return run


@pytest.mark.parametrize("line", LINES)
def test_command_runs(line: str, run) -> None:
    done = run(line)
    assert done.status == 0, done.err
    assert done.out
    told = done.err.splitlines()
    assert [line for line in told if not line.startswith("Written: ")] == []
    assert all(Path(line.removeprefix("Written: ")).stat().st_size for line in told)


@pytest.mark.parametrize("sample", SAMPLES)
def test_sample_is_what_the_command_prints(sample: str, run) -> None:
    command, printed = sample.split("\n", 1)
    assert command.startswith("$ keeplit ")
    done = run(command.removeprefix("$ "))
    shown = [line.rstrip() for line in (done.out + done.err).splitlines()]
    for line in printed.splitlines():
        assert line.rstrip() in {*shown, "…"}, line
    assert len(printed.splitlines()) > 1


@pytest.mark.parametrize("code", [text for kind, text in BLOCKS if kind == "python"])
def test_five_lines_of_python_work(
    code: str, folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(folder)
    exec(compile(code, "README.md", "exec"), {})
    assert capsys.readouterr().out


def test_every_use_of_the_library_is_shown_in_few_lines() -> None:
    blocks = [text for kind, text in BLOCKS if kind == "python"]
    used = re.findall(r"\b(\w+)\(", "\n".join(blocks))
    assert {
        "frontier", "choose", "compare", "budget_table", "what_if", "against", "allot",
        "assess_told", "make_quote", "outages", "hours_worth", "load_costs",
    } <= set(used)  # fmt: skip
    for text in blocks:
        lines = [line for line in text.splitlines() if line and not line.startswith("from ")]
        assert 1 < len(lines) <= 5, text
