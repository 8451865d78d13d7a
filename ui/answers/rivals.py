"""Lead-acid or lithium: who wins, why, at which value that changes, what is paid by when."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import streamlit as st

from optimizer import switch_points
from optimizer.comparison.side_by_side import families_of
from optimizer.report import rivals_words as library
from optimizer.report.charts.paid import paid_chart, paid_rows
from optimizer.report.words import bank_in_words, money
from ui import cached_rivals, words
from ui.answers import rivals_further
from ui.answers.asking import asked, picture
from ui.failures import report
from ui.markup import safe, table
from ui.words import rivals as said

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from optimizer.comparison.side_by_side import Alternative, Comparison
    from optimizer.comparison.switch_points import SwitchPoints
    from ui.cached import Answer
    from ui.state import State

_HEIGHT_PX: Final = 240


@st.fragment
def draw(state: State, answer: Answer) -> None:
    """Draw the section for the hours asked, or those of the point clicked.

    It is drawn by itself: a question asked here leaves the rest of the page alone.
    """
    st.header(said.heading(families_of(state.job)))
    try:
        _draw(state, answer)
    except Exception as error:  # the rest of the page must not go down with it
        report(error)
        st.error(words.PART_FAILED)


def _draw(state: State, answer: Answer) -> None:
    hours = state.job.site.target_hours
    found = None
    if answer.choice is not None:
        hours = answer.asked or answer.choice.design.hours
        found = cached_rivals.comparison(state, hours)
    if found is None:
        st.markdown(said.NOTHING_FITS)
    else:
        _verdict(found)
        left, right = st.columns([11, 10], gap="large")
        with left:
            st.markdown(f"### {said.SWITCH_POINTS}")
            every = _switch_points(state, found)
            st.markdown(f"### {said.PAID}")
            _paid(found)
        with right:
            st.markdown(f"### {said.SIDE_BY_SIDE}")
            _sides(found)
        # too wide for half the page
        _both_sides(every)
        _paid_table(found)
        _chemistries(found)
    rivals_further.draw(state, hours, found)


def _verdict(found: Comparison) -> None:
    """Draw who wins and why."""
    st.markdown(f"**{safe(library.verdict_in_words(found))}**")
    reasons = [library.reason_in_words(found), library.catch_up_in_words(found)]
    st.markdown(" ".join(safe(reason) for reason in reasons if reason))
    if len(found.families) > 2:  # noqa: PLR2004 - winner and runner-up are in the verdict
        st.markdown(said.others(found))
    if found.missing:
        st.markdown(said.missing(found.missing))


def _switch_points(state: State, found: Comparison) -> tuple[SwitchPoints, ...]:
    """Draw at which values the winner changes: prices at once, all numbers when asked for.

    Returns what was found along all numbers, nothing where they were not asked for.
    """
    if len(families_of(state.job)) == 1:
        st.markdown(said.ONE_FAMILY)
        return ()
    key = cached_rivals.key_of(state, "switch_points", found.hours)
    first, place = st.container(), st.container()
    with place:
        every = asked(
            state,
            "switch_points",
            key,
            lambda step: switch_points(state.job, found.hours, progress=step),
            label=said.SWITCH_POINTS_ALL,
            hint=said.SWITCH_POINTS_ALL_HELP,
        )
    shown = every or cached_rivals.price_switch_points(state, found.hours)
    with first:
        if any(one.switch_points for one in shown) or every is not None:
            for turn in library.turns_in_words(shown, found):
                st.markdown(safe(turn))
        turning = [one for one in shown if one.switch_points or one.unproven]
        rows = [
            [
                safe(one.parameter.name),
                said.unbroken(library.value_in_words(one.parameter, one.parameter.base)),
                safe(library.regions_in_words(one)) + said.unproven(len(one.unproven)),
            ]
            for one in turning
        ]
        if rows:
            st.markdown(table(said.SWITCH_POINTS_COLUMNS, rows, "lrl"))
        steady = [one for one in shown if one not in turning]
        if steady:
            st.markdown(said.steady(steady))
    return every or ()


def _both_sides(shown: Sequence[SwitchPoints]) -> None:
    """Draw every switch point between its neighbours, and the ranges that were looked through."""
    turning = [one for one in shown if one.switch_points]
    if not turning:
        return
    with st.expander(said.SWITCH_POINT_SIDES):
        rows = [
            [
                safe(one.parameter.name),
                f"{switch_point.below.value:.9g}",
                f"{switch_point.above.value:.9g}",
                f"{safe(library.winner_in_words(switch_point.below.winner))} → "
                f"{safe(library.winner_in_words(switch_point.above.winner))}",
                _costs(switch_point.below.costs),
                _costs(switch_point.above.costs),
                safe(
                    f"{switch_point.kind}: {switch_point.cause}"
                    if switch_point.cause
                    else switch_point.kind
                ),
            ]
            for one in turning
            for switch_point in one.switch_points
        ]
        st.markdown(table(said.SWITCH_POINT_SIDES_COLUMNS, rows, "lrrllll"))
        ranges = [
            [safe(one.parameter.name), safe(library.range_in_words(one.parameter))] for one in shown
        ]
        st.markdown(table(said.RANGES_COLUMNS, ranges, "ll"))


def _costs(costs: dict[str, float]) -> str:
    return ", ".join(
        f"{safe(name)} {money(cost, decimals=2) if math.isfinite(cost) else said.NONE}"
        for name, cost in costs.items()
    )


def _paid(found: Comparison) -> None:
    """Draw what has been paid by each year, replacements marked, the residual value apart."""
    st.caption(said.paid_title(found.job.site.currency))
    picture(
        "paid",
        lambda canvas: paid_chart(found, canvas, named=canvas.alone),
        said.PAID_ALT,
        found.job.site.currency,
        height=_HEIGHT_PX,
    )


def _paid_table(found: Comparison) -> None:
    """Draw the same as a table, in all three kinds of money."""
    with st.expander(said.PAID_TABLE):
        drawn = paid_rows(found)
        count = found.job.site.horizon_years + 2
        years = [drawn[place::count] for place in range(count)]
        rows = []
        for own in years:
            cells = [money(row[kind]) for row in own for kind in ("paid", "nominal", "present")]
            bought = [f"{row['family']}: {row['bought']}" for row in own if row["bought"]]
            when = own[0]["what"] if own[0]["what"] != "paid" else words.when(own[0]["year"])
            rows.append(
                [when, *(cell.replace("-", "−") for cell in cells), safe("; ".join(bought))]
            )
        names = [one.name for one in found.families]
        st.markdown(table(said.paid_columns(names), rows, "l" + "rrr" * len(names) + "l"))


def _sides(found: Comparison) -> None:
    """Draw the families side by side."""
    site = found.job.site
    st.markdown(
        "\n".join(
            "- "
            + said.equipment(one.name, library.design_in_words(one), library.later_in_words(one))
            for one in found.families
        )
    )
    cells: list[Callable[[Alternative], str]] = [
        lambda one: money(one.design.life_cycle_cost),
        lambda one: money(one.design.upfront_cost),
        lambda one: money(one.residual_value),
        lambda one: money(one.monthly_sum, decimals=2),
        lambda one: money(one.cost_per_hour),
        lambda one: money(one.cost_per_kwh),
        lambda one: str(one.design.hours),
        lambda one: f"{one.usable_kwh:,.1f}",
        lambda one: f"{one.mass_kg:,.0f}",
        lambda one: "" if one.floor_m2 is None else f"{one.floor_m2:,.2f}",
    ]
    names = [said.named(one.name) for one in found.families]
    rows = [
        [name, *(cell(one) for one in found.families)]
        for name, cell in zip(said.side_rows(site.currency, site.horizon_years), cells, strict=True)
    ]
    if all(one.floor_m2 is None for one in found.families):
        rows.pop()
    st.markdown(table(["", *names], rows, "l" + "r" * len(names)))


def _chemistries(found: Comparison) -> None:
    """Draw each chemistry by itself."""
    site = found.job.site
    with st.expander(said.CHEMISTRIES):
        rows = [
            [
                safe(one.name),
                money(one.design.life_cycle_cost),
                money(one.design.upfront_cost),
                money(one.residual_value),
                str(one.design.hours),
                f"{one.mass_kg:,.0f}",
                safe(bank_in_words(one.design.banks[0], one.design.voltage_v)),
                safe(library.later_in_words(one)),
            ]
            for one in found.chemistries
        ]
        columns = said.chemistry_columns(site.currency, site.horizon_years)
        st.markdown(table(columns, rows, "lrrrrrll"))
