"""How the page looks; how sentences, tables and charts are drawn, what people write safely."""

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from html import escape
from pathlib import Path
from typing import Any, Final

import altair as alt
import streamlit as st

from optimizer.report.charts.canvas import Canvas
from optimizer.report.charts.theme import PALETTES
from optimizer.report.grids.grid import Grid
from optimizer.report.markdown import table
from optimizer.report.words.faults import said
from optimizer.report.words.glossary import Term
from optimizer.report.words.writer import Writer, plain
from ui import words
from ui.failures import failing, report
from ui.language import PLAIN

_STYLE: Final = Path(__file__).with_name("style.css")
_SCRIPT: Final = Path(__file__).with_name("script.html")
#: Invisible; keeps what looks like an address, a directive or a symbol from being taken for one.
_JOINER: Final = "\u2060"
_SPECIAL: Final = re.compile(r"([\\`*_{}\[\]()#+\-.!|<>~$&\"'])")
_ADDRESS: Final = re.compile(r"(?i)(:(?=//|[a-z])|www(?=\.)|@)")


def canvas(write: Writer, *, height: int | None = None, alone: bool = False) -> Canvas:
    """Return what a chart is drawn on in the reader's own theme, or one ``alone`` in a file."""
    palette = PALETTES.get(str(st.context.theme.type), PALETTES["light"])
    return Canvas(palette, write, height=height, alone=alone)


def page(title: str, draw: Callable[[], None]) -> None:
    """Draw a page; whatever goes wrong, it stays usable and its log says nothing of the job.

    Over it lie the project's own style sheet and script; nothing of the user's goes in there.
    """
    st.set_page_config(page_title=title, layout="wide", initial_sidebar_state="collapsed")
    st.html(_STYLE)
    st.html(f'<div id="keeplit-gone" hidden>{escape(words.GONE)}</div>')
    st.html(_SCRIPT, unsafe_allow_javascript=True)
    try:
        draw()
    except Exception as error:  # a person must not lose the page to a bug in it
        report(error)
        st.error(words.PAGE_FAILED)


def safe(text: str) -> str:
    r"""Return a text that shows as itself in Markdown: no picture, link, colour or formula.

    >>> safe("![x](http://a.b)") == "\\!\\[x\\]\\(http:\u2060//a\\.b\\)"
    True
    """
    marked = _ADDRESS.sub(lambda found: found[0] + _JOINER, plain(text))
    return _SPECIAL.sub(r"\\\1", marked)


def shown(grid: Grid, write: Writer) -> str:
    """Return a grid as Markdown; its title heads a column that alone has no heading."""
    if any(one.title for one in grid.columns):
        columns = [replace(one, title=one.title or grid.title) for one in grid.columns]
        grid = replace(grid, columns=columns)
    return table(grid, write, safe)


def prose(*sentences: str) -> None:
    """Draw sentences one after another."""
    st.markdown(safe(" ".join(sentence for sentence in sentences if sentence)))


def points(sentences: Iterable[str]) -> None:
    """Draw sentences one below another."""
    st.markdown("\n".join(f"- {safe(sentence)}" for sentence in sentences))


def tables(write: Writer, *grids: Grid, folded: str | None = None) -> None:
    """Draw tables; ``folded`` under a heading that opens them."""
    with st.container() if folded is None else st.expander(folded):
        for grid in grids:
            st.markdown(shown(grid, write))


def part(heading: str, draw: Callable[[], None], used: Sequence[Term] = ()) -> None:
    """Draw a part that opens by its heading, with the trade terms it uses.

    What is folded is not worked out; one that fails leaves the others.
    """
    opened = st.expander(heading, key=f"part {heading}", on_change="rerun")
    if not opened.open:
        return
    with opened, failing(st.error, words.PART_FAILED):
        draw()
        if used:
            with st.popover(words.TERMS, type="tertiary"):
                for one in used:
                    called, meaning = said(PLAIN, one.called), said(PLAIN, one.meaning)
                    st.markdown(f"**{safe(called)}**: {safe(meaning)}")


def raw_rows(rows: Sequence[Sequence[str]], names: Sequence[str]) -> None:
    """Draw a file's rows as they stand there: numbers to the right, texts to the left."""
    import pandas as pd  # noqa: PLC0415 - only where a table is drawn

    frame = pd.DataFrame(list(rows), columns=list(names))
    for name in names:
        numbers = pd.to_numeric(frame[name], errors="coerce")
        if numbers.notna().equals(frame[name] != ""):
            frame[name] = numbers
    st.dataframe(frame, hide_index=True, width="stretch", placeholder="")


def chart(drawn: alt.LayerChart, alt_text: str) -> None:
    """Draw a chart that is only looked at."""
    st.vega_lite_chart(spec(drawn), theme=None, width="stretch", alt=alt_text)


def spec(drawn: alt.LayerChart) -> dict[str, Any]:
    """Return a chart as data, unchecked, each layer with its own rows.

    Rows under a name the framework would make a frame of, and an Arrow file of that.
    """
    found = drawn.to_dict(validate=False)
    named = found.pop("datasets", {})
    for layer in found["layer"]:
        layer["data"] = {"values": named[layer["data"]["name"]]}
    return found
