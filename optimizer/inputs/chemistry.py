"""What holds for every battery of a kind: the shipped chemistries, and a catalog's own."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from optimizer.errors import Fault, InputError
from optimizer.inputs.battery_rows import OPEN_TRAITS, ChemistryRow
from optimizer.inputs.columns import MONEY, columns_of
from optimizer.inputs.faults import MISSING, shown
from optimizer.inputs.records import read_records
from optimizer.inputs.tables import Table, read_table
from optimizer.model.phrase import Phrase

_SHIPPED: Final = Path(__file__).with_name("chemistries.csv")
_SHIPPED_SOURCES: Final = Path(__file__).with_name("chemistry_sources.csv")
#: The currency of the money among the shipped chemistries' numbers.
SHIPPED_CURRENCY: Final = "EUR"
#: What a battery takes from its chemistry and is money.
MONEY_TRAITS: Final = tuple(
    name for name, column in columns_of(ChemistryRow).items() if MONEY in column.unit
)
#: What a battery takes from its chemistry and cannot say itself.
KINDS: Final = ("family", "gas")
#: Other names that chemistries go by in the trade, in lower case.
_TRADE_NAMES: Final = {
    "lead": "flooded",
    "lead-acid": "flooded",
    "wet": "flooded",
    "opzs": "tubular",
    "lifepo4": "lfp",
}


def chemistry_called(word: str) -> str | None:
    """Return the shipped chemistry that goes by a name, in whatever case, or None.

    >>> chemistry_called("LiFePO4"), chemistry_called("AGM"), chemistry_called("Lead crystal")
    ('lfp', 'agm', None)
    """
    name = word.casefold()
    name = _TRADE_NAMES.get(name, name)
    return name if name in load_chemistries() else None


@lru_cache
def load_chemistries() -> Mapping[str, ChemistryRow]:
    """Return the chemistries that ship with the project, by name, every field filled."""
    faults: list[Fault] = []
    table = read_table(_SHIPPED, faults)
    rows = read_records(table, ChemistryRow, faults) if table is not None else []
    if faults:
        raise InputError(faults)
    return MappingProxyType({row.chemistry: row for _, row in rows})


@lru_cache
def shipped_chemistry_sources() -> Mapping[tuple[str, str], str]:
    """Return by (chemistry, field) where each number of the shipped chemistries comes from.

    >>> shipped_chemistry_sources()["lfp", "peukert"]
    'secondary source: about 1.05 for lithium iron phosphate'
    """
    with _SHIPPED_SOURCES.open(encoding="utf-8", newline="") as lines:
        _, *rows = csv.reader(lines)
    return MappingProxyType({(chemistry, field): source for chemistry, field, source in rows})


@dataclass(frozen=True, slots=True)
class Chemistries:
    """The catalog's chemistries over the shipped ones; ``names`` holds faulty rows' names too.

    ``currency`` is the site's: shipped money stands in for nobody's in another one.
    """

    own: Mapping[str, tuple[int, ChemistryRow]]
    names: frozenset[str]
    file: str
    currency: str = SHIPPED_CURRENCY

    @property
    def known(self) -> list[str]:
        """Every name that a battery may give."""
        return list(dict.fromkeys((*sorted(self.names), *load_chemistries())))

    def value(self, chemistry: str, field: str) -> tuple[Any, str]:
        """Return a field's value and where it comes from; None where nobody says.

        A chemistry of the catalog stands for the shipped one of its name; only what a battery
        cannot do without is taken from there where the catalog leaves it open.
        """
        if chemistry in self.own:
            value = getattr(self.own[chemistry][1], field)
            if value is not None:
                return value, f"chemistry {chemistry} in the catalog"
            if field in OPEN_TRAITS:
                return None, ""
        value = getattr(load_chemistries().get(chemistry), field, None)
        if value and field in MONEY_TRAITS and self.currency != SHIPPED_CURRENCY:
            return None, ""
        if value is not None:
            source = shipped_chemistry_sources()[chemistry, field]
            return value, f"chemistry {chemistry} shipped: {source}"
        return None, ""


def read_chemistries(
    table: Table | None, faults: list[Fault], currency: str = SHIPPED_CURRENCY
) -> Chemistries:
    """Return the catalog's chemistries for a site's currency; the table may be missing."""
    if table is None:
        return Chemistries({}, frozenset(), "chemistries.csv", currency)
    records = read_records(table, ChemistryRow, faults, unique="chemistry", filled=False)
    shipped = load_chemistries()
    for number, row in records:
        for field in KINDS:
            if getattr(row, field) is None and row.chemistry not in shipped:
                wanted = Phrase(
                    "a {field}: {name} is none of the shipped chemistries ({known}), whose {field} "
                    "would stand in",
                    field=field,
                    name=shown(row.chemistry),
                    known=", ".join(shipped),
                )
                faults.append(table.fault(number, field, Phrase("nothing"), wanted, MISSING))
    own = {row.chemistry: (number, row) for number, row in reversed(records)}
    names = frozenset(name for _, name in table.column("chemistry"))
    return Chemistries(own, names, table.file, currency)
