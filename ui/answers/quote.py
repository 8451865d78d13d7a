"""A quote: options off the curve, priced, to be taken along; made only when it is asked for."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from functools import partial

import streamlit as st

from optimizer import InputError, make_quote
from optimizer.quote import PricedOption, Quote
from optimizer.report.grids import quote as grids
from optimizer.report.quote import (
    ELECTRICIAN_ENDINGS,
    ENDINGS,
    check_letters,
    electrician_bytes,
    installer_bytes,
    quote_bytes,
)
from optimizer.report.words import letter, quote_lines
from optimizer.report.words import quote as library
from optimizer.report.words.writer import Writer
from ui import cached
from ui.answers.quote_sender import QuoteDraft, sender
from ui.bound import bound, side_by_side
from ui.cached import Curves
from ui.failures import failing
from ui.look import prose, safe, tables
from ui.state import State
from ui.transfer import download, faults
from ui.words import quote as said


def draw(state: State, found: Curves) -> None:
    """Draw the section: one button at first, then choices, preview and downloads."""
    with st.container(key="quote_section"):
        st.header(said.LEAVE)
        _section(state, found)


def _section(state: State, found: Curves) -> None:
    draft: QuoteDraft = st.session_state.setdefault("quote", QuoteDraft())
    now = cached.fingerprint(state.good)
    if draft.asked is None:
        st.markdown(said.LEAVE_HELP)
        st.button(said.MAKE, on_click=setattr, args=(draft, "asked", now))
        return
    _options(state, draft, found)
    with st.expander(said.SENDER):
        sender(state, draft)
    if draft.asked != now:
        st.markdown(said.STALE)
        st.button(said.MAKE_AGAIN, on_click=setattr, args=(draft, "asked", now))
        return
    with failing(st.error, said.FAILED):
        try:
            quote = _made(state, draft)
        except InputError as error:
            st.warning(said.NOT_PRICED)
            faults(error.faults)
            return
        _preview(quote)
        _take_along(draft, quote)


def _options(state: State, draft: QuoteDraft, found: Curves) -> None:
    """Draw which options are put before the customer, and on which day."""
    points = {point.hours: point for point in found.overall.points}
    by_hand = draft.hours is not None
    with st.container(key="quote_options", horizontal=True, vertical_alignment="bottom"):
        bound(
            side_by_side,
            said.PICK,
            "quote by hand",
            by_hand,
            partial(_switch, draft),
            names=said.PICKS,
            help=said.PICK_HELP,
        )
        if by_hand:
            draft.hours = [one for one in draft.hours or () if one in points]
            bound(
                st.multiselect,
                said.HOURS,
                "quote hours",
                draft.hours,
                partial(setattr, draft, "hours"),
                names={hours: said.hours_option(state.write, one) for hours, one in points.items()},
                width=420,
                max_selections=5,
            )
        bound(
            st.date_input,
            said.DAY,
            "quote day",
            draft.day or date.today(),
            partial(setattr, draft, "day"),
            format="YYYY-MM-DD",
            help=said.DAY_HELP,
            width=170,
        )
    draft.appendix = st.checkbox(
        said.APPENDIX, key="quote appendix", help=said.APPENDIX_HELP, persist_state="session"
    )


def _switch(draft: QuoteDraft, by_hand: bool) -> None:
    """Go over to options by hand, starting from those by rule; or back."""
    if not by_hand:
        draft.hours = None
    elif draft.made is not None:
        draft.hours = [one.design.hours for one in draft.made[1].options]
    else:
        draft.hours = []


def _made(state: State, draft: QuoteDraft) -> Quote:
    """Return the quote; the last one where nothing of it has changed."""
    company, day = draft.company(), draft.day or date.today()
    key = f"{draft.asked} {draft.hours} {day} {draft.appendix} {company!r}"
    if draft.made is None or draft.made[0] != key:
        with st.spinner(said.WAIT_APPENDIX if draft.appendix else said.WAIT):
            quote = make_quote(
                state.job, options=draft.hours, company=company, day=day, appendix=draft.appendix
            )
        draft.made = (key, quote)
    return draft.made[1]


def _preview(quote: Quote) -> None:
    """Draw the options, then the lines of each."""
    write = _writer(quote)
    st.caption(safe(f"{letter.title(write, quote.company)}. {letter.validity(write, quote)}"))
    tables(write, grids.options(write, quote))
    for text in library.beside(write, quote):
        prose(text)
    for tab, option in zip(st.tabs(_option_names(quote)), quote.options, strict=True):
        with tab:
            _lines(quote, option, write)
    st.caption("; ".join(map(safe, letter.not_included(write, quote))))


def _option_names(quote: Quote) -> list[str]:
    write = _writer(quote)
    return [safe(library.option_name(write, one.design)) for one in quote.options]


def _writer(quote: Quote) -> Writer:
    """Return what writes as the customer reads."""
    return Writer(quote.job.site.currency, quote.company.locale)


def _lines(quote: Quote, option: PricedOption, write: Writer) -> None:
    """Draw an option line by line."""
    pricing = option.pricing
    prose(library.simulation(write, option.verdict))
    for old in option.old_prices:
        prose(quote_lines.old_price(write, old))
    left, right = st.columns([3, 2], gap="large")
    with left:
        tables(write, grids.price(write, pricing.first))
    with right:
        for grid in (grids.plan(write, pricing), grids.replacements(write, quote, pricing)):
            if grid.rows:
                st.markdown(f"**{safe(grid.title)}**")
                tables(write, grid)


def _take_along(draft: QuoteDraft, quote: Quote) -> None:
    """Draw the downloads; each file is made when it is asked for."""
    endings = list(ENDINGS)
    try:
        check_letters(quote)
    except InputError as error:  # the other files hold any letter
        faults(error.faults)
        endings.remove(".pdf")
    electrician = [ending for ending in endings if ending in ELECTRICIAN_ENDINGS]
    customer = partial(customer_bytes, quote, draft.logo)
    _files(said.TAKE_CUSTOMER, "", "quote", customer, endings)
    make = partial(electrician_bytes, quote)
    _files(said.TAKE_ELECTRICIAN, said.CIRCUIT, "quote-electrician", make, electrician)
    make = partial(installer_bytes, quote)
    _files(said.TAKE_INSTALLER, said.MARGINS, "margins", make, [".xlsx", ".csv"])
    st.markdown(f"**{said.TAKE_BUILT}**")
    with st.container(horizontal=True):
        names = _option_names(quote)
        for label, (name, text) in zip(names, quote.as_built_files.items(), strict=True):
            download(label, partial(str, text), name)


def _files(
    heading: str, what: str, name: str, make: Callable[[str], bytes], endings: Sequence[str]
) -> None:
    """Draw the downloads of one paper in some forms."""
    st.markdown(f"**{heading}**")
    with st.container(horizontal=True):
        for ending in endings:
            label = f"{what} {ending[1:].upper()}".strip()
            download(label, partial(make, ending), f"{name}{ending}")


def customer_bytes(quote: Quote, logo: tuple[str, bytes] | None, ending: str) -> bytes:
    """Return the customer's file, with the logo dropped in."""
    if logo is not None:
        quote = replace(quote, company=replace(quote.company, logo=logo[1]))
    return quote_bytes(quote, ending)
