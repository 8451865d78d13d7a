"""Who leaves a quote: a company file dropped in, fields on top of it, a logo."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date
from functools import partial
from typing import TYPE_CHECKING, Any, Final

import streamlit as st

from optimizer import InputError
from optimizer.files.place import Held
from optimizer.inputs.columns import columns_of
from optimizer.inputs.company_keys import SECTIONS
from optimizer.inputs.sections import read_toml
from optimizer.quote import Company, company_from
from optimizer.quote.company import check_logo
from ui.bound import bound, choice
from ui.fields import aside
from ui.uploads import uploader
from ui.words import quote as said

if TYPE_CHECKING:
    from optimizer.errors import Fault
    from ui.state import State

_KEY: Final = "quote"
#: What holds where nothing is said.
_PLAIN: Final = Company()
#: Fields of text: their section and width.
_TEXTS: Final = {
    "name": ("company", 270),
    "number": ("quote", 150),
    "customer": ("quote", 270),
    "locale": ("quote", 190),
}


@dataclass
class QuoteDraft:
    """What a quote is to be, one session's.

    Parameters
    ----------
    asked : str or None
        The job that was to be priced; None before it is asked for.
    hours : list of int or None
        Options picked by hand; by rule where None.
    content : dict
        The company file's content.
    logo : (str, bytes) or None
        A picture's name and content.
    logo_named : bool
        The company file names a logo, which is no file of this machine's to open.
    day : date or None
        Day of the quote; today where None.
    appendix : bool
        Whether it has one.
    made : (str, Quote) or None
        The last quote made, and what it was made of.
    """

    asked: str | None = None
    hours: list[int] | None = None
    content: dict[str, dict[str, Any]] = field(default_factory=dict)
    logo: tuple[str, bytes] | None = None
    logo_named: bool = False
    day: date | None = None
    appendix: bool = False
    made: tuple[str, Any] | None = None

    def company(self) -> Company:
        """Return the company, without its logo; InputError where the details are at fault."""
        content = {name: dict(section) for name, section in self.content.items()}
        named = bool(content.get("company", {}).get("name"))
        if not named:  # a company file needs a name; a quote can be looked at without one
            content.setdefault("company", {})["name"] = "-"
        found = company_from(content)
        return found if named else replace(found, name=None)


def quote_draft() -> QuoteDraft:
    """Return this session's."""
    if _KEY not in st.session_state:
        st.session_state[_KEY] = QuoteDraft()
    found: QuoteDraft = st.session_state[_KEY]
    return found


def sender(state: State, draft: QuoteDraft) -> None:
    """Draw the company's details."""
    left, right = st.columns(2, gap="large")
    with left:
        uploader(
            state,
            "company",
            said.COMPANY_FILE,
            ["toml"],
            lambda files: _take(draft, *files[0]),
            help=said.COMPANY_HELP,
        )
    with right:
        uploader(
            state,
            "logo",
            said.LOGO_FILE,
            ["png", "jpg", "jpeg"],
            lambda files: _take_logo(draft, *files[0]),
            help=said.LOGO_HELP,
        )
        if draft.logo is not None:
            st.button(said.LOGO_OUT, on_click=lambda: setattr(draft, "logo", None))
        elif draft.logo_named:
            st.caption(said.LOGO_APART)
    with st.container(key="quote_sender", horizontal=True):
        for key, (section, width) in _TEXTS.items():
            _text(draft, section, key, width)
        _number(state, draft, "quote", "valid_days", str(_PLAIN.valid_days))
        _number(state, draft, "payment", "deposit")
        _markup(draft)


def _take(draft: QuoteDraft, name: str, raw: bytes) -> None:
    found: list[Fault] = []
    source = read_toml(Held({name: raw}, name), "a company file", found)
    if source is None:
        raise InputError(found)
    content = {
        key: dict(value) if isinstance(value, dict) else value
        for key, value in source.content.items()
    }
    company = content.get("company")
    logo = company.pop("logo", None) if isinstance(company, dict) else None
    try:
        company_from(content)
    except InputError as error:
        raise InputError(
            replace(fault, file=name, row=source.lines.get(fault.column or ""))
            for fault in error.faults
        ) from None
    draft.content, draft.logo_named = content, logo is not None


def _take_logo(draft: QuoteDraft, name: str, raw: bytes) -> None:
    check_logo(name, raw)
    draft.logo = (name, raw)


def _text(draft: QuoteDraft, section: str, key: str, width: int) -> None:
    label, help_text = said.FIELDS[key]
    bound(
        st.text_input,
        label,
        f"quote {key}",
        str(draft.content.get(section, {}).get(key, "")),
        lambda typed: _set(draft, section, key, str(typed).strip() or None),
        help=help_text,
        width=width,
        max_chars=120,
        placeholder=_PLAIN.locale if key == "locale" else None,
    )


def _number(
    state: State, draft: QuoteDraft, section: str, key: str, usual: str | None = None
) -> None:
    label, help_text = said.FIELDS[key]
    aside(
        state,
        columns_of(SECTIONS[section])[key],
        label,
        f"quote {key}",
        held=draft.content.get(section, {}).get(key),
        take=partial(_set, draft, section, key),
        may_be_blank=True,
        help=help_text,
        width=150,
        placeholder=usual,
    )


def _markup(draft: QuoteDraft) -> None:
    label, help_text = said.FIELDS["markup"]
    choice(
        label,
        "quote markup",
        said.MARKUPS,
        draft.content.get("quote", {}).get("markup", _PLAIN.markup),
        lambda picked: _set(draft, "quote", "markup", picked),
        help=help_text,
    )


def _set(draft: QuoteDraft, section: str, key: str, value: object) -> None:
    keys = dict(draft.content.get(section, {}))
    keys.pop(key, None)
    if value is not None:
        keys[key] = value
    draft.content = {**draft.content, section: keys}
