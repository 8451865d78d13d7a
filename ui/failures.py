"""What is written to the server's log when something fails: where, and nothing of the job."""

from __future__ import annotations

import logging
import traceback
from pathlib import Path

_LOG = logging.getLogger("keeplit.page")


def report(error: Exception) -> None:
    """Write the kind of a failure and the line of code; never its text, which may hold the job."""
    frame = traceback.extract_tb(error.__traceback__)[-1]
    _LOG.warning("%s at %s:%s", type(error).__name__, Path(frame.filename).name, frame.lineno)
