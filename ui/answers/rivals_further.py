"""Looking further, one question at a time: two numbers at once, doubts, budgets, tiers."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

import streamlit as st

from optimizer import break_even_line, regret, sensitivities, staircase, tiers
from optimizer.comparison.parameters import parameters_of
from optimizer.comparison.scenarios import STATED
from optimizer.report import rivals_words as library
from optimizer.report.charts.break_even_line import break_even_chart
from optimizer.report.charts.sensitivity import sensitivity_chart
from optimizer.report.charts.staircase import staircase_chart
from optimizer.report.charts.tiers import tiers_chart
from optimizer.report.words import bank_in_words, money, set_in_words
from ui import cached_rivals, words
from ui.answers.asking import ask, asked, picture
from ui.markup import safe, table
from ui.words import rivals as said

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Literal

    from optimizer.comparison.budgets import Staircase
    from optimizer.comparison.regrets import Regret
    from optimizer.comparison.sensitivities import Sensitivities
    from optimizer.comparison.side_by_side import Comparison
    from optimizer.comparison.tier_costs import Tiers
    from ui.state import State

    What = Literal["cost", "hours"]

#: Keys of the widgets.
OPEN: Final = "rivals open"
ACROSS: Final = "rivals across"
MOVED: Final = "rivals moved"
LIFETIME: Final = "rivals lifetime"
LATER: Final = "rivals later"
BUDGET: Final = "rivals budget"
_HEIGHT_PX: Final = 380
_MONEY_STEP: Final = 100.0


def draw(state: State, hours: int, found: Comparison | None) -> None:
    """Draw the questions as one line, the open one below; nothing is worked out unasked."""
    offered: dict[str, Callable[[], None]] = {}
    if found is not None:
        if found.runner_up is not None:
            offered[said.BREAK_EVEN_LINE] = lambda: _break_even_line(state, hours)
        offered[said.MOVES] = lambda: _moves(state, hours)
    offered[said.BUDGETS] = lambda: _budgets(state, hours)
    offered[said.TIERS] = lambda: _tiers(state)
    if st.session_state.get(OPEN) not in offered:
        st.session_state[OPEN] = None
    st.pills(
        said.FURTHER,
        list(offered),
        key=OPEN,
        on_change=lambda: ask(st.session_state[OPEN]),
    )
    opened = st.session_state[OPEN]
    if opened is not None:
        with st.container(key="rivals_further"):
            offered[opened]()


def _break_even_line(state: State, hours: int) -> None:
    """Draw the line on which both cost the same, in two numbers."""
    names = {
        one.key: one.name for one in parameters_of(state.job) if not one.key.startswith("price:")
    }
    across = st.selectbox(
        said.ACROSS,
        list(names),
        format_func=names.__getitem__,
        key=ACROSS,
        on_change=ask,
        args=(said.BREAK_EVEN_LINE,),
        width=320,
    )
    key = cached_rivals.key_of(state, "break_even_line", hours, across)
    found = asked(
        state,
        said.BREAK_EVEN_LINE,
        key,
        lambda _: break_even_line(state.job, hours, across=str(across)),
    )
    if found is None:
        return
    st.markdown("\n".join(f"- {safe(text)}" for text in library.break_even_line_in_words(found)))
    picture(
        "break_even_line",
        lambda canvas: break_even_chart(found, canvas),
        said.BREAK_EVEN_LINE_ALT,
        state.job.site.currency,
        height=_HEIGHT_PX,
    )
    with st.expander(words.AS_TABLE):
        rows = [
            [
                safe(library.value_in_words(found.across, point.value)),
                said.wins_anyway(library.winner_in_words(point.always))
                if point.factor is None
                else safe(library.value_in_words(found.price, point.factor)),
            ]
            for point in found.points
        ]
        st.markdown(
            table(said.break_even_line_columns(found.across.name, found.priced), rows, "rl")
        )


def _moves(state: State, hours: int) -> None:
    """Draw each doubt by itself, then all at once."""
    key = cached_rivals.key_of(state, "moves", hours)

    def make(step: Callable[[int, int], None]) -> tuple[Sensitivities, Regret]:
        each = sensitivities(state.job, hours, progress=lambda done, whole: step(done, 5 * whole))
        # in this process: others would cost more to start than they save
        return each, regret(
            state.job,
            hours,
            processes=1,
            progress=lambda done, whole: step(whole + 4 * done, 5 * whole),
        )

    found = asked(state, said.MOVES, key, make)
    if found is None:
        return
    st.markdown(f"### {said.ALONE}")
    _sensitivities(found[0])
    st.markdown(f"### {said.TOGETHER}")
    _regret(found[1])


def _sensitivities(found: Sensitivities) -> None:
    named = {"cost": said.COST_SENSITIVITIES, "hours": said.HOURS_SENSITIVITIES}
    st.session_state.setdefault(MOVED, "cost")
    picked = st.segmented_control(
        said.HOW_SENSITIVITIES, list(named), format_func=named.__getitem__, key=MOVED, required=True
    )
    what: What = "hours" if picked == "hours" else "cost"
    currency = found.job.site.currency
    moving = [
        one
        for one in found.sensitivities
        if (one.cost_span if what == "cost" else one.hours_span) > 0
    ]
    if not moving:
        st.markdown(said.NOTHING_MOVES)
        return
    st.caption(said.sensitivities_title(currency, found.hours, found.budget, what=what))
    picture(
        f"sensitivities-{what}",
        lambda canvas: sensitivity_chart(found, canvas, what=what),
        said.SENSITIVITIES_ALT,
        currency,
        is_wide=True,
    )
    with st.expander(words.AS_TABLE):
        rows = []
        for one in moving:
            ends = (one.low, one.base, one.high)
            amounts = [
                f"{end.hours}"
                if what == "hours"
                else (money(end.cost) if math.isfinite(end.cost) else said.NONE)
                for end in ends
            ]
            values = [safe(library.value_in_words(one.parameter, end.value)) for end in ends]
            who = said.winners([end.winner for end in ends])
            rows.append([safe(one.parameter.name), *values, *amounts, who])
        st.markdown(table(said.sensitivities_columns(currency, what=what), rows, "lrrrrrrl"))


def _regret(found: Regret) -> None:
    st.markdown(safe(library.regret_in_words(found)))
    with st.expander(said.REGRET_TABLE):
        rows = []
        for record in found.records:
            marks = [said.SAFEST] if record is found.safest else []
            marks += [said.TODAY] if record.first == found.cheapest_today else []
            rows.append(
                [
                    safe(library.first_in_words(record.first)),
                    said.named(record.first.family),
                    f"{100 * record.best_share:.1f}",
                    *(
                        money(amount) if math.isfinite(amount) else said.STRANDED
                        for amount in (
                            record.largest_regret,
                            record.mean_regret,
                            record.mean_cost,
                        )
                    ),
                    ", ".join(marks),
                ]
            )
        columns = said.regret_columns(found.job.site.currency)
        st.markdown(table(columns, rows, "llrrrrl"))
    with st.expander(said.HOW_DRAWN):
        st.markdown("\n".join(f"- {safe(text)}" for text in STATED))


def _budgets(state: State, hours: int) -> None:
    """Draw what a budget buys, and what the hours ask for."""
    site = state.job.site
    kinds = {False: said.BUDGET_START, True: said.BUDGET_LIFETIME}
    st.session_state.setdefault(LIFETIME, False)
    st.session_state.setdefault(LATER, site.later_limit)
    st.session_state.setdefault(BUDGET, site.budget)
    with st.container(horizontal=True, vertical_alignment="bottom"):
        lifetime = bool(
            st.segmented_control(
                said.HOW_BUDGET,
                list(kinds),
                format_func=kinds.__getitem__,
                key=LIFETIME,
                required=True,
                on_change=ask,
                args=(said.BUDGETS,),
            )
        )
        later = st.number_input(
            said.later_label(site.currency),
            0.0,
            value=None,
            step=_MONEY_STEP,
            format="%g",
            key=LATER,
            placeholder=words.NO_LIMIT,
            help=said.LATER_HELP,
            on_change=ask,
            args=(said.BUDGETS,),
            width=230,
        )
        budget = st.number_input(
            said.budget_label(site.currency),
            0.0,
            value=None,
            step=_MONEY_STEP,
            format="%g",
            key=BUDGET,
            help=said.BUDGET_HELP,
            width=230,
        )
    key = cached_rivals.key_of(state, "budgets", lifetime, later)
    found = asked(
        state,
        said.BUDGETS,
        key,
        lambda step: staircase(state.job, lifetime=lifetime, later_limit=later, progress=step),
    )
    if found is None:
        return
    if not found.steps:
        st.markdown(said.NO_STAIRS)
        return
    _stairs(found, hours, budget)


def _stairs(found: Staircase, hours: int, budget: float | None) -> None:
    site = found.job.site
    st.markdown(" ".join(said.reach(found, hours, budget)))
    st.caption(said.stairs_title(site.currency, site.horizon_years, lifetime=found.lifetime))
    picture(
        "budget",
        lambda canvas: staircase_chart(found, canvas, chosen=budget),
        said.STAIRS_ALT,
        site.currency,
        height=_HEIGHT_PX,
    )
    with st.expander(words.AS_TABLE):
        rows = [
            [
                money(math.ceil(step.budget)),
                str(step.hours),
                money(step.price_of_hour),
                money(step.design.upfront_cost if found.lifetime else step.design.life_cycle_cost),
                f"{safe(bank_in_words(step.design.banks[0], step.design.voltage_v))}; "
                f"{safe(set_in_words(step.design))}",
                safe(library.purchases_in_words(step.later)),
                safe(library.cause_in_words(step.cause)),
            ]
            for step in found.steps
        ]
        columns = said.stairs_columns(site.currency, site.horizon_years, lifetime=found.lifetime)
        st.markdown(table(columns, rows, "rrrrlll"))


def _tiers(state: State) -> None:
    """Draw the cost of each tier of loads."""
    key = cached_rivals.key_of(state, "tiers")
    found = asked(state, said.TIERS, key, lambda step: tiers(state.job, progress=step))
    if found is None:
        return
    if not any(one.curve.points for one in found.curves):
        st.markdown(said.NO_TIERS)
        return
    site = found.job.site
    st.caption(said.tiers_title(site.currency, site.horizon_years))
    picture(
        "tiers",
        lambda canvas: tiers_chart(found, canvas),
        said.TIERS_ALT,
        site.currency,
        height=_HEIGHT_PX,
    )
    _tiers_table(found)


def _tiers_table(found: Tiers) -> None:
    target = found.job.site.target_hours
    rows = []
    for hours in sorted({target, *found.landmarks}):
        row = [said.tier_hours(hours, target)]
        for number, cost in enumerate(found.at(hours)):
            row.append(said.NONE if cost.cost is None else money(cost.cost))
            if number:
                row.append("" if cost.extra is None else money(cost.extra))
        rows.append(row)
    added = [one.added for one in found.curves]
    marks = "r" * (2 * len(added))
    st.markdown(table(said.tier_columns(added, found.job.site.currency), rows, marks))
