"""What is said when something fails: one sentence on the page, and where in the server's log.

The log never holds a failure's own text, which may hold the job.
"""

import logging
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import streamlit as st

from optimizer import KeeplitError
from ui import words

_LOG = logging.getLogger("keeplit.page")


def report(error: Exception) -> None:
    """Write the kind of a failure and the line of code."""
    frame = traceback.extract_tb(error.__traceback__)[-1]
    _LOG.warning("%s at %s:%s", type(error).__name__, Path(frame.filename).name, frame.lineno)


@contextmanager
def failing(tell: Callable[[str], object], sentence: str) -> Iterator[None]:
    """Say a sentence in the place of what the library fails to work out."""
    try:
        yield
    except KeeplitError as error:
        report(error)
        tell(sentence)


def told(error: Exception) -> bool:
    """Say that a click led to nothing, in the place of the framework's own box."""
    report(error)
    st.error(words.PAGE_FAILED)
    return True
