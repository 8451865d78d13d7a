"""Downloads made when they are asked for: one that fails ends in a sentence, and tells no job."""

from collections.abc import Callable
from pathlib import PurePath
from typing import Any, Final

import streamlit as st

from ui.failures import report

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


class NotMadeError(Exception):
    """A file could not be made; where it went wrong stands in the log."""


def download(
    label: str,
    make: Callable[[], bytes | str] | bytes | str,
    file: str,
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    """Draw a download."""

    def made() -> bytes | str:
        try:
            return make() if callable(make) else make
        except Exception as error:
            report(error)
            raise NotMadeError from None  # the browser says in a sentence that it failed

    settings.setdefault("on_click", "ignore")
    ready = made if callable(make) else make
    st.download_button(label, ready, file, _KINDS[PurePath(file).suffix], **settings)
