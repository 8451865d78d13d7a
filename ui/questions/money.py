"""What money costs: study period, rate, tariff, tax, what may be paid, what is left at the end."""

from typing import Final

import streamlit as st

from optimizer.inputs.cells import CellError
from optimizer.inputs.draft import Draft
from optimizer.inputs.exchange import in_currency
from optimizer.inputs.typed import PLAIN_NUMBER, typed_number
from optimizer.model.phrase import Phrase
from ui import words
from ui.bound import wrong
from ui.fields import field, fields
from ui.language import writer
from ui.state import State

_FIRST: Final = (
    "horizon_years",
    "discount_rate",
    "tariff",
    "tax_rate",
    "markup",
    "value_of_lost_load",
)
_CONVERTED: Final = "economics.rate"


def draw(state: State) -> None:
    """Draw the question."""
    field(state, "name")
    fields(state, *_FIRST)
    with st.expander(words.FINER):
        fields(state, "residual_share", "min_service_share", "inflation", "later_limit")
        _currency(state)


def _currency(state: State) -> None:
    """Draw the currency: another one takes its rate of exchange, and converts every sum."""
    now = str(state.draft.site["site"]["currency"])
    write = writer(now)
    with st.container(horizontal=True, vertical_alignment="bottom"):
        code = st.text_input(
            f"{words.CURRENCY_NEW} ({now})", key=f"currency {now}", max_chars=3,
            help=words.CURRENCY_HELP, width=260,
        ).strip().upper()  # fmt: skip
        if not code or code == now:
            return
        typed = st.text_input(words.rate_of(write, now, code), key=f"rate {now}", width=220)
        st.button(words.CONVERT, on_click=_convert, args=(state, code, typed), disabled=not typed)
    wrong(state, _CONVERTED)


def _convert(state: State, code: str, typed: str) -> None:
    """Convert every sum, in one step that undo takes back."""
    now = str(state.draft.site["site"]["currency"])

    def put(draft: Draft, typed: str) -> Draft:
        rate = typed_number(typed, PLAIN_NUMBER)
        if not rate:
            raise CellError(Phrase("a rate above 0"))
        return in_currency(draft, code, rate)

    before = state.draft
    state.offer(_CONVERTED, typed, put, words.UNDO_CURRENCY)
    if state.draft is not before:
        state.refresh()
        st.toast(words.converted(writer(code), now, code, typed_number(typed, PLAIN_NUMBER)))
