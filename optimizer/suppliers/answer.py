"""What ``keeplit prices`` answers: each list as it was read, each table as it was joined."""

from dataclasses import dataclass

from optimizer.suppliers.converted import Converted
from optimizer.suppliers.joining import OfferedTwice
from optimizer.suppliers.price_changes import Changes


@dataclass(frozen=True, slots=True)
class TableAnswer:
    """A table of the price list with the lists' rows in it, and where it was written."""

    table: str
    rows: int
    untouched: int
    changes: Changes | None
    offered_twice: tuple[OfferedTwice, ...]
    cheaper_before: tuple[OfferedTwice, ...]
    written: str | None


@dataclass(frozen=True, slots=True)
class PricesAnswer:
    """What suppliers' lists were made into; ``kept`` are copies of tables that stood before."""

    lists: tuple[Converted, ...]
    tables: tuple[TableAnswer, ...]
    kept: tuple[str, ...]
