"""Words beside numbers in a supplier's list, and what they mean."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any, Final

import streamlit as st

from optimizer.inputs.columns import columns_of
from optimizer.inputs.mapping_keys import IGNORE, SKIP, WordKeys
from ui.bound import bound
from ui.fields import aside
from ui.markup import safe
from ui.words import supplier as said

if TYPE_CHECKING:
    from optimizer.report.words.writer import Writer
    from optimizer.suppliers.converted import Converted
    from optimizer.suppliers.list_draft import ListDraft
    from ui.state import State

#: What a meaning with a number starts from.
_STARTS: Final[dict[str, Any]] = {"pieces": 2.0, "tax": 0.2, "exchange": 1.0, "unit": ""}


def words_to_answer(state: State, draft: ListDraft, found: Converted, write: Writer) -> None:
    """Draw each word that needs an answer, and those answered."""
    asked = {one.word: said.word(write, one) for one in found.open_words}
    if not asked and not draft.words:
        return
    st.subheader(said.WORDS)
    for word, label in {**{word: f"“{word}”" for word in draft.words}, **asked}.items():
        _word(state, draft, word, label)


def _word(state: State, draft: ListDraft, word: str, label: str) -> None:
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
            _figure(state, draft, word, kind, held[kind])


def _mean(draft: ListDraft, word: str, kind: str | None) -> None:
    plain = kind is None or kind in {IGNORE, SKIP}
    draft.answer(word, kind if plain else {str(kind): _STARTS[str(kind)]})


def _figure(state: State, draft: ListDraft, word: str, kind: str, held: Any) -> None:  # noqa: ANN401 - a TOML value
    """Draw the number, or the unit, of a meaning."""
    key, width = f"supplier figure {word}", 130

    def take(typed: Any) -> None:  # noqa: ANN401 - a number, or a unit
        draft.answer(word, {kind: typed})

    if kind == "unit":
        bound(st.text_input, said.MEANING_NUMBER, key, held, take, width=width)
    else:
        facts = columns_of(WordKeys)[kind]
        aside(state, facts, said.MEANING_NUMBER, key, held=held, take=take, width=width)
