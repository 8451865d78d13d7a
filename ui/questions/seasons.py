"""How long each tier is carried, and the seasons that loads may differ by."""

from functools import partial

import streamlit as st

from optimizer.inputs.cells import CellError
from optimizer.inputs.draft import Draft
from optimizer.model.phrase import Phrase
from ui import words
from ui.bound import entry
from ui.fields import cell, facts_of, value
from ui.look import safe
from ui.state import State


def tier_hours(state: State) -> None:
    """Draw after how many hours each tier is let go."""
    held = dict(value(state, "tier_hours") or {})
    tiers = list(value(state, "tiers") or ())
    facts = facts_of("max_hours")
    st.caption(words.TIER_HOURS)

    def put(tier: str, draft: Draft, hours: float | None) -> Draft:
        kept = {**draft.site.get("resilience", {}).get("tier_hours", {}), tier: hours}
        kept = {name: after for name, after in kept.items() if after is not None}
        return draft.with_site("resilience", "tier_hours", kept or None)

    with st.container(key="tier_hours", horizontal=True):
        for tier in tiers:
            cell(
                state,
                facts,
                safe(tier),
                f"tier_hours {tier}",
                held=held.get(tier),
                put=partial(put, tier),
                placeholder=words.NO_LIMIT,
                width=150,
            )


def seasons(state: State) -> None:
    """Draw the seasons and their months, one a line."""
    held = state.draft.site.get("seasons") or {"year": list(range(1, 13))}
    lines = [f"{name}: {', '.join(map(str, months))}" for name, months in held.items()]
    entry(
        state,
        words.SEASONS_TYPED,
        "seasons",
        "\n".join(lines),
        lambda draft, typed: draft.with_section("seasons", months_of(typed)),
        example=words.SEASONS_TYPED_HELP,
        draw=st.text_area,
        height=100,
        help=words.SEASONS_TYPED_HELP,
    )


def months_of(text: str) -> dict[str, list[int]]:
    """Return the months of each season from lines such as ``winter: 10-12, 1-3``."""
    found: dict[str, list[int]] = {}
    for line in filter(None, map(str.strip, text.splitlines())):
        name, _, pieces = line.rpartition(":")
        months: list[int] = []
        for piece in filter(None, (one.strip() for one in pieces.replace(";", ",").split(","))):
            first, _, last = piece.replace("–", "-").partition("-")
            ends = [(one.strip() or first.strip()) for one in (first, last)]
            if not all(one.isdecimal() and len(one) <= len("12") for one in ends):
                raise CellError(Phrase("{found} is no month", found=repr(piece)))
            months += range(int(ends[0]), int(ends[1]) + 1)
        if not name or name in found or not months:
            raise CellError
        found[name] = months
    return found
