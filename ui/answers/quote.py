"""A quote: options off the curve, priced, to be taken along; made only when it is asked for."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import partial
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Final

import streamlit as st

from optimizer import InputError, KeeplitError, make_quote
from optimizer.report.quote import installer_bytes, quote_bytes
from optimizer.report.quote.texts import writer_for
from ui import cached
from ui.answers.quote_sender import quote_draft, sender, with_logo
from ui.markup import safe, table
from ui.uploads import faults
from ui.words import quote as said

if TYPE_CHECKING:
    from collections.abc import Callable

    from optimizer.quote import PricedOption, Quote
    from optimizer.report.words.writer import Writer
    from ui.answers.quote_sender import QuoteDraft
    from ui.cached import Curves
    from ui.state import State

_KINDS: Final = {
    ".pdf": "application/pdf",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ".csv": "text/csv",
    ".json": "application/json",
}


def draw(state: State, found: Curves) -> None:
    """Draw the section: one button at first, then choices, preview and downloads."""
    with st.container(key="quote_section"):
        st.header(said.LEAVE)
        _section(state, found)


def _section(state: State, found: Curves) -> None:
    draft, now = quote_draft(), cached.fingerprint(state.good)
    if draft.asked is None:
        st.markdown(said.LEAVE_HELP)
        st.button(said.MAKE, on_click=_ask, args=(draft, now))
        return
    _options(draft, found)
    with st.expander(said.SENDER):
        sender(state, draft)
    if draft.asked != now:
        st.markdown(said.STALE)
        st.button(said.MAKE_AGAIN, on_click=_ask, args=(draft, now))
        return
    try:
        quote = _made(state, draft)
    except InputError as error:
        st.warning(said.NOT_PRICED)
        faults(error.faults)
        return
    except KeeplitError:
        st.error(said.FAILED)
        return
    _preview(quote)
    _take_along(draft, quote)


def _ask(draft: QuoteDraft, now: str) -> None:
    draft.asked = now


def _options(draft: QuoteDraft, found: Curves) -> None:
    """Draw which options are put before the customer, and on which day."""
    points = {point.hours: point for point in found.overall.points}
    by_hand = draft.hours is not None
    with st.container(key="quote_options", horizontal=True, vertical_alignment="bottom"):
        st.session_state["quote by hand"] = by_hand
        st.segmented_control(
            said.PICK,
            list(said.PICKS),
            format_func=said.PICKS.__getitem__,
            key="quote by hand",
            required=True,
            help=said.PICK_HELP,
            on_change=_switch,
            args=(draft,),
        )
        if by_hand:
            draft.hours = [one for one in draft.hours or () if one in points]
            st.session_state["quote hours"] = draft.hours
            st.multiselect(
                said.HOURS,
                list(points),
                format_func=lambda hours: said.hours_option(points[hours]),
                key="quote hours",
                width=420,
                max_selections=5,
                on_change=lambda: setattr(draft, "hours", list(st.session_state["quote hours"])),
            )
        st.session_state["quote day"] = draft.day or date.today()
        st.date_input(
            said.DAY,
            key="quote day",
            format="YYYY-MM-DD",
            help=said.DAY_HELP,
            width=170,
            on_change=lambda: setattr(draft, "day", st.session_state["quote day"]),
        )
    st.session_state["quote appendix"] = draft.appendix
    st.checkbox(
        said.APPENDIX,
        key="quote appendix",
        help=said.APPENDIX_HELP,
        on_change=lambda: setattr(draft, "appendix", bool(st.session_state["quote appendix"])),
    )


def _switch(draft: QuoteDraft) -> None:
    """Go over to options by hand, starting from those by rule; or back."""
    if not st.session_state["quote by hand"]:
        draft.hours = None
    elif draft.made is not None:
        made: Quote = draft.made[1]
        draft.hours = [option.option.design.hours for option in made.options]
    else:
        draft.hours = []


def _made(state: State, draft: QuoteDraft) -> Quote:
    """Return the quote; the last one where nothing of it has changed."""
    company, day = draft.company(), draft.day or date.today()
    key = f"{draft.asked} {draft.hours} {day} {draft.appendix} {company!r}"
    if draft.made is None or draft.made[0] != key:
        with st.spinner(said.WAIT_APPENDIX if draft.appendix else said.WAIT):
            quote = make_quote(
                state.job, hours=draft.hours, company=company, day=day, appendix=draft.appendix
            )
        draft.made = (key, quote)
    found: Quote = draft.made[1]
    return found


def _preview(quote: Quote) -> None:
    """Draw the options, then the lines of each."""
    write = writer_for(quote)
    st.caption(said.valid(quote, write))
    heads = list(said.option_columns(quote.job.site))
    st.markdown(table(heads, said.option_rows(quote, write), "lrr"))
    for note in quote.notes:
        st.markdown(safe(note))
    names = [option.option.name for option in quote.options]
    for tab, option in zip(st.tabs([safe(name) for name in names]), quote.options, strict=True):
        with tab:
            _lines(quote, option, write)
    st.caption(said.not_included(quote.not_included))


def _lines(quote: Quote, option: PricedOption, write: Writer) -> None:
    """Draw an option line by line."""
    st.markdown(f"{said.equipment(option)} {said.opinion(option, write)}")
    for warning in said.warnings(option, write):
        st.markdown(warning)
    left, right = st.columns([3, 2], gap="large")
    currency = quote.job.site.currency
    with left:
        rows = said.line_rows(option.pricing.first, option, write)
        st.markdown(table(said.headings(currency), rows, "lrrr"))
    with right:
        if option.pricing.plan:
            st.markdown(f"**{said.PLAN}**")
            st.markdown(table(said.due_columns(currency), said.due_rows(option, write), "lrr"))
        st.markdown(f"**{said.LATER}**")
        later = said.later_rows(quote, option, write)
        if later:
            st.markdown(table(said.later_columns(currency), later, "llr"))
        else:
            st.markdown(said.NOTHING_LATER)


def _take_along(draft: QuoteDraft, quote: Quote) -> None:
    """Draw the downloads; each file is made when it is asked for."""
    st.markdown(f"**{said.TAKE_CUSTOMER}**")
    with st.container(horizontal=True):
        for ending, kind in _KINDS.items():
            _file(
                said.FORMATS[ending],
                f"quote{ending}",
                kind,
                partial(customer_bytes, quote, draft.logo, ending),
            )
    st.markdown(f"**{said.TAKE_INSTALLER}**")
    with st.container(horizontal=True):
        for ending in (".xlsx", ".csv"):
            _file(
                f"{said.MARGINS} {said.FORMATS[ending]}",
                f"margins{ending}",
                _KINDS[ending],
                partial(installer_bytes, quote, ending),
            )
    st.markdown(f"**{said.TAKE_BUILT}**")
    with st.container(horizontal=True):
        for option in quote.options:
            _file(
                safe(option.option.name),
                f"as-built-{option.option.design.hours}h.toml",
                "application/toml",
                option.as_built.encode(),
            )


def _file(label: str, file: str, kind: str, make: Callable[[], bytes] | bytes) -> None:
    st.download_button(label, make, file, kind, on_click="ignore")


def customer_bytes(quote: Quote, logo: tuple[str, bytes] | None, ending: str) -> bytes:
    """Return the customer's file; a logo is a file on the disk only while the PDF is drawn."""
    if logo is None or ending != ".pdf":
        return quote_bytes(quote, ending)
    with TemporaryDirectory() as folder:
        company = with_logo(quote.company, logo, folder)
        return quote_bytes(replace(quote, company=company), ending)
