"""Downloads made when they are asked for: one that fails ends in a sentence, and tells no job."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import streamlit as st

from ui.failures import report

if TYPE_CHECKING:
    from collections.abc import Callable


class NotMadeError(Exception):
    """A file could not be made; where it went wrong stands in the log."""


def download(
    label: str,
    make: Callable[[], Any] | bytes | str,
    file: str,
    kind: str,
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    """Draw a download."""

    def made() -> Any:  # noqa: ANN401 - bytes or text
        try:
            return make() if callable(make) else make
        except Exception as error:
            report(error)
            raise NotMadeError from None  # the browser says in a sentence that it failed

    ready = made if callable(make) else make
    settings.setdefault("on_click", "ignore")
    st.download_button(label, ready, file, kind, **settings)
