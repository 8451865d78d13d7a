"""What a shell is told when a word is begun, by the protocol that its script speaks."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from optimizer import load
from optimizer.inputs.demo import FOLDER

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture
def begun(keeplit, monkeypatch):
    """Ask as a shell's script does; the offers, each with its kind."""

    def ask(line, shell="bash", asks="complete"):
        words = line.split(" ")
        monkeypatch.setenv("_KEEPLIT_COMPLETE", f"{shell}_{asks}")
        monkeypatch.setenv("COMP_WORDS", line)
        position = words[-1] if shell == "fish" else str(len(words) - 1)
        monkeypatch.setenv("COMP_CWORD", position)
        ran = keeplit()
        assert (ran.status, ran.err) == (0, "")
        return ran.out.splitlines()

    return ask


@pytest.mark.parametrize(
    ("line", "offers"),
    [
        ("keeplit tr", ["plain,trade-off"]),
        ("keeplit choose house --lat", ["plain,--later-limit"]),
        ("keeplit choose house --lif", ["plain,--lifetime-budget"]),
        ("keeplit choose cl", ["file,cl", "plain,clinic"]),
        ("keeplit assess house --battery x ol", ["file,ol"]),
        ("keeplit frontier house --family ", ["plain,lead", "plain,lithium"]),
        ("keeplit check house --set price:", ["plain,price:lead=", "plain,price:lithium="]),
        ("keeplit compare clinic --break-even-line ro", ["plain,room"]),
        ("keeplit choose clinic --catalog ", ["dir,"]),
        ("keeplit allot is", ["file,is", "plain,island"]),
        ("keeplit allot island --goal h", ["plain,hours"]),
        ("keeplit allot island --require u", ["plain,unserved="]),
        ("keeplit outages house --durations w", ["plain,weibull"]),
        ("keeplit quote house --options 12 --company ", ["file,"]),
        ("keeplit new place --like h", ["plain,hall", "plain,house"]),
        ("keeplit new place --table inv", ["plain,inverters"]),
        ("keeplit fields res", ["plain,resilience"]),
        ("keeplit schema trade", ["plain,trade-off"]),
    ],
)
def test_what_is_offered(begun, line, offers):
    assert begun(line) == offers


def test_every_number_is_offered_by_name(begun):
    from optimizer.comparison.parameters import sensitivity_parameters_of

    offered = begun("keeplit choose clinic --set ")
    assert offered == [f"plain,{one.key}=" for one in sensitivity_parameters_of(load("clinic"))]


def test_folders_of_a_site_are_offered(begun, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    shutil.copytree(FOLDER / "clinic", tmp_path / "mine" / "surgery")
    assert begun("keeplit check mine/") == ["file,mine/", "plain,mine/surgery"]
    assert begun("keeplit check mine/x") == ["file,mine/x"]
    assert begun("keeplit frontier mine/surgery --family lea") == ["plain,lead"]  # its own prices


def test_a_site_with_faults_still_has_families(begun, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "site.toml").write_text("[site", "utf-8")
    assert begun("keeplit check . --set tar") == ["plain,tariff="]


@pytest.mark.parametrize(
    ("shell", "offer"), [("bash", "plain,lithium"), ("zsh", "plain"), ("fish", "plain,lithium")]
)
def test_every_shell_is_answered_and_has_its_script(begun, keeplit, monkeypatch, shell, offer):
    assert offer in begun("keeplit frontier house --family lit", shell)
    monkeypatch.setenv("_KEEPLIT_COMPLETE", f"{shell}_source")
    assert "_KEEPLIT_COMPLETE" in keeplit().out


#: What a shell is told to run, its builtin that the script hands its words to, and the word begun.
ASKS = {
    "bash": "compopt() { echo $@; }; complete() { :; }; . ./script; COMP_LINE='keeplit x'; "
    "COMP_POINT=9; _keeplit_completion keeplit",
    "zsh": "compdef() { :; }; compadd() { print -- $1; }; . ./script; words=(keeplit x); "
    "CURRENT=2; _keeplit_completion",
}


@pytest.mark.parametrize(
    ("shell", "answer", "told"),
    [
        ("bash", "plain,rate=", "-o nospace\n"),
        ("bash", "plain,lead", ""),
        ("zsh", "plain\nrate=\n_", "-S\n"),
        ("zsh", "plain\nlead\n_", "-U\n"),
    ],
)
def test_no_space_follows_a_name_that_waits_for_its_value(begun, tmp_path, shell, answer, told):
    if shutil.which(shell) is None:
        pytest.skip(f"no {shell} here")
    script = "\n".join(begun("keeplit ", shell, asks="source"))
    (tmp_path / "script").write_text(script, "utf-8")
    stand_in = tmp_path / "keeplit"
    stand_in.write_text(f"#!/bin/sh\nprintf '{answer}\n'\n", "utf-8")
    stand_in.chmod(0o755)
    ran = subprocess.run(
        [shell, "-c", ASKS[shell]],
        cwd=tmp_path, env={"PATH": f"{tmp_path}:/usr/bin:/bin"}, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    assert (ran.stdout, ran.stderr) == (told, "")


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash here")
@pytest.mark.parametrize(
    ("line", "offers"),
    [
        ("keeplit check house --set price:", ["lead=", "lithium="]),
        ("keeplit check house --set price:lit", ["lithium="]),
        ("keeplit check house --set outag", ["outages="]),
        ("keeplit frontier house --family ", ["lead", "lithium"]),
        ("keeplit frontier house --family=le", ["lead"]),
    ],
)
def test_bash_puts_what_is_offered_where_it_breaks_the_line(begun, tmp_path, line, offers):
    (tmp_path / "script").write_text("\n".join(begun("keeplit ", asks="source")), "utf-8")
    stand_in = tmp_path / "keeplit"
    stand_in.write_text(f"#!/bin/sh\nexec {sys.executable} -m optimizer\n", "utf-8")
    stand_in.chmod(0o755)
    asks = (
        "compopt() { :; }; complete() { :; }; . ./script; COMP_LINE=$1; COMP_POINT=${#1}; "
        '_keeplit_completion keeplit; printf "%s\\n" "${COMPREPLY[@]}"'
    )
    environment = {**os.environ, "PATH": f"{tmp_path}:/usr/bin:/bin", "PYTHONPATH": str(ROOT)}
    ran = subprocess.run(
        ["bash", "-c", asks, "bash", line],
        cwd=tmp_path, env=environment, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (ran.stdout.split(), ran.stderr) == (offers, "")
