"""The choices that read a supplier's list: which column is which, in what unit, which rows."""

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import Any, Final

import streamlit as st

from optimizer.inputs.chemistry import load_chemistries
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.supplier_list import SupplierList
from optimizer.inputs.typed import in_percent
from optimizer.suppliers.first_guess import DATE_FORMS, cells_under, several_numbers, words_of
from optimizer.suppliers.list_draft import ListDraft
from optimizer.suppliers.mapping import ORIGIN
from optimizer.suppliers.units import units_for
from ui import words
from ui.bound import bound
from ui.fields import told, unit_of
from ui.look import safe
from ui.state import State
from ui.words import supplier as said

#: Stands for "the same in every row" among the columns of theirs; no heading is a single space.
_VALUE: Final = " "
_MOST_WORDS: Final = 24
#: A template of the user's own begins like this.
_ANY: Final = "#*"


def column_label(state: State, table: str, ours: str) -> str:
    """Return one of our columns in words, with its unit; a share is read as the list writes it."""
    facts, name = TABLES[table].columns[ours], words.PRICE_COLUMNS[ours]
    unit = "" if in_percent(facts) else unit_of(facts, state.write.currency)
    return f"{name}, {unit}" if unit else name


def column_choice(state: State, draft: ListDraft, supplier: SupplierList, ours: str) -> None:
    """Draw where one of our columns comes from."""
    one, known = draft.columns[ours], TABLES[draft.head["table"]].columns[ours]
    headings = [name for name in draft.headings if name]
    if one.get("column") and one["column"] not in headings:
        headings.append(one["column"])  # of a mapping for another list: named, then at fault
    with st.container(
        key=f"supplier_row_{ours}", horizontal=True, vertical_alignment="bottom", gap="small"
    ):
        bound(
            st.selectbox,
            column_label(state, draft.head["table"], ours),
            f"supplier column {ours}",
            _VALUE if "value" in one else one.get("column"),
            partial(_set_column, draft, ours),
            names={**{name: name for name in headings}, _VALUE: said.ONE_VALUE},
            index=None,
            placeholder=said.NOT_CHOSEN if known.required else said.NOT_THERE,
            help=told(known.told),
            width=215,
        )
        if "value" in one:
            _value(state, draft, ours)
        elif one.get("column"):
            _details(draft, supplier, ours)
    _words(state, draft, ours, _cells(draft, supplier, ours))


def _set_column(draft: ListDraft, ours: str, picked: str | None) -> None:
    draft.choose(ours, None if picked == _VALUE else picked)
    if picked == _VALUE:
        draft.set_detail(ours, "value", "")


def _known(state: State, draft: ListDraft, ours: str) -> tuple[str, ...]:
    """Return the words that a column of ours takes, the job's chemistries among them."""
    if ours != "chemistry":
        return words_of(draft.head["table"], ours)
    held = [battery.chemistry for battery in state.job.catalog.batteries]
    return tuple(dict.fromkeys([*load_chemistries(), *held]))


def _detail(
    draft: ListDraft,
    ours: str,
    key: str,
    label: str,
    held: str | None,
    *,
    draw: Callable[..., Any] = st.selectbox,
    **settings: Any,  # noqa: ANN401 - the widget's own
) -> None:
    """Draw a detail of one of our columns."""
    take = partial(draft.set_detail, ours, key)
    bound(draw, label, f"supplier {key} {ours}", held, take, **settings)


def _value(state: State, draft: ListDraft, ours: str) -> None:
    """Draw the one value of every row."""
    held: str | None = str(draft.columns[ours]["value"])
    draw: Any = st.text_input
    if known := _known(state, draft, ours):
        draw = partial(st.selectbox, options=known, index=None)
        held = held if held in known else None
    _detail(draft, ours, "value", said.VALUE, held, draw=draw, width=220)


def _details(draft: ListDraft, supplier: SupplierList, ours: str) -> None:
    """Draw what there is to say of a column of theirs: unit, piece of the cell, form of dates."""
    one, column = draft.columns[ours], TABLES[draft.head["table"]].columns[ours]
    unit, piece, dates = one.get("unit", ""), one.get("piece", ""), one.get("dates", "")
    units = units_for(column)
    if len(units) > 1 and column.kind.is_numeric:
        names = {name: name for name in ["", *units, unit]} | {"": said.UNIT_NAMED}
        _detail(draft, ours, "unit", said.UNIT, unit, names=names, width=130)
    if column.kind.is_numeric and (piece or several_numbers(supplier, draft.head, one["column"])):
        template = _ANY if piece in said.PIECES else piece
        names = {**said.PIECES, template: said.BY_TEMPLATE}
        _detail(draft, ours, "piece", said.PIECE, piece, names=names, width=165)
        if piece == template:
            bound(
                st.text_input,
                said.TEMPLATE,
                f"supplier template {ours}",
                piece,
                partial(draft.set_detail, ours, "piece"),
                width=220,
                help=said.TEMPLATE_HELP,
            )
    if column.kind == "day":
        forms = {form: date(2026, 1, 31).strftime(form) for form in ["", *DATE_FORMS, dates]}
        names = forms | {"": said.ISO_DATES}
        _detail(draft, ours, "dates", said.DATES, dates, names=names, width=160)


def _words(state: State, draft: ListDraft, ours: str, cells: tuple[str, ...]) -> None:
    """Draw what each word of theirs means, where ours takes only some words."""
    known = _known(state, draft, ours)
    if not known or all(cell in known for cell in cells):
        return
    meant = _meant(draft, ours)
    with st.container(key=f"supplier_words_{ours}", horizontal=True, vertical_alignment="bottom"):
        for cell in cells[:_MOST_WORDS]:
            bound(
                st.selectbox,
                safe(said.translated(state.write, cell)),
                f"supplier word {ours} {cell}",
                meant.get(cell.casefold()),
                partial(draft.translate, ours, cell),
                options=known,
                index=None,
                width=170,
                placeholder=said.NOT_CHOSEN_WORD,
            )


def _meant(draft: ListDraft, ours: str) -> dict[str, str]:
    """Return what words of theirs, in small letters, stand for."""
    meant: dict[str, str] = draft.columns[ours].get("values", {})
    return {theirs.casefold(): mine for theirs, mine in meant.items()}


def _cells(draft: ListDraft, supplier: SupplierList, ours: str) -> tuple[str, ...]:
    """Return what stands in their column, where whole cells are taken from one."""
    one = draft.columns[ours]
    if not one.get("column") or one.get("piece"):
        return ()
    return cells_under(supplier, draft.head, one["column"], draft.filter)


def untranslated(state: State, draft: ListDraft, supplier: SupplierList) -> list[str]:
    """Return words of theirs that still stand for none of ours."""
    return [
        cell
        for ours in draft.columns
        if (known := _known(state, draft, ours))
        for cell in _cells(draft, supplier, ours)
        if cell not in known and cell.casefold() not in _meant(draft, ours)
    ]


def more_columns(state: State, draft: ListDraft) -> None:
    """Draw the choice of further columns of ours."""
    table = draft.head["table"]
    known = TABLES[table].columns
    extra = [name for name, one in known.items() if not one.required and name not in ORIGIN]
    if not extra:
        return
    bound(
        st.multiselect,
        said.MORE,
        "supplier more",
        [name for name in extra if name in draft.columns],
        draft.want,
        names={name: column_label(state, table, name) for name in extra},
        help=said.MORE_HELP,
    )


def filters(draft: ListDraft, supplier: SupplierList) -> None:
    """Draw which rows are taken, and which are left out."""
    for held, key, ask, help_, wanted_words in (
        (draft.filter, "filter", said.FILTERS, said.FILTERS_HELP, said.FILTER_WORDS),
        (draft.exclude, "exclude", said.EXCLUDES, said.EXCLUDES_HELP, said.EXCLUDE_WORDS),
    ):
        headings = [name for name in draft.headings if name]
        headings += [name for name in held if name not in headings]
        with st.container(key=f"supplier_{key}", horizontal=True, vertical_alignment="bottom"):
            bound(
                st.multiselect,
                ask,
                f"supplier {key}s",
                list(held),
                partial(_choose, held),
                options=list(dict.fromkeys(headings)),
                help=help_,
                width=400,
            )
            for name, wanted in held.items():
                cells = cells_under(supplier, draft.head, name)
                bound(
                    st.multiselect,
                    f"{safe(name)} {wanted_words}",
                    f"supplier {key} {name}",
                    wanted,
                    partial(held.__setitem__, name),
                    options=list(dict.fromkeys([*cells, *wanted])),
                    accept_new_options=True,
                    width=400,
                )


def _choose(held: dict[str, list[str]], names: list[str]) -> None:
    chosen = {name: held.get(name, []) for name in names}
    held.clear()
    held.update(chosen)
