"""A supplier's list on its way in, as far as it has been chosen what is which."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from optimizer import InputError
from optimizer.inputs.supplier_list import SupplierList
from optimizer.suppliers.first_guess import columns_in


@dataclass
class ListDraft:
    """A supplier's list on its way in, one session's.

    Parameters
    ----------
    supplier : SupplierList or None
        What was dropped in.
    head : dict
        The mapping's [list], without the currency it is turned into.
    columns : dict
        By our columns: what is chosen; empty where nothing is yet.
    filter : dict
        Words wanted, by columns of theirs.
    replace_all, leave_out : bool
        What was said to the rows that stand, and to those that cannot be read.
    refused : InputError or None
        Why the rows were not taken in.
    taken : bool
        Whether they were.
    """

    supplier: SupplierList | None = None
    head: dict[str, Any] = field(default_factory=dict)
    columns: dict[str, dict[str, Any]] = field(default_factory=dict)
    filter: dict[str, list[str]] = field(default_factory=dict)
    mapped: bool = False
    replace_all: bool = False
    leave_out: bool = False
    refused: InputError | None = None
    taken: bool = False

    @property
    def heading_row(self) -> int | None:
        """The row of the column names where it was typed."""
        return self.head.get("heading_row")

    def missing(self) -> list[str]:
        """Return our required columns that nothing is chosen for."""
        chosen = self.chosen()
        known = columns_in(self.head["table"])
        return [name for name, one in known.items() if one.required and name not in chosen]

    def chosen(self) -> dict[str, dict[str, Any]]:
        """Return our columns that something is chosen for."""
        return {
            ours: one for ours, one in self.columns.items() if one.get("column") or one.get("value")
        }

    def content(self, currency: str) -> dict[str, Any]:
        """Return the mapping's content for a job's currency."""
        head = {key: value for key, value in self.head.items() if value is not None}
        if head.get("currency") == currency:
            head.pop("exchange", None)
        else:
            head["into"] = currency
        wanted = {name: listed for name, listed in self.filter.items() if listed}
        return {"list": head, "columns": self.chosen(), "filter": wanted}
