"""The command line, by ``keeplit`` or ``python -m optimizer``: signals first, then all the rest."""

from __future__ import annotations

import signal
import sys

#: Ctrl+C, an end asked for, the terminal closed: not every system has all of them.
_ENDS = ("SIGINT", "SIGTERM", "SIGHUP")


def main() -> None:
    """Run a command; ended from outside it cleans up and says nothing."""
    for name in _ENDS:
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), _leave)
    if hasattr(signal, "SIGPIPE"):
        signal.signal(signal.SIGPIPE, signal.SIG_DFL)  # a reader that goes away ends it, as usual
    from optimizer.cli import main as run  # noqa: PLC0415 - Ctrl+C may come before it is there

    run()


def _leave(number: int, frame: object) -> None:
    """End as after an error: what is half written is taken away, what was started is ended.

    The same signal again ends it at once.
    """
    del frame
    signal.signal(number, signal.SIG_DFL)
    sys.exit(128 + number)


if __name__ == "__main__":
    main()
