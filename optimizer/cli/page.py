"""``keeplit page``: the page in a browser, served from this machine to this machine."""

from __future__ import annotations

import contextlib
import errno
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

import optimizer
from optimizer.cli import options
from optimizer.cli.completing import sites
from optimizer.cli.show import writer
from optimizer.errors import wrong_option
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    import subprocess

_ADDRESS = Phrase("localhost, or an address of this machine")
_PORT = Phrase("a port from 1024 on that nothing listens at, such as --port 8502")
#: The server is told to end, and ended where it does not [s].
_GRACE_S = 5


@click.command()
@click.argument("site", default="house", shell_complete=sites)
@options.catalog
@click.option(
    "--port",
    type=click.IntRange(1, 65535),
    metavar="PORT",
    default=8501,
    show_default=True,
    help="Port to listen at.",
)
@click.option(
    "--address",
    metavar="ADDRESS",
    default="localhost",
    show_default=True,
    help="Address to listen at; any but localhost lets others on the network in.",
)
@click.option(
    "--open/--no-open", "show", default=True, help="Open the browser.  [default: on a terminal]"
)
def page(site: str, catalog: str | None, port: int, address: str, show: bool) -> None:
    """Serve the page for the browser, on this machine.

    It opens with SITE, or with the demo house.
    """
    import subprocess

    from optimizer.report.words.commands import page_at

    optimizer.load(site, catalog)  # a faulty site is told here, with every fault
    _may_listen(address, port)
    root = Path(__file__).resolve().parents[2]
    shown = f"[{address}]" if ":" in address else address
    environment = {
        **{name: held for name, held in os.environ.items() if not name.startswith("STREAMLIT_")},
        "KEEPLIT_SITE": _absolute(site),
        "KEEPLIT_CATALOG": "" if catalog is None else _absolute(catalog),
    }
    click.echo(page_at(writer(), f"http://{shown}:{port}"))
    server = subprocess.Popen(
        [*command(port, address), "watched"],  # its standard input closes with this process
        env=environment,
        cwd=root,
        stdin=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        process_group=0,  # Ctrl+C comes here, and is handed on
    )
    try:
        if show and sys.stdout.isatty():
            _open_when_up(server, address, port)
        status = server.wait()
    except KeyboardInterrupt:
        status = 0
    finally:
        server.terminate()
        try:
            server.wait(_GRACE_S)
        except subprocess.TimeoutExpired:
            server.kill()
    sys.exit(status)


def _may_listen(address: str, port: int) -> None:
    """Refuse an address that is not this machine's, and a port that something else holds."""
    import socket

    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    try:
        if not address.strip():  # would be every address there is
            raise wrong_option("--address", Phrase("nothing"), _ADDRESS)
        place = socket.getaddrinfo(address, port, family, socket.SOCK_STREAM)[0][4]
    except (OSError, UnicodeError):
        raise wrong_option("--address", repr(address), _ADDRESS) from None
    with socket.socket(family) as tried:  # what is held but does not listen shows only here
        if os.name != "nt":
            tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            tried.bind(place)
            tried.listen()
        except OSError as problem:
            if problem.errno == errno.EADDRNOTAVAIL:
                raise wrong_option("--address", repr(address), _ADDRESS) from None
            taken = "{port}, which is taken"
            told = "{port}, which needs more rights" if problem.errno == errno.EACCES else taken
            raise wrong_option("--port", Phrase(told, port=port), _PORT) from None
    with contextlib.suppress(OSError):  # the browser may come by the other kind of address
        socket.create_connection((address, port), timeout=0.5).close()
        raise wrong_option("--port", Phrase("{port}, which is taken", port=port), _PORT)


def command(port: int, address: str = "localhost") -> list[str]:
    """Return the command line that serves the page."""
    return [sys.executable, "-m", "ui.serve", address, str(port)]


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
