"""A job in another currency: every sum at a rate of exchange, none relabelled."""

from dataclasses import replace
from typing import Any, Final

from optimizer.inputs.columns import MONEY, columns_of
from optimizer.inputs.decimals import bare_number, with_mark
from optimizer.inputs.draft import Draft, RawTable
from optimizer.inputs.fields import all_fields
from optimizer.inputs.money_defaults import open_money, with_money
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
    shipped = {} if open_money(draft) else {
        (one.chemistry, one.column): _at(one.shipped, rate) for one in open_money(made)
    }  # fmt: skip
    return with_money(made, shipped) if shipped else made


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
