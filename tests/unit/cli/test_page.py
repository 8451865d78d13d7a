"""``keeplit page``: how the server is started; nothing of Streamlit is imported for it."""

import socket
import subprocess
import sys
from typing import ClassVar

import pytest
from click.testing import CliRunner

from optimizer import InputError
from optimizer.cli.page import page


def test_command_line_loads_nothing_of_the_page():
    code = (
        "import sys; from optimizer.cli.page import command; command(1); "
        "print({'streamlit', 'altair'} & set(sys.modules))"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "set()"


def test_faulty_site_is_told_before_anything_starts(monkeypatch):
    monkeypatch.setattr(subprocess, "Popen", lambda *_a, **_s: pytest.fail("started"))
    result = CliRunner().invoke(page, ["nowhere.toml"])
    assert isinstance(result.exception, InputError)


class Process:
    """What the command starts, ended at once."""

    started: ClassVar[list] = []

    def __init__(self, words, env, **options):
        assert options["process_group"] == 0  # Ctrl+C of a terminal is the command's alone
        Process.started.append((words, env))

    def wait(self, seconds=0):
        return 0

    def terminate(self):
        return None


def refused(monkeypatch, *words):
    monkeypatch.setattr(subprocess, "Popen", lambda *_a, **_s: pytest.fail("started"))
    result = CliRunner().invoke(page, ["house", *words])
    assert isinstance(result.exception, InputError)
    [fault] = result.exception.faults
    return fault.column, fault.found


@pytest.mark.parametrize("listens", [True, False])
def test_a_port_that_is_taken_is_refused(monkeypatch, listens):
    with socket.socket() as other:
        other.bind(("localhost", 0))
        if listens:
            other.listen()
        port = other.getsockname()[1]
        told = refused(monkeypatch, "--port", str(port))
    assert told == ("--port", f"{port}, which is taken")


@pytest.mark.parametrize("address", ["", " ", "no such", "203.0.113.7", "a" * 300])
def test_an_address_that_is_not_this_machines_is_refused(monkeypatch, address):
    told = refused(monkeypatch, "--port", "8598", "--address", address)
    assert told == ("--address", repr(address) if address.strip() else "nothing")


def test_site_is_handed_over(monkeypatch, tmp_path):
    Process.started = []
    monkeypatch.setattr(subprocess, "Popen", Process)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("STREAMLIT_SERVER_ENABLE_CORS", "false")
    with socket.socket() as free:
        free.bind(("localhost", 0))
        port = str(free.getsockname()[1])
    result = CliRunner().invoke(page, ["clinic", "--port", port, "--no-open"])
    assert result.exit_code == 0
    assert f"http://localhost:{port}" in result.output
    words, environment = Process.started[0]
    assert words[1:] == ["-m", "ui.serve", "localhost", port, "watched"]
    assert environment["KEEPLIT_SITE"] == "clinic"
    assert not [name for name in environment if name.startswith("STREAMLIT_")]
