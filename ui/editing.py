"""Tables that are typed into: what an editor reports → rows, and back.

An editor keeps its own changes on top of the rows it started from. Those rows stay the same while
it is open; feeding its result back to it would lose every second change.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import streamlit as st

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from ui.state import State

Rows = list[dict[str, Any]]


def apply_edits(rows: Sequence[Mapping[str, Any]], edits: Mapping[str, Any]) -> Rows:
    """Return rows after an editor's changes.

    Parameters
    ----------
    rows : sequence of mapping
        What the editor started from.
    edits : mapping
        ``edited_rows`` by place, ``added_rows``, ``deleted_rows`` by place.

    Examples
    --------
    >>> apply_edits([{"w": 1}, {"w": 2}], {"edited_rows": {1: {"w": 5}}, "deleted_rows": [0]})
    [{'w': 5}]
    """
    found = [dict(row) for row in rows]
    for place, changes in edits.get("edited_rows", {}).items():
        found[int(place)].update(changes)
    gone = set(edits.get("deleted_rows", ()))
    found = [row for place, row in enumerate(found) if place not in gone]
    names = list(rows[0]) if rows else []
    for added in edits.get("added_rows", ()):
        found.append({**dict.fromkeys(names), **added})
    return found


def editor(
    state: State,
    name: str,
    rows: Rows,
    config: dict[str, Any],
    take: Callable[[Rows], None],
    *,
    fixed: bool = False,
) -> None:
    """Draw a table to type into.

    Parameters
    ----------
    state : State
        The session's.
    name : str
        Of the table.
    rows : list of dict
        What it shows when it is opened or starts afresh; at least the column names.
    config : dict
        Streamlit's description of the columns.
    take : callable
        Given the rows after each change.
    fixed : bool
        Whether rows neither come nor go.
    """
    import pandas as pd  # noqa: PLC0415 - only where a table is drawn

    source: Rows = state.edited.setdefault(name, rows)
    widget = f"{name} {state.generation}"
    frame = pd.DataFrame(source, columns=list(config))
    st.data_editor(
        frame,
        key=widget,
        column_config=config,
        num_rows="fixed" if fixed else "dynamic",
        hide_index=True,
        width="stretch",
        height=3 + 35 * (len(source) + 2 - fixed),
        placeholder="",
        on_change=lambda: take(apply_edits(source, st.session_state[widget])),
    )


def number_rows(state: State, section: str, key: str, headings: Sequence[str]) -> None:
    """Draw a key of the site that holds rows of numbers, such as ``[[2.5, 160], [20, 1.5]]``."""
    names = [str(place) for place in range(len(headings))]
    rows: Rows = [
        dict(zip(names, row, strict=True)) for row in state.draft.site.get(section, {}).get(key, ())
    ]
    column = st.column_config.NumberColumn
    config = {
        name: column(heading, min_value=0.0, format="%g", required=True)
        for name, heading in zip(names, headings, strict=True)
    }

    def take(new: Rows) -> None:
        typed = [[row.get(name) or 0.0 for name in names] for row in new]
        state.set_key(section, key, typed or None)

    editor(state, key, rows, config, take)
