"""Who may talk to the page's server: a browser that asked for this very address, no other page."""

import ipaddress
from typing import Final
from urllib.parse import urlsplit

from starlette.datastructures import Headers
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Receive, Scope, Send
from starlette.websockets import WebSocketClose

_REFUSED: Final = "This address is not the page's own. Open the one that keeplit page printed."
_LOCAL: Final = "localhost"
#: A websocket's end where its handshake is refused (RFC 6455, 7.4.1: policy).
_POLICY: Final = 1008


class OnlyHere:
    """Refuses requests under a foreign name, and those that another page makes.

    A foreign name that resolves to this machine (DNS rebinding) lets a page from anywhere read
    what is here; a number cannot be made to resolve anywhere else. The name of the ``address``
    that the server was told to listen at is allowed.
    """

    def __init__(self, server: ASGIApp, address: str) -> None:
        self._server, self._address = server, address.lower()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request or refuse it."""
        if scope["type"] not in {"http", "websocket"} or self._allowed(scope):
            await self._server(scope, receive, send)
        elif scope["type"] == "websocket":
            await WebSocketClose(_POLICY)(scope, receive, send)
        else:
            await PlainTextResponse(_REFUSED, 403)(scope, receive, send)

    def _allowed(self, scope: Scope) -> bool:
        headers = Headers(scope=scope)
        host, origin = headers.get("host", ""), headers.get("origin")
        if not is_own(host, self._address):
            return False
        return origin is None or urlsplit(origin).netloc.lower() == host.lower()


def is_own(host: str, address: str) -> bool:
    """Tell whether a request's host is this machine by number, or by a name that was meant.

    >>> [is_own(host, "localhost") for host in ("localhost:8501", "127.0.0.1", "[::1]:8501")]
    [True, True, True]
    >>> is_own("rebound.example:8501", "localhost"), is_own("desk.lan", "desk.lan")
    (False, True)
    """
    try:
        name = urlsplit(f"//{host}").hostname or ""
    except ValueError:
        return False
    if name in {_LOCAL, address}:
        return True
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True
