"""What a supplier charges: their own list, read by choices that can be used again."""

from functools import partial
from typing import Any, Final

import streamlit as st

from optimizer import InputError
from optimizer.files.place import Held
from optimizer.inputs.columns import columns_of
from optimizer.inputs.mapping_keys import ListKeys
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.supplier_list import SupplierList, read_fullest, read_list
from optimizer.suppliers.list_draft import ListDraft
from optimizer.suppliers.mapping import read_mapping
from ui import words
from ui.apart import read_apart
from ui.bound import bound
from ui.fields import aside, cell
from ui.look import prose, safe
from ui.questions.supplier_columns import column_choice, filters, more_columns
from ui.questions.supplier_result import result
from ui.state import State
from ui.transfer import File, uploader
from ui.words import supplier as said

_KEY: Final = "supplier"


def draw(state: State) -> None:
    """Draw the question."""
    draft: ListDraft = st.session_state.setdefault(_KEY, ListDraft())
    left, right = st.columns(2, gap="large")
    with left:
        uploader(
            state,
            "supplier list",
            said.LIST_FILE,
            ["csv", "xlsx"],
            partial(_take_list, state, draft),
            help=said.LIST_HELP,
        )
    with right:
        uploader(
            state,
            "supplier map",
            said.MAP_FILE,
            ["toml"],
            partial(_take_map, draft),
            help=said.MAP_HELP,
        )
    if draft.supplier is None:
        if draft.mapped:
            st.markdown(said.MAP_ALONE)
        return
    _came(state, draft, draft.supplier)
    _head(state, draft, draft.supplier)
    filters(draft, draft.supplier)
    st.subheader(said.WHICH)
    names = list(draft.columns)
    half = (len(names) + 1) // 2
    for place, part in zip(st.columns(2, gap="large"), (names[:half], names[half:]), strict=True):
        with place:
            for ours in part:
                column_choice(state, draft, draft.supplier, ours)
    more_columns(state, draft)
    result(state, draft, draft.supplier)


def _take_list(state: State, draft: ListDraft, file: File) -> None:
    supplier = _read(draft, file, draft.head.get("sheet")) if draft.mapped else None
    mapped = supplier is not None
    draft.supplier = supplier or read_apart(file, read_fullest, _place(file))
    draft.file, draft.mapped = file, mapped
    draft.leave_out, draft.taken, draft.refused = False, False, None
    if not mapped:
        draft.head = {"table": "batteries", "currency": state.job.site.currency}
        if len(draft.supplier.sheets) > 1:
            draft.head["sheet"] = draft.supplier.sheet
        draft.guess()


def _place(file: File) -> Held:
    name, raw = file
    return Held({name: raw}, name)


def _read(draft: ListDraft, file: File, sheet: str | None) -> SupplierList | None:
    """Return a list; None where it has no such sheet, and the one before it is taken in."""
    try:
        return read_apart(file, read_list, _place(file), sheet)
    except InputError:
        if not draft.taken:
            raise
        return None


def _put_away(state: State) -> None:
    st.session_state[_KEY] = ListDraft()
    state.refresh()


def _take_map(draft: ListDraft, file: File) -> None:
    mapping = read_mapping(_place(file))
    if draft.file is not None:
        draft.supplier = _read(draft, draft.file, mapping.sheet)
        draft.file = draft.file if draft.supplier else None
    draft.take(mapping)


def _switch_sheet(draft: ListDraft, sheet: str) -> None:
    if draft.file is None:
        return
    draft.supplier = read_apart(draft.file, read_list, _place(draft.file), sheet)
    draft.head |= {"sheet": sheet, "heading_row": None}
    draft.head.pop("heading_rows", None)
    draft.guess()


def _came(state: State, draft: ListDraft, supplier: SupplierList) -> None:
    """Draw the list as it came, rows numbered as in a spreadsheet."""
    import pandas as pd  # noqa: PLC0415 - only where a table is drawn
    from xlsxwriter.utility import xl_col_to_name  # noqa: PLC0415 - likewise

    heading = supplier.heading_row(draft.head.get("heading_row"))
    filled = sum(1 for row in supplier.rows[heading:] if any(row))
    prose(said.list_found(state.write, supplier.file, filled, heading, mapped=draft.mapped))
    st.button(said.AWAY, on_click=_put_away, args=(state,), type="tertiary")
    with st.expander(said.AS_IT_CAME):
        wide = max(map(len, supplier.rows))
        rows = [(*row, *[""] * (wide - len(row))) for row in supplier.rows]
        frame = pd.DataFrame(rows, columns=[*map(xl_col_to_name, range(wide))])
        frame.index = pd.RangeIndex(1, len(rows) + 1)
        st.dataframe(frame, width="stretch", placeholder="")


def _head(state: State, draft: ListDraft, supplier: SupplierList) -> None:
    """Draw what holds for the whole list."""
    ours, head = state.job.site.currency, draft.head

    def typed(key: str, label: str, help: str, **settings: Any) -> None:  # noqa: ANN401 - the widget's own
        facts = columns_of(ListKeys)[key]
        held: Any = head.get(key) or facts.default
        cell(
            state,
            facts,
            label,
            f"supplier {key}",
            held=held,
            put=aside(partial(draft.set_head, key)),
            help=help,
            **settings,
        )

    with st.container(key="supplier_head", horizontal=True):
        bound(
            st.selectbox,
            said.TABLE,
            "supplier table",
            head["table"],
            partial(_switch_table, draft),
            names={name: words.TABLES[name] for name in TABLES},
            width=190,
        )
        bound(
            st.text_input,
            said.CURRENCY,
            "supplier currency",
            head.get("currency", ""),
            lambda typed: draft.set_head("currency", typed.strip().upper()),
            max_chars=3,
            width=110,
            help=said.CURRENCY_HELP,
        )
        if head.get("currency") != ours:
            told = safe(said.exchange(state.write, head.get("currency", ""), ours))
            typed("exchange", told, said.EXCHANGE_HELP, width=150)
        typed("factor", said.FACTOR, said.FACTOR_HELP, width=150)
        if len(supplier.sheets) > 1:
            bound(
                st.selectbox,
                said.SHEET,
                "supplier sheet",
                supplier.sheet,
                partial(_switch_sheet, draft),
                options=supplier.sheets,
                width=190,
            )
        row = str(supplier.heading_row(None))
        typed("heading_row", said.HEADING_ROW, said.HEADING_ROW_HELP, placeholder=row, width=170)
        typed("heading_rows", said.HEADING_ROWS, said.HEADING_ROWS_HELP, width=130)
        bound(
            st.selectbox,
            said.DECIMALS,
            "supplier decimals",
            head.get("decimals") or "",
            partial(draft.set_head, "decimals"),
            names=said.DECIMAL_FORMS,
            width=190,
            help=said.DECIMALS_HELP,
        )


def _switch_table(draft: ListDraft, name: str) -> None:
    draft.head["table"] = name
    draft.guess()
