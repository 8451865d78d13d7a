"""A mapping file to fill in: every key with a word on it, and what a list itself tells."""

from collections.abc import Mapping
from typing import Any, Final

from optimizer.inputs.columns import Column, columns_of
from optimizer.inputs.commented import LEFT_OPEN, comment, commented_section
from optimizer.inputs.mapping_keys import IGNORE, SKIP, ColumnKeys, ListKeys, WordKeys
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.supplier_list import SupplierList
from optimizer.inputs.toml_text import toml_value
from optimizer.suppliers.first_guess import cells_under, currency_guess, first_guess
from optimizer.suppliers.mapping import ORIGIN

_TITLE: Final = (
    "How a supplier's list becomes a price list's table: keeplit prices THIS.toml LIST -o FOLDER. "
    f"{LEFT_OPEN} Units, currency and words are read from the list's own cells and "
    "headings; what they leave open stops the work and is answered here."
)
_COLUMNS: Final = """\
# Ours = theirs: the heading of their column, or a table with
"""
_FILTERS: Final = """\
# Only rows that say one of these words, by a column of theirs; * stands for any text. For example:
[filter]
# "Group" = ["Stationary", "AGM*"]

# Rows that say one of these are left out. For example:
[exclude]
# "Article" = ["*demo*"]

# What words beside a number mean. For example:
[words]
"""


def mapping_template(table: str, supplier: SupplierList | None = None) -> str:
    """Return a mapping file to fill in for one of our tables; what a list's headings tell is there.

    >>> mapping_template("fuses").splitlines()[-1]
    '# "word" = { unit = "" }           # the unit that the word stands for'
    """
    head: dict[str, Any] = {"table": table, "currency": ""}
    guessed: dict[str, dict[str, Any]] = {}
    if supplier is not None:
        row, rows = supplier.heading_row(None), supplier.heading_rows(None)
        head |= {"heading_row": row} | ({"heading_rows": rows} if rows > 1 else {})
        head |= {"sheet": supplier.sheet} if supplier.sheet else {}
        guessed = first_guess(supplier, table, head)
        theirs = guessed.get(TABLES[table].price, {}).get("column", "")
        head["currency"] = currency_guess(supplier, head, theirs)
        if chemistry := guessed.get("chemistry"):
            cells = cells_under(supplier, head, chemistry["column"])
            chemistry["values"] = dict.fromkeys(cells, "") | chemistry.get("values", {})
    known = TABLES[table].columns
    head |= {name: "" for name in ORIGIN[:1] if name in known and name not in guessed}
    parts = [
        "\n".join(comment(_TITLE)) + "\n",
        commented_section("list", columns_of(ListKeys), head, {}),
        _columns(known, guessed),
    ]
    return "\n".join([*parts, _FILTERS + "\n".join(_words())]) + "\n"


def _columns(known: Mapping[str, Column], guessed: Mapping[str, dict[str, Any]]) -> str:
    lines = [_COLUMNS.rstrip()]
    lines += [f"#   {key}: {column.told}" for key, column in columns_of(ColumnKeys).items()]
    lines.append("[columns]")
    for name, column in known.items():
        given = guessed.get(name, {})
        value = given["column"] if set(given) == {"column"} else given or ""
        is_open = not given and not column.required
        lines += [f"# {column.told}", f"# {name} =" if is_open else f"{name} = {toml_value(value)}"]
    return "\n".join(lines) + "\n"


def _words() -> list[str]:
    rows = [
        (toml_value(IGNORE), "nothing: the number is taken"),
        (toml_value(SKIP), "the row is left out"),
    ]
    examples = {"pieces": 2, "tax": 0.19, "exchange": 0.9, "unit": ""}
    rows += [
        (toml_value({key: examples.get(key, "")}), str(column.help))
        for key, column in columns_of(WordKeys).items()
    ]
    return [f"# {line:<33} # {told}" for value, told in rows if (line := f'"word" = {value}')]
