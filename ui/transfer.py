"""Files dropped in, taken whole or refused with every fault listed; and files to take along."""

from collections.abc import Callable, Sequence
from pathlib import PurePath
from typing import Any, Final

import streamlit as st

from optimizer import InputError
from optimizer.errors import Fault
from optimizer.model.phrase import Phrase
from optimizer.report.grids import faults as grids
from ui import words
from ui.bound import now
from ui.failures import report
from ui.language import PLAIN
from ui.look import tables
from ui.state import State

#: Name and content.
File = tuple[str, bytes]
#: What a browser is told of each ending.
_KINDS: Final = {
    ".csv": "text/csv",
    ".json": "application/json",
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".toml": "application/toml",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


def uploader(
    state: State,
    name: str,
    label: str,
    kinds: list[str],
    take: Callable[..., object],
    *,
    help: str | None = None,
    several: bool = False,
) -> None:
    """Draw a place for files of some ``kinds``, their endings, or for ``several`` at once.

    ``take`` is given each file's name and content; it raises `InputError` to refuse them all.
    """
    widget = f"file {name} {state.generation}"
    st.file_uploader(
        label,
        type=kinds,
        accept_multiple_files=several,
        key=widget,
        help=help,
        on_change=_taken,
        args=(state, name, widget, take),
    )
    if refused := state.refused.get(name):
        st.error(words.PRICES_KEPT if name == "prices" else words.FILE_KEPT)
        faults(refused)


def faults(found: Sequence[Fault]) -> None:
    """Draw faults row by row."""
    tables(PLAIN, grids.faults(PLAIN, found))  # no fault tells of money


def _taken(state: State, name: str, widget: str, take: Callable[..., object]) -> None:
    held = now(widget)
    if not held:
        state.refused.pop(name, None)
        return
    files = [(one.name, one.getvalue()) for one in (held if isinstance(held, list) else [held])]
    try:
        take(*files)
    except InputError as error:
        state.refused[name] = error.faults
    except Exception as error:  # the page's fault: the job stays as it was
        report(error)
        found = Phrase("a file that the page stumbles over, which is the page's fault")
        wanted = Phrase("another file")
        state.refused[name] = (Fault(files[0][0], None, None, found, wanted),)
    else:
        state.refused.pop(name, None)


class NotMadeError(Exception):
    """A file could not be made; where it went wrong stands in the log."""


def download(
    label: str,
    make: Callable[[], bytes | str],
    file: str,
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    """Draw a download, made when it is asked for; at once where the click is to do more.

    A click that runs the page and asks for a file may wait for ever: the run takes the place of
    what was asked (Streamlit 1.67).
    """

    def made() -> bytes | str:
        try:
            return make()
        except Exception as error:
            report(error)
            raise NotMadeError from None  # the browser says in a sentence that it failed

    ready = made() if "on_click" in settings else made
    st.download_button(
        label, ready, file, _KINDS[PurePath(file).suffix], **{"on_click": "ignore"} | settings
    )
