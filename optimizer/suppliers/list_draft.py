"""A supplier's list on its way in, as far as it has been chosen what is which of its columns."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from optimizer.errors import InputError
from optimizer.inputs.supplier_list import SupplierList
from optimizer.suppliers.first_guess import columns_in, details, first_guess
from optimizer.suppliers.mapping import content_of

if TYPE_CHECKING:
    from optimizer.suppliers.mapping import SupplierMapping


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

    def guess(self) -> None:
        """Choose what is likely, from the list's own headings; InputError where it has none."""
        if self.supplier is None:
            return
        guessed = first_guess(self.supplier, self.head["table"])
        self.columns = {
            name: guessed.get(name, {})
            for name, one in columns_in(self.head["table"]).items()
            if one.required or name in guessed or name == "supplier"
        }
        self.filter = {}

    def take(self, mapping: SupplierMapping) -> None:
        """Take all choices from a mapping."""
        content = content_of(mapping)
        self.head = {key: value for key, value in content["list"].items() if key != "into"}
        order = list(columns_in(self.head["table"]))
        chosen = sorted(content["columns"].items(), key=lambda one: order.index(one[0]))
        self.columns, self.filter = dict(chosen), content.get("filter", {})
        self.mapped, self.taken, self.refused = True, False, None

    def set_head(self, key: str, typed: str | float | None) -> None:
        """Change what holds for the whole list; columns that are still there keep theirs."""
        self.head[key] = typed if key == "currency" else (typed or None)
        if key != "heading_row" or self.supplier is None:
            return
        theirs = set(self.supplier.headings(self.heading_row))
        for ours, one in self.columns.items():
            if one.get("column") in theirs:
                at = (self.heading_row, self.head["table"], ours, one["column"])
                self.columns[ours] = {**details(self.supplier, *at), **one}

    def choose(self, ours: str, theirs: str | None) -> None:
        """Choose a column of theirs for one of ours, or none."""
        self.columns[ours] = {}
        if theirs is not None and self.supplier is not None:
            at = (self.heading_row, self.head["table"], ours, theirs)
            self.columns[ours] = details(self.supplier, *at)

    def set_detail(self, ours: str, key: str, typed: str | None) -> None:
        """Change a detail of a column; an empty one goes, but for the one value of every row."""
        if typed or key == "value":
            self.columns[ours][key] = typed or ""
        else:
            self.columns[ours].pop(key, None)

    def translate(self, ours: str, theirs: str, picked: str | None) -> None:
        """Change what a word of theirs stands for, in any case of its letters."""
        held = {
            word: mine
            for word, mine in self.columns[ours].get("values", {}).items()
            if word.casefold() != theirs.casefold()
        }
        if picked is not None:
            held[theirs] = picked
        if held:
            self.columns[ours]["values"] = held
        else:
            self.columns[ours].pop("values", None)

    def want(self, extra: list[str]) -> None:
        """Take these columns of ours besides the required ones, in their own order."""
        self.columns = {
            name: self.columns.get(name, {})
            for name, one in columns_in(self.head["table"]).items()
            if one.required or name in extra
        }

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
