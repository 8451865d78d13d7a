"""Jobs that outlive a visit: held by the server under a token in the address, or in a link itself.

The token is as hard to guess as a password. The server keeps as many jobs as stated here, in
memory only; the oldest goes first. A link that carries its job needs no server's memory.
"""

import base64
import secrets
import zlib
from collections import OrderedDict
from collections.abc import Sequence
from threading import Lock
from typing import Final

import streamlit as st

from optimizer import InputError
from optimizer.files.limits import FILE_BYTES
from optimizer.inputs.draft import Draft
from optimizer.inputs.job_file import JobFile, Kept, open_job, save_job

#: So many jobs are held, and so much of them [bytes, packed].
MOST_JOBS: Final = 500
MOST_BYTES: Final = 50_000_000
#: A link longer than this is cut by mail programs and browsers [characters].
LONGEST_LINK: Final = 30_000
#: Keys of the address: a job held here, a job in the link.
_HELD_KEY, _CARRIED_KEY = "kept", "job"
_TOKEN_BYTES: Final = 16

_held: Final[OrderedDict[str, bytes]] = OrderedDict()
_lock: Final = Lock()


def keep(draft: Draft, kept: Sequence[Kept]) -> None:
    """Hold a job under the token in the address; the first one of a visit makes the token."""
    token = st.query_params.get(_HELD_KEY)
    if token is None or token not in _held:  # not the server's own: it could be known to others
        token = secrets.token_urlsafe(_TOKEN_BYTES)
        st.query_params.from_dict({_HELD_KEY: token})
    with _lock:
        _held[token] = _packed(draft, kept)
        _held.move_to_end(token)
        while len(_held) > MOST_JOBS or sum(map(len, _held.values())) > MOST_BYTES:
            _held.popitem(last=False)


def found() -> tuple[JobFile | None, bool]:
    """Return the job that the address names or carries, and whether it names one that is gone."""
    carried, token = st.query_params.get(_CARRIED_KEY), st.query_params.get(_HELD_KEY)
    if carried is None and token is None:
        return None, False
    packed = _held.get(token or "") if carried is None else _from_text(carried)
    job = None if packed is None else _unpacked(packed)
    return job, job is None


def link(draft: Draft, kept: Sequence[Kept]) -> str | None:
    """Return what follows the page's address in a link that carries the job; None if too long."""
    text = base64.urlsafe_b64encode(_packed(draft, kept)).decode().rstrip("=")
    return f"?{_CARRIED_KEY}={text}" if len(text) <= LONGEST_LINK else None


def _packed(draft: Draft, kept: Sequence[Kept]) -> bytes:
    return zlib.compress(save_job(draft, kept))


def _from_text(text: str) -> bytes | None:
    try:
        return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))
    except ValueError:
        return None


def _unpacked(packed: bytes) -> JobFile | None:
    """Return a job; None where the bytes, which anybody may have written, hold none."""
    try:
        unpacking = zlib.decompressobj()
        raw = unpacking.decompress(packed, FILE_BYTES)
        return None if unpacking.unconsumed_tail else open_job(raw)
    except (zlib.error, InputError):
        return None
