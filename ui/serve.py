"""Serve the page: what `keeplit page` starts as a process of its own.

All that is slow to import is imported before the first person comes, so that the first page is as
fast as the next, and no two visitors' threads import the same thing half. Whatever a file in a home
folder or a variable says of the framework is not read: its defaults hold, and what stands here.
"""

import gc
import importlib
import logging
import os
import signal
import socket
import sys
import threading
from contextlib import suppress
from pathlib import Path
from typing import Any, Final

import uvicorn
import uvicorn.config
from starlette.middleware import Middleware
from streamlit import App, config, net_util

from optimizer.errors import KeeplitError
from optimizer.files.limits import FILE_BYTES
from optimizer.report.charts.theme import PALETTES, SCREEN_FONT
from ui import cached
from ui.failures import told
from ui.only_here import OnlyHere
from ui.state import of_the_command

_SLOW: Final = ("pandas", "optimizer.comparison.answers", "ui.app", "ui.programme")
#: A visitor whose connection is cut finds the job again within this [s]: a closed lid, a train.
_KEPT_S: Final = 3600
#: Largest message of a browser: what is typed, not what is uploaded [MB].
_MESSAGE_MB: Final = 20
_PAGE: Final = Path(__file__).with_name("app.py")


def settings(address: str, port: int) -> dict[str, Any]:
    """Return what the server is told where its own defaults would not do."""
    origin = f"http://{address}:{port}"
    found: dict[str, Any] = {
        "server.address": address,
        "server.port": port,
        "browser.serverAddress": address,
        "server.headless": True,  # no question about an e-mail address, no browser of its own
        "server.maxUploadSize": FILE_BYTES // 1_000_000,
        "server.maxMessageSize": _MESSAGE_MB,
        "server.disconnectedSessionTTL": _KEPT_S,
        # nobody else's page, and no other name than its own
        "server.corsAllowedOrigins": [origin],
        "server.allowedHosts": ["*"],  # `OnlyHere` decides, and not for websockets alone
        "client.allowedOrigins": [origin],
        "server.xsrfCookieSameSite": "Strict",
        "global.developmentMode": False,
        # nothing watched, nothing sent, nothing told of the inside
        "server.fileWatcherType": "none",
        "server.allowRunOnSave": False,
        "browser.gatherUsageStats": False,
        "client.toolbarMode": "viewer",
        "client.showSidebarNavigation": False,  # a link leads to the page of many sites
        "client.showErrorDetails": "none",
        "client.showErrorLinks": False,
        "logger.level": "warning",
        "logger.enableRich": False,
        "runner.magicEnabled": False,
        # a range starts from its ends, then follows the session
        "global.disableWidgetStateDuplicationWarning": True,
        "runner.fastReruns": False,  # one change after another: two at once could lose one
        "theme.font": SCREEN_FONT,
        "theme.headingFont": SCREEN_FONT,
        "theme.baseRadius": "small",
    }
    for name, colours in PALETTES.items():
        found |= {
            f"theme.{name}.backgroundColor": colours.ground,
            f"theme.{name}.secondaryBackgroundColor": colours.panel,
            f"theme.{name}.textColor": colours.ink,
            f"theme.{name}.primaryColor": colours.accent,
            f"theme.{name}.linkColor": colours.accent,
            f"theme.{name}.borderColor": colours.border,
        }
    return found


def keep_to_oneself() -> None:
    """Let the server read nobody's settings, ask nobody its address, and log nothing of a job."""
    config.get_config_files = lambda file_name: []
    net_util.get_external_ip = net_util.get_internal_ip = _nowhere
    logging.getLogger("streamlit.error_util").disabled = True  # `told` says where, not what
    uvicorn.config.LOGGING_CONFIG["loggers"]["uvicorn"]["level"] = "WARNING"


def send_at_once() -> None:
    """Let nothing wait until the browser has confirmed what was sent before, 40 ms each time.

    asyncio asks for that only of sockets that say they are TCP, which the framework's does not;
    what the listening socket is told holds for all that come in by it.
    """
    run = uvicorn.Server.run

    def promptly(server: uvicorn.Server, sockets: list[socket.socket] | None = None) -> None:
        for one in sockets or ():
            one.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        run(server, sockets)

    uvicorn.Server.run = promptly  # type: ignore[method-assign, assignment]


def _nowhere() -> str | None:
    return None


def end_with_starter() -> None:
    """End when whoever started this process is gone, however that happened.

    The starter holds the other end of standard input and writes nothing: it closes when it ends.
    """

    def watch() -> None:
        while os.read(sys.stdin.fileno(), 1):
            pass
        os.kill(os.getpid(), signal.SIGTERM)

    threading.Thread(target=watch, daemon=True).start()


def main() -> None:
    """Import, and hand over to the server."""
    address, port, *watched = sys.argv[1:]
    if watched:
        end_with_starter()
    keep_to_oneself()
    send_at_once()
    for name in _SLOW:
        importlib.import_module(name)
    with suppress(KeeplitError):  # the page says what is wrong
        cached.prepare(of_the_command())
    gc.collect()
    gc.freeze()  # what is imported stays: it need not be looked through during an answer
    guard = Middleware(OnlyHere, address=address)
    page = App(_PAGE, middleware=[guard], on_script_error=told)
    page.run(config=settings(address, int(port)))


if __name__ == "__main__":
    main()
