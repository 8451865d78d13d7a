"""A job in another currency: every sum at a rate of exchange, none relabelled."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from optimizer.inputs.chemistry import MONEY_TRAITS, SHIPPED_CURRENCY, load_chemistries
from optimizer.inputs.columns import MONEY, columns_of
from optimizer.inputs.decimals import bare_number, with_mark
from optimizer.inputs.draft import Draft, RawTable
from optimizer.inputs.fields import all_fields
from optimizer.inputs.site_keys import SECTIONS

#: A converted sum has no more digits than this.
_DIGITS: Final = 8


def in_currency(draft: Draft, currency: str, rate: float) -> Draft:
    """Return the draft with every sum in another currency, sums that ship with keeplit included.

    ``rate`` is what one of the old currency is in the new.
    """
    site: dict[str, Any] = {name: _section(name, held, rate) for name, held in draft.site.items()}
    site["site"] = {**site["site"], "currency": currency}
    tables = {name: _table(name, table, rate) for name, table in draft.tables.items()}
    made = replace(draft, site=site, tables=tables)
    if open_money(draft):
        return made
    return with_money(made, {key: _at(amount, rate) for key, amount in open_money(made).items()})


def open_money(draft: Draft) -> dict[tuple[str, str], float]:
    """Return the shipped amounts that nobody gives in a job's currency, by chemistry and column.

    None are open in the currency that they are shipped in.
    """
    if "batteries" not in draft.tables or draft.site["site"].get("currency") == SHIPPED_CURRENCY:
        return {}
    own = draft.tables["chemistries"].records() if "chemistries" in draft.tables else []
    given = {(row.get("chemistry"), key) for row in own for key in MONEY_TRAITS if row.get(key)}
    shipped = load_chemistries()
    return {
        (name, key): getattr(shipped[name], key)
        for row in draft.tables["batteries"].records()
        for key in MONEY_TRAITS
        if (name := row.get("chemistry", "")) in shipped and not row.get(key)
        if (name, key) not in given and getattr(shipped[name], key)
    }


def with_money(draft: Draft, amounts: Mapping[tuple[str, str], float]) -> Draft:
    """Return the draft with amounts in each battery's row that leaves them open."""
    if not amounts:
        return draft
    table = draft.tables["batteries"]
    heading = tuple(dict.fromkeys([*table.rows[0], *(key for _, key in amounts)]))
    body = []
    for row in table.records():
        for (chemistry, key), amount in amounts.items():
            if row.get("chemistry") == chemistry and not row.get(key):
                row[key] = f"{amount:g}"
        body.append(tuple(row.get(name, "") for name in heading))
    return draft.with_table("batteries", RawTable(table.file, (heading, *body)))


def _at(amount: float, rate: float) -> float:
    return float(f"{amount * rate:.{_DIGITS}g}")


def _section(name: str, held: Any, rate: float) -> Any:  # noqa: ANN401 - as TOML gives it
    if name not in SECTIONS or not isinstance(held, dict):
        return held
    facts = columns_of(SECTIONS[name])
    found: dict[str, Any] = {
        key: _at(value, rate)
        if key in facts and MONEY in facts[key].unit and isinstance(value, int | float)
        else value
        for key, value in held.items()
    }
    if "contracts" in found:
        found["contracts"] = [[power, _at(cost, rate)] for power, cost in found["contracts"]]
    return found


def _table(name: str, table: RawTable, rate: float) -> RawTable:
    facts = all_fields().get(name, {})
    if not table.rows:
        return table
    heading, *rows = table.rows
    money = {
        place for place, key in enumerate(heading) if key in facts and MONEY in facts[key].unit
    }
    body = tuple(
        tuple(_cell(text, rate) if place in money else text for place, text in enumerate(row))
        for row in rows
    )
    return replace(table, rows=(heading, *body))


def _cell(text: str, rate: float) -> str:
    """Return an amount at a rate as its file writes decimals; anything else as it stands."""
    held = bare_number(text)
    if held is None:
        return text
    return with_mark(f"{_at(held, rate):.{_DIGITS}g}", comma="," in text)
