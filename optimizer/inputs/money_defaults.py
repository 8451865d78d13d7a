"""Money that ships in one currency, asked for in another: what is open, and filling it in."""

from collections.abc import Mapping
from dataclasses import dataclass

from optimizer.inputs.chemistry import MONEY_TRAITS, SHIPPED_CURRENCY, load_chemistries
from optimizer.inputs.draft import Draft, RawTable


@dataclass(frozen=True, slots=True)
class OpenMoney:
    """An amount that a job needs in its own currency: of which chemistry, which column.

    ``shipped`` is what would stand in where the currency is that of the shipped chemistries.
    """

    chemistry: str
    column: str
    shipped: float


def open_money(draft: Draft) -> tuple[OpenMoney, ...]:
    """Return the amounts that nobody has given in a job's currency; none in the shipped one."""
    site = draft.site.get("site", {})
    if "batteries" not in draft.tables or site.get("currency") == SHIPPED_CURRENCY:
        return ()
    own = {
        (row.get("chemistry", ""), column)
        for row in _records(draft.tables.get("chemistries"))
        for column in MONEY_TRAITS
        if row.get(column)
    }
    asked = (
        (row.get("chemistry", ""), column)
        for row in _records(draft.tables["batteries"])
        for column in MONEY_TRAITS
        if not row.get(column)
    )
    shipped = load_chemistries()
    return tuple(
        OpenMoney(name, column, amount)
        for name, column in dict.fromkeys(asked)
        if (name, column) not in own and (amount := getattr(shipped.get(name), column, None))
    )


def with_money(draft: Draft, amounts: Mapping[tuple[str, str], float]) -> Draft:
    """Return the draft with amounts in each battery's row that leaves them open."""
    table = draft.tables["batteries"]
    heading = list(dict.fromkeys([*table.rows[0], *(column for _, column in amounts)]))
    body = []
    for row in _records(table):
        given = {
            column: f"{amount:g}"
            for (chemistry, column), amount in amounts.items()
            if row.get("chemistry") == chemistry and not row.get(column)
        }
        body.append(tuple({**row, **given}.get(name, "") for name in heading))
    return draft.with_table("batteries", RawTable(table.file, (tuple(heading), *body)))


def _records(table: RawTable | None) -> list[dict[str, str]]:
    if table is None or not table.rows:
        return []
    return [dict(zip(table.rows[0], row, strict=False)) for row in table.rows[1:]]
