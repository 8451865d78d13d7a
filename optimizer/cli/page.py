"""``keeplit page``: the page in a browser, served from this machine to this machine."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

import optimizer
from optimizer.cli.show import catalog_option
from optimizer.errors import Fault, InputError

if TYPE_CHECKING:
    import subprocess

#: Largest file that may be dropped in [MB].
_UPLOAD_MB = 10


@click.command()
@click.argument("site", default="house")
@catalog_option
@click.option("--port", type=click.IntRange(1, 65535), default=8501, show_default=True)
@click.option(
    "--address",
    default="localhost",
    show_default=True,
    help="Where it listens; anything but localhost lets others on the network in.",
)
@click.option("--open/--no-open", "show", default=True, help="Open it in the browser.")
def page(site: str, catalog: str | None, port: int, address: str, show: bool) -> None:
    """Open the page: the curve in front, everything behind it one click away.

    SITE is what it opens with; the demo house where left out.
    """
    import signal
    import subprocess

    optimizer.load(site, catalog)  # a faulty site is told here, with every fault
    _free(address, port)
    root = Path(__file__).resolve().parents[2]
    paths = [str(root), os.environ.get("PYTHONPATH", "")]
    environment = {
        **os.environ,
        "KEEPLIT_SITE": _absolute(site),
        "KEEPLIT_CATALOG": "" if catalog is None else _absolute(catalog),
        "PYTHONPATH": os.pathsep.join(path for path in paths if path),
    }
    click.echo(f"The page is at http://{address}:{port} until Ctrl+C.")
    server = subprocess.Popen(
        command(port, address), env=environment, cwd=root, stdout=subprocess.DEVNULL
    )
    signal.signal(signal.SIGTERM, _leave)  # ended from outside, the server must end too
    try:
        if show and sys.stdout.isatty():
            _open_when_up(server, address, port)
        status = server.wait()
    except KeyboardInterrupt:
        status = 0
    finally:
        server.terminate()
        server.wait()
    sys.exit(status)


def _free(address: str, port: int) -> None:
    """Refuse a port that something else listens at: its page would be taken for this one."""
    import socket

    try:
        socket.create_connection((address, port), timeout=0.5).close()
    except OSError:
        return
    wanted = "a port that nothing listens at, such as --port 8502"
    raise InputError([Fault("options", None, "--port", f"{port}, which is taken", wanted)])


def _leave(number: int, frame: object) -> None:
    del frame
    sys.exit(128 + number)


def command(port: int, address: str = "localhost") -> list[str]:
    """Return the command line that serves the page.

    Parameters
    ----------
    port, address : int, str
        Where it listens.
    """
    from optimizer.report.charts.theme import PALETTES, SCREEN_FONT

    settings: dict[str, str | int] = {
        "server.address": address,
        "server.port": port,
        "server.headless": "true",  # no question about an e-mail address, no browser of its own
        "server.maxUploadSize": _UPLOAD_MB,
        "server.fileWatcherType": "none",
        "server.runOnSave": "false",
        "browser.gatherUsageStats": "false",
        "client.toolbarMode": "viewer",
        "client.showErrorDetails": "none",
        "logger.level": "warning",
        "theme.font": SCREEN_FONT,
        "theme.headingFont": SCREEN_FONT,
        "theme.baseRadius": "small",
    }
    for name, colours in PALETTES.items():
        settings |= {
            f"theme.{name}.backgroundColor": colours.ground,
            f"theme.{name}.secondaryBackgroundColor": colours.panel,
            f"theme.{name}.textColor": colours.ink,
            f"theme.{name}.primaryColor": colours.accent,
            f"theme.{name}.linkColor": colours.accent,
            f"theme.{name}.borderColor": colours.border,
        }
    app = Path(__file__).resolve().parents[2] / "ui" / "app.py"
    options = [f"--{name}={value}" for name, value in settings.items()]
    return [sys.executable, "-m", "ui.serve", "run", str(app), *options]


def _absolute(path: str) -> str:
    """Return a path that means the same from any folder; a demo's name stays as it is."""
    return str(Path(path).resolve()) if Path(path).exists() else path


def _open_when_up(server: subprocess.Popen[bytes], address: str, port: int) -> None:
    """Open the browser once the page answers; give up quietly after a while."""
    import socket
    import time
    import webbrowser

    for _ in range(100):
        if server.poll() is not None:
            return
        try:
            socket.create_connection((address, port), timeout=0.2).close()
        except OSError:
            time.sleep(0.1)
        else:
            webbrowser.open(f"http://{address}:{port}")
            return
