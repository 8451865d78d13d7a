"""What an outage looks like: charge from the worst start, the loads stacked beneath."""

from __future__ import annotations

from typing import TYPE_CHECKING

import streamlit as st

from optimizer.report.charts.outage import OutagePicture, charge_chart, loads_chart, outage_rows
from optimizer.report.charts.points import family_of
from optimizer.report.charts.theme import MIXED
from ui import cached, words
from ui.look import canvas, chart
from ui.markup import safe, table

if TYPE_CHECKING:
    from optimizer.answers.choice import Choice
    from ui.cached import Curves
    from ui.state import State


def draw(state: State, found: Curves, choice: Choice) -> None:
    """Draw the outage."""
    del found
    said = cached.opinion(state, choice)
    worst = said.verdict
    outage = cached.worst_outage(choice, said)
    shown = OutagePicture(
        outage, worst.start_hour, choice.design.hours, family_of(choice.design) or MIXED
    )
    st.markdown(words.outage(worst, float(outage.hours[-1])))
    drawn_on = canvas(choice.job.site.currency)
    st.caption(words.CHARGE_TITLE)
    chart(charge_chart(shown, drawn_on), words.CHARGE_ALT)
    st.caption(words.LOADS_TITLE)
    chart(loads_chart(shown, drawn_on), words.LOADS_ALT)
    with st.expander(words.AS_TABLE):
        tiers = list(outage.loads_w)
        rows = [
            [
                f"{row['hours']:.1f}",
                str(row["clock"]),
                f"{100 * row['charge']:.0f}",
                *("" if row[tier] is None else f"{row[tier]:,.0f}" for tier in tiers),
            ]
            for row in outage_rows(shown)
        ]
        headings = [*words.OUTAGE_COLUMNS, *(f"{safe(tier)}, W" for tier in tiers)]
        st.markdown(table(headings, rows, "rlr" + "r" * len(tiers)))
