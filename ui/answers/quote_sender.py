"""Who leaves a quote: a company file dropped in, fields on top of it, a logo."""

from dataclasses import dataclass, field, replace
from datetime import date
from functools import partial
from typing import Any, Final

import streamlit as st

from optimizer.files.place import Held
from optimizer.inputs.columns import columns_of
from optimizer.inputs.company_keys import SECTIONS
from optimizer.inputs.toml_text import read_toml
from optimizer.quote import Company, Quote, company_from
from optimizer.quote.company import check_logo
from ui.bound import bound, side_by_side
from ui.fields import aside, cell
from ui.state import State
from ui.transfer import File, uploader
from ui.words import quote as said

#: What holds where nothing is said.
_PLAIN: Final = Company()
#: Fields of text: their section and width.
_TEXTS: Final = {
    "name": ("company", 270),
    "number": ("quote", 150),
    "customer": ("quote", 270),
    "locale": ("quote", 190),
}
#: Numbers: their section, key, and what holds where they are blank.
_NUMBERS: Final = (("quote", "valid_days", str(_PLAIN.valid_days)), ("payment", "deposit", None))


@dataclass
class QuoteDraft:
    """What a quote is to be, one session's."""

    #: The job that was to be priced; None before it is asked for.
    asked: str | None = None
    #: Options picked by hand; by rule where None.
    hours: list[int] | None = None
    #: The company file's.
    content: dict[str, dict[str, Any]] = field(default_factory=dict)
    #: A picture's name and content.
    logo: tuple[str, bytes] | None = None
    #: The company file names a logo, which is no file of this machine's to open.
    logo_named: bool = False
    #: Today where None.
    day: date | None = None
    appendix: bool = False
    #: The last quote made, and what it was made of.
    made: tuple[str, Quote] | None = None

    def company(self) -> Company:
        """Return the company, without its logo; InputError where the details are at fault."""
        content = {name: dict(section) for name, section in self.content.items()}
        named = bool(content.get("company", {}).get("name"))
        if not named:  # a company file needs a name; a quote can be looked at without one
            content.setdefault("company", {})["name"] = "-"
        found = company_from(content)
        return found if named else replace(found, name=None)


def sender(state: State, draft: QuoteDraft) -> None:
    """Draw the company's details."""
    left, right = st.columns(2, gap="large")
    with left:
        uploader(
            state,
            "company",
            said.COMPANY_FILE,
            ["toml"],
            partial(_take, draft),
            help=said.COMPANY_HELP,
        )
    with right:
        uploader(
            state,
            "logo",
            said.LOGO_FILE,
            ["png", "jpg", "jpeg"],
            partial(_take_logo, draft),
            help=said.LOGO_HELP,
        )
        if draft.logo is not None:
            st.button(said.LOGO_OUT, on_click=lambda: setattr(draft, "logo", None))
        elif draft.logo_named:
            st.caption(said.LOGO_APART)
    with st.container(key="quote_sender", horizontal=True):
        _details(state, draft)


def _details(state: State, draft: QuoteDraft) -> None:
    """Draw the fields on top of the company file."""
    for key, (section, width) in _TEXTS.items():
        label, help_text = said.FIELDS[key]
        bound(
            st.text_input,
            label,
            f"quote {key}",
            str(draft.content.get(section, {}).get(key, "")),
            partial(_set, draft, section, key),
            help=help_text,
            width=width,
            max_chars=120,
            placeholder=_PLAIN.locale if key == "locale" else None,
        )
    for section, key, usual in _NUMBERS:
        label, help_text = said.FIELDS[key]
        cell(
            state,
            columns_of(SECTIONS[section])[key],
            label,
            f"quote {key}",
            held=draft.content.get(section, {}).get(key),
            put=aside(partial(_set, draft, section, key)),
            help=help_text,
            width=150,
            placeholder=usual,
        )
    label, help_text = said.FIELDS["markup"]
    bound(
        side_by_side,
        label,
        "quote markup",
        draft.content.get("quote", {}).get("markup", _PLAIN.markup),
        partial(_set, draft, "quote", "markup"),
        names=said.MARKUPS,
        help=help_text,
    )


def _take(draft: QuoteDraft, file: File) -> None:
    name, raw = file
    source = read_toml(Held({name: raw}, name), "a company file")
    content = {
        key: dict(value) if isinstance(value, dict) else value
        for key, value in source.content.items()
    }
    company = content.get("company")
    logo = company.pop("logo", None) if isinstance(company, dict) else None
    company_from(content, name, source.lines)
    draft.content, draft.logo_named = content, logo is not None


def _take_logo(draft: QuoteDraft, file: File) -> None:
    check_logo(*file)
    draft.logo = file


def _set(draft: QuoteDraft, section: str, key: str, typed: object) -> None:
    """Change a detail; an empty one goes."""
    value = typed.strip() if isinstance(typed, str) else typed
    keys = {name: held for name, held in draft.content.get(section, {}).items() if name != key}
    if value not in ("", None):
        keys[key] = value
    draft.content = {**draft.content, section: keys}
