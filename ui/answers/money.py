"""What is paid, and when: purchases, running costs, the residual value."""

from __future__ import annotations

from typing import TYPE_CHECKING

import streamlit as st

from optimizer.report.charts.money import money_chart, money_rows
from optimizer.report.words import money, purchase_in_words
from ui import words
from ui.look import canvas, chart
from ui.markup import safe, table

if TYPE_CHECKING:
    from optimizer.answers.choice import Choice
    from ui.cached import Curves
    from ui.state import State


def draw(state: State, found: Curves, choice: Choice) -> None:
    """Draw the money year by year."""
    del state, found
    site = choice.job.site
    horizon = site.horizon_years
    following = purchase_in_words(choice.next_purchase, site.currency, horizon)
    st.markdown(f"{words.NEXT_PURCHASE}: {safe(following)}. {words.MONEY_NOTE}")
    st.caption(words.money_title(site.currency))
    chart(money_chart(choice.design.payments, horizon, canvas(site.currency)), words.MONEY_ALT)
    with st.expander(words.AS_TABLE):
        rows = [
            [
                words.when(row["year"]),
                *(_cell(row[k]) for k in ("bought", "running", "value", "sum")),
            ]
            for row in money_rows(choice.design.payments, horizon)
        ]
        st.markdown(table(words.MONEY_COLUMNS, rows, "lrrrr"))


def _cell(amount: float) -> str:
    return money(amount).replace("-", "−") if amount else ""
