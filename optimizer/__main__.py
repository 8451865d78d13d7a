"""The command line, by ``keeplit`` or ``python -m optimizer``: signals first, then all the rest.

Until the first line here runs, Ctrl+C is answered by Python itself, in its own words.
"""

try:
    import atexit
    import gc
    import os
    import signal
    import sys
except KeyboardInterrupt:  # they take two milliseconds, and nothing is begun yet
    raise SystemExit(130) from None

TYPE_CHECKING = False
if TYPE_CHECKING:
    from types import FrameType

#: New objects after which rubbish is looked for. What is imported and read lives to the end:
#: looking through it as often as Python does by itself takes a tenth of a short command.
_SWEPT_AFTER = 250_000
#: Ctrl+C, an end asked for, the terminal closed: not every system has all of them.
_ENDS = ("SIGINT", "SIGTERM", "SIGHUP")


def main() -> None:
    """Run a command; ended from outside it cleans up and says nothing."""
    for name in _ENDS:
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), _leave)
    if hasattr(signal, "SIGPIPE"):
        signal.signal(signal.SIGPIPE, signal.SIG_DFL)  # a reader that goes away ends it, as usual
    sys.unraisablehook = _swallowed
    gc.set_threshold(_SWEPT_AFTER)
    atexit.register(
        gc.freeze
    )  # nothing is looked through once more before it goes with the process
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # none is ours; looking takes time
    from optimizer.cli import main as run  # noqa: PLC0415 - Ctrl+C may come before it is there

    run()


def _leave(number: int, frame: "FrameType | None") -> None:
    """End as after an error: what is half written is taken away, what was started is ended.

    The same signal again ends it at once; so does the first while something is imported, where
    others take whatever is raised for a package that is not there, and go on.
    """
    signal.signal(number, signal.SIG_DFL)
    while frame is not None:
        if frame.f_code.co_filename.startswith("<frozen importlib"):
            os._exit(128 + number)
        frame = frame.f_back
    sys.exit(128 + number)


def _swallowed(seen: "sys.UnraisableHookArgs") -> None:
    """End at once where a callback of Python's own took the end for its fault and would go on."""
    if isinstance(seen.exc_value, SystemExit):
        os._exit(int(str(seen.exc_value.code)))
    sys.__unraisablehook__(seen)


if __name__ == "__main__":
    main()
