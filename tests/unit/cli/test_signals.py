"""Ended from outside: the status, nothing said, nothing left running."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from optimizer.comparison.processes import outliving_workers

ROOT = Path(__file__).parents[3]
PROC = Path("/proc")

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not PROC.is_dir(), reason="looks at processes as Linux shows them"),
]


def started(*words):
    return subprocess.Popen(
        [sys.executable, "-m", "optimizer", *words],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def becomes(found):
    """Wait until something is found, a minute at most, and return it."""
    for _ in range(6000):
        if answer := found():
            return answer
        time.sleep(0.01)
    raise AssertionError(found)


def listens_to_signals(process):
    """Tell whether the command has taken SIGTERM into its own hands: its first act."""
    text = (PROC / str(process.pid) / "status").read_text()
    caught = int(text.split("SigCgt:")[1].split()[0], 16)
    return bool(caught >> (signal.SIGTERM - 1) & 1)


def children(process):
    listed = PROC / str(process.pid) / "task" / str(process.pid) / "children"
    return listed.read_text().split()


def runs(number):
    try:
        state = (PROC / number / "stat").read_text().rsplit(")", 1)[1].split()[0]
    except OSError:
        return False
    return state != "Z"  # ended, not yet waited for


@pytest.mark.parametrize("after_s", [0, 0.02, 0.1, 0.3, 0.6])
def test_ctrl_c_at_any_moment_is_130_and_says_nothing(after_s):
    with started("sensitivity", "house") as process:
        becomes(lambda: listens_to_signals(process))
        time.sleep(after_s)
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=60)
    assert (process.returncode, out, err) == (130, "", "")


SWALLOWED = {
    "by an import": "try:\n  import halts\n except BaseException: pass",
    "by a callback": "Late()",
}


@pytest.mark.parametrize("line", SWALLOWED.values(), ids=SWALLOWED)
def test_ctrl_c_holds_where_others_swallow_what_is_raised(line, tmp_path):
    """Packages that try an import take anything for its failure, Python's callbacks too."""
    (tmp_path / "halts.py").write_text("import signal\nsignal.raise_signal(signal.SIGINT)\n")
    code = (
        "import signal, sys, optimizer.cli, optimizer.__main__ as command\n"
        f"sys.path.insert(0, {str(tmp_path)!r})\n"
        "class Late:\n def __del__(self): signal.raise_signal(signal.SIGINT)\n"
        f"def run():\n {line}\n print('went on')\n"
        "optimizer.cli.main = run\ncommand.main()"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert (ran.returncode, ran.stdout, ran.stderr) == (130, "", "")


@pytest.mark.parametrize("ended", [signal.SIGTERM, signal.SIGINT, signal.SIGKILL])
def test_no_worker_outlives_the_command(ended):
    with started("sensitivity", "house") as process:
        workers = becomes(lambda: len(found := children(process)) > 1 and found)
        time.sleep(0.2)
        os.kill(process.pid, ended)
        process.communicate(timeout=60)
    assert process.returncode == (-ended if ended == signal.SIGKILL else 128 + ended)
    becomes(lambda: not any(map(runs, workers)))


@pytest.mark.parametrize("words", [["fields"], ["--help"], ["check", "house", "--json"]])
def test_a_reader_that_goes_away_ends_it_without_a_word(words):
    with started(*words) as process:
        process.stdout.close()
        assert process.stderr.read() == ""
        assert process.wait(60) == -signal.SIGPIPE


def test_a_worker_that_dies_closes_a_pipe_and_ends_nothing():
    before = signal.signal(signal.SIGPIPE, signal.SIG_DFL)
    try:
        with outliving_workers():
            os.kill(os.getpid(), signal.SIGPIPE)
        assert signal.getsignal(signal.SIGPIPE) == signal.SIG_DFL
    finally:
        signal.signal(signal.SIGPIPE, before)
