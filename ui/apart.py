"""Heavy files read by a process of their own, in bounded time and memory: nobody else waits."""

import pickle
import subprocess
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final, TypeVar

from optimizer import InputError
from optimizer.errors import Fault, FaultKind
from optimizer.inputs.tables import WORKBOOK_START
from optimizer.model.phrase import Phrase

T = TypeVar("T")

#: Smaller texts are read in a blink; a workbook may unpack to anything [bytes].
_LIGHT_BYTES: Final = 100_000
#: What a process may take [bytes; s of one core; s].
_MEMORY_BYTES: Final = 1_000_000_000
_CORE_S: Final = 10
_PATIENCE_S: Final = 30
_ROOT: Final = Path(__file__).resolve().parents[1]


def read_apart(file: tuple[str, bytes], read: Callable[..., T], *words: object) -> T:
    """Return what a function of a module makes of ``words``, apart where their file is heavy.

    InputError is the function's, or tells that the file takes more time or memory than it may.
    """
    name, raw = file
    if len(raw) <= _LIGHT_BYTES and not raw.startswith(WORKBOOK_START):
        return read(*words)
    try:
        ran = subprocess.run(
            [sys.executable, "-m", "ui.apart"],
            input=pickle.dumps((read, words)),
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            cwd=_ROOT,
            timeout=_PATIENCE_S,
            check=True,
        )
    except subprocess.SubprocessError:
        found = Phrase("a file that takes too much time or memory")
        wanted = Phrase("a smaller one")
        raise InputError([Fault(name, None, None, found, wanted, FaultKind.FILE)]) from None
    made: T | InputError = pickle.loads(ran.stdout)  # what our own process wrote
    if isinstance(made, InputError):
        raise made
    return made


def main() -> None:
    """Read what standard input asks for, within limits; write the answer or why there is none."""
    with suppress(ModuleNotFoundError):
        import resource  # noqa: PLC0415 - not on every system

        resource.setrlimit(resource.RLIMIT_AS, (_MEMORY_BYTES, _MEMORY_BYTES))
        resource.setrlimit(resource.RLIMIT_CPU, (_CORE_S, _CORE_S))
    read, words = pickle.load(sys.stdin.buffer)
    try:
        made = read(*words)
    except InputError as error:
        made = error
    pickle.dump(made, sys.stdout.buffer)


if __name__ == "__main__":
    main()
