"""The page's server: whom it answers, whom it asks, what it is told, when it ends."""

from __future__ import annotations

import contextlib
import http.client
import json
import os
import signal
import socket
import subprocess
import sys
import time

import pytest
from streamlit import net_util
from streamlit.web.server import server_util

from tests.ui.conftest import HOSTILE, ROOT, answers, free_port, wait_for
from ui import serve

HANDSHAKE = {
    "Connection": "Upgrade",
    "Upgrade": "websocket",
    "Sec-WebSocket-Version": "13",
    "Sec-WebSocket-Key": "x3JJHMbDL1EzLkh9GBhXDw==",
}
TOLD = """
import json
from streamlit import config
from streamlit.web import bootstrap
from ui.serve import keep_to_oneself, settings

asked = settings("localhost", 8501)
usual = {name: one.value for name, one in config._config_options_template.items()}
keep_to_oneself()
bootstrap.load_config_options(asked)
found = {name: config.get_option(name) for name in usual if "._" not in name}
print(json.dumps([asked, usual, found], default=str))
"""


def test_settings_hold_whatever_a_home_folder_or_a_variable_says(tmp_path):
    (tmp_path / ".streamlit").mkdir()
    (tmp_path / ".streamlit" / "config.toml").write_text(HOSTILE, "utf-8")
    environment = {**os.environ, "HOME": str(tmp_path), "PYTHONPATH": str(ROOT)}
    environment |= {"STREAMLIT_SERVER_ENABLE_CORS": "false", "STREAMLIT_SERVER_ADDRESS": "0.0.0.0"}
    told = subprocess.run(
        [sys.executable, "-c", TOLD],
        env=environment, cwd=tmp_path, capture_output=True, text=True, check=True,
    )  # fmt: skip
    asked, usual, found = json.loads(told.stdout)
    usual["secrets.files"] = []  # nor is any of these read
    assert found == {name: asked.get(name, usual[name]) for name in found}
    assert set(asked) < set(found)
    assert found["server.address"] == "localhost"
    assert found["server.enableCORS"] is found["server.enableXsrfProtection"] is True
    assert found["server.enableStaticServing"] is found["server.enableAgentApi"] is False
    assert found["server.runOnSave"] is found["server.scriptHealthCheckEnabled"] is False
    assert (found["server.sslCertFile"], found["server.baseUrlPath"]) == (None, "")
    assert found["server.maxUploadSize"] == 10
    assert found["client.showErrorDetails"] == "none"


def status(port, path="/_stcore/health", **headers):
    asked = http.client.HTTPConnection("localhost", port, timeout=10)
    with contextlib.closing(asked):
        asked.request("GET", path, headers=headers)
        with asked.getresponse() as answer:
            return answer.status


def test_only_a_browser_that_asked_for_this_address_is_answered(server):
    port = server.port
    assert status(port) == 200
    assert status(port, Host=f"127.0.0.1:{port}") == 200
    assert status(port, Origin=f"http://localhost:{port}") == 200
    for name in ("foreign.example", f"foreign.example:{port}", "localhost.foreign.example", ""):
        assert status(port, Host=name) == 403, name
    for origin in ("http://foreign.example", "null", "http://localhost:1", "https://localhost"):
        assert status(port, Origin=origin) == 403, origin


def test_a_websocket_of_another_page_is_refused(server):
    own = f"http://localhost:{server.port}"
    assert status(server.port, "/_stcore/stream", **HANDSHAKE, Origin=own) == 101
    for wrong in ({"Origin": "http://foreign.example"}, {"Host": "foreign.example"}):
        assert status(server.port, "/_stcore/stream", **{**HANDSHAKE, **wrong}) == 403


def test_the_server_asks_nobody_for_its_own_address(monkeypatch):
    def asked(*words, **how):
        raise AssertionError(words)

    for name in ("get_external_ip", "get_internal_ip"):
        monkeypatch.setattr(net_util, name, getattr(net_util, name))  # put back afterwards
    serve.keep_to_oneself()
    monkeypatch.setattr(socket, "getaddrinfo", asked)
    monkeypatch.setattr(socket, "create_connection", asked)
    assert not server_util.is_url_from_allowed_origins("http://foreign.example")


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no such signal on this system")
def test_an_answer_does_not_wait_for_the_one_before_it_to_be_confirmed(server):
    waited = []
    with contextlib.closing(http.client.HTTPConnection("localhost", server.port)) as asked:
        for _ in range(15):
            asked.request("GET", "/")
            answer, headed = asked.getresponse(), time.perf_counter()
            answer.read()
            waited.append(time.perf_counter() - headed)
    # two packets, head and body: always 40 ms apart otherwise, once a connection is no longer new
    assert min(waited[5:]) < 0.03


def test_the_server_ends_with_the_command_that_started_it():
    port = free_port()
    words = [sys.executable, "-m", "optimizer", "page", "house", "--no-open", "--port", str(port)]
    command = subprocess.Popen(
        words, cwd=ROOT, stdout=subprocess.DEVNULL, env={**os.environ, "PYTHONPATH": str(ROOT)}
    )
    try:
        wait_for(lambda: answers(port))
    finally:
        command.kill()
        command.wait()
    wait_for(lambda: not answers(port))
