"""Words beside numbers in a supplier's list, and what they mean."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any, Final

import streamlit as st

from optimizer.inputs.mapping_keys import IGNORE, SKIP
from ui.bound import bound
from ui.markup import safe
from ui.words import supplier as said

if TYPE_CHECKING:
    from optimizer.report.words.writer import Writer
    from optimizer.suppliers.converted import Converted
    from optimizer.suppliers.list_draft import ListDraft

_PERCENT: Final = 100
#: What a meaning with a number starts from.
_STARTS: Final[dict[str, Any]] = {"pieces": 2.0, "tax": 0.2, "exchange": 1.0, "unit": ""}


def words_to_answer(draft: ListDraft, found: Converted, write: Writer) -> None:
    """Draw each word that needs an answer, and those answered."""
    asked = {one.word: said.word(write, one) for one in found.open_words}
    if not asked and not draft.words:
        return
    st.subheader(said.WORDS)
    for word, label in {**{word: f"“{word}”" for word in draft.words}, **asked}.items():
        _word(draft, word, label)


def _word(draft: ListDraft, word: str, label: str) -> None:
    held = draft.words.get(word)
    kind = held if isinstance(held, str) else next(iter(held or {}), None)
    with st.container(key=f"supplier_word_{word}", horizontal=True, vertical_alignment="bottom"):
        bound(
            st.selectbox,
            safe(label),
            f"supplier meaning {word}",
            kind,
            partial(_mean, draft, word),
            options=list(said.MEANINGS),
            index=None,
            format_func=said.MEANINGS.__getitem__,
            placeholder=said.NOT_CHOSEN_WORD,
            width=420,
        )
        if isinstance(held, dict) and kind is not None:
            _figure(draft, word, kind, held[kind])


def _mean(draft: ListDraft, word: str, kind: str | None) -> None:
    plain = kind is None or kind in {IGNORE, SKIP}
    draft.answer(word, kind if plain else {str(kind): _STARTS[str(kind)]})


def _figure(draft: ListDraft, word: str, kind: str, held: Any) -> None:  # noqa: ANN401 - a TOML value
    """Draw the number, or the unit, of a meaning."""
    draw: Any = st.text_input if kind == "unit" else st.number_input
    numbers: dict[str, Any] = {"min_value": 0.0, "format": "%g"}
    settings = {"width": 130, **({} if kind == "unit" else numbers)}
    scale = _PERCENT if kind == "tax" else 1

    def take(typed: Any) -> None:  # noqa: ANN401 - as the widget has it
        draft.answer(word, {kind: typed if kind == "unit" else typed / scale})

    shown = held if kind == "unit" else held * scale
    bound(draw, said.MEANING_NUMBER, f"supplier figure {word}", shown, take, **settings)
