"""``keeplit page``: how the server is started; nothing of Streamlit is imported for it."""

import socket
import subprocess
import sys
from typing import ClassVar

import pytest
from click.testing import CliRunner

from optimizer import InputError
from optimizer.cli.page import command, page


def test_server_is_local_and_calls_nobody():
    words = command(8555)
    assert words[:4] == [sys.executable, "-m", "ui.serve", "run"]
    for setting in (
        "--server.address=localhost",
        "--server.port=8555",
        "--server.headless=true",
        "--server.maxUploadSize=10",
        "--browser.gatherUsageStats=false",
        "--client.showErrorDetails=none",
    ):
        assert setting in words


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

    def __init__(self, words, env, cwd, stdout):
        Process.started.append((words, env, cwd, stdout))

    def wait(self):
        return 0

    def terminate(self):
        return None


def test_a_port_that_is_taken_is_refused(monkeypatch):
    monkeypatch.setattr(subprocess, "Popen", lambda *_a, **_s: pytest.fail("started"))
    with socket.socket() as other:
        other.bind(("localhost", 0))
        other.listen()
        port = other.getsockname()[1]
        result = CliRunner().invoke(page, ["house", "--port", str(port)])
    assert isinstance(result.exception, InputError)
    assert f"{port}, which is taken" in str(result.exception)


def test_site_is_handed_over(monkeypatch, tmp_path):
    Process.started = []
    monkeypatch.setattr(subprocess, "Popen", Process)
    monkeypatch.chdir(tmp_path)
    result = CliRunner().invoke(page, ["clinic", "--port", "8599", "--no-open"])
    assert result.exit_code == 0
    assert "http://localhost:8599" in result.output
    words, environment, _, _ = Process.started[0]
    assert "--server.port=8599" in words
    assert environment["KEEPLIT_SITE"] == "clinic"
