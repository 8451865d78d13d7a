"""A supplier's list on its way in, as far as it has been chosen what is which of its columns."""

from collections.abc import Collection
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from optimizer.errors import InputError
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.supplier_list import SupplierList
from optimizer.suppliers.first_guess import details, first_guess
from optimizer.suppliers.joining import Stays
from optimizer.suppliers.mapping import ORIGIN, SupplierMapping, content_of


@dataclass
class ListDraft:
    """A supplier's list on its way in, one session's.

    ``file``, its name and content, was dropped in, ``supplier`` is the list as it was read.
    ``head`` is the mapping's [list] without the currency it is turned into, ``columns`` by ours
    what is chosen, empty where nothing is yet; ``filter`` and ``exclude`` hold words by columns of
    theirs, ``words`` is the mapping's [words]. ``mapped`` tells that a mapping file said it all;
    ``stay`` and ``leave_out`` are what was said to the rows that stand and to those that cannot be
    read; ``refused`` is why the rows were not taken in, ``taken`` whether they were.
    """

    file: tuple[str, bytes] | None = None
    supplier: SupplierList | None = None
    head: dict[str, Any] = field(default_factory=dict)
    columns: dict[str, dict[str, Any]] = field(default_factory=dict)
    filter: dict[str, list[str]] = field(default_factory=dict)
    exclude: dict[str, list[str]] = field(default_factory=dict)
    words: dict[str, Any] = field(default_factory=dict)
    mapped: bool = False
    stay: Stays = Stays.OTHERS
    leave_out: bool = False
    refused: InputError | None = None
    taken: bool = False

    @property
    def headings(self) -> tuple[str, ...]:
        """The list's column names."""
        if self.supplier is None:
            return ()
        rows = self.head.get("heading_rows") or 1
        return self.supplier.headings(self.head.get("heading_row"), rows)

    def guess(self) -> None:
        """Choose what is likely, from the list's own headings; InputError where it has none."""
        if self.supplier is None:
            return
        rows = self.supplier.heading_rows(self.head.get("heading_row"))
        self.head.setdefault("heading_rows", rows)
        guessed = first_guess(self.supplier, self.head["table"], self.head)
        self.columns = {name: guessed.get(name, {}) for name in self._shown(guessed)}
        self.filter, self.exclude, self.words = {}, {}, {}

    def take(self, mapping: SupplierMapping) -> None:
        """Take all choices from a mapping."""
        content = content_of(mapping)
        self.head = {key: value for key, value in content["list"].items() if key != "into"}
        order = list(TABLES[self.head["table"]].columns)
        chosen = sorted(content["columns"].items(), key=lambda one: order.index(one[0]))
        self.columns, self.filter = dict(chosen), content.get("filter", {})
        self.exclude, self.words = content.get("exclude", {}), content.get("words", {})
        for name in ORIGIN:  # what holds for all rows stands among the columns here
            if name in self.head:
                self.columns[name] = {"value": str(self.head.pop(name))}
        self.mapped, self.leave_out, self.taken, self.refused = True, False, False, None

    def set_head(self, key: str, typed: str | float | None) -> None:
        """Change what holds for the whole list; columns that are still there keep theirs."""
        self.head[key] = typed if key == "currency" else (typed or None)
        if key not in {"heading_row", "heading_rows"} or self.supplier is None:
            return
        for ours, one in self.columns.items():
            if one.get("column") in self.headings:
                at = (self.head, self.head["table"], ours, one["column"])
                self.columns[ours] = {**details(self.supplier, *at), **one}

    def choose(self, ours: str, theirs: str | None) -> None:
        """Choose a column of theirs for one of ours, or none."""
        self.columns[ours] = {}
        if theirs is not None and self.supplier is not None:
            at = (self.head, self.head["table"], ours, theirs)
            self.columns[ours] = details(self.supplier, *at)

    def answer(self, word: str, meaning: str | dict[str, Any] | None) -> None:
        """Say what a word beside a number means, or leave it open."""
        self.words = {one: held for one, held in self.words.items() if one != word}
        if meaning is not None:
            self.words[word] = meaning

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
        self.columns = {name: self.columns.get(name, {}) for name in self._shown(extra)}

    def _shown(self, extra: Collection[str] = ()) -> list[str]:
        known = TABLES[self.head["table"]].columns
        return [
            name for name, one in known.items() if one.required or name in ORIGIN or name in extra
        ]

    def missing(self) -> list[str]:
        """Return our columns that nothing is chosen for, though they must be."""
        chosen = self.chosen()
        return [name for name in self._shown() if name not in chosen]

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
        columns = self.chosen()
        for name in ORIGIN:  # one value for all rows is the list's own
            value = columns.get(name, {}).get("value")
            with suppress(ValueError):  # no date: its column says so
                if value:
                    head[name] = value if name == "supplier" else date.fromisoformat(value)
                    del columns[name]
        return {
            "list": head,
            "columns": columns,
            "filter": {name: listed for name, listed in self.filter.items() if listed},
            "exclude": {name: listed for name, listed in self.exclude.items() if listed},
            "words": dict(self.words),
        }
