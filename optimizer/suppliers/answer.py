"""What ``keeplit prices`` answers: each list as it was read, each table as it was joined."""

from collections.abc import Mapping
from dataclasses import dataclass

from optimizer.errors import Fault
from optimizer.suppliers.converted import Repeated
from optimizer.suppliers.joining import OfferedTwice
from optimizer.suppliers.price_changes import Changes


@dataclass(frozen=True, slots=True)
class ListAnswer:
    """A supplier's list as it was read.

    ``noise`` numbers rows without figures; ``bare_units`` names columns whose unit stands nowhere,
    with the unit they were taken in.
    """

    file: str
    sheet: str | None
    table: str
    rows: tuple[Mapping[str, str], ...]
    filtered: int
    noise: tuple[int, ...]
    left_out: tuple[Fault, ...]
    bare_units: tuple[tuple[str, str], ...]
    repeated: tuple[Repeated, ...]


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

    lists: tuple[ListAnswer, ...]
    tables: tuple[TableAnswer, ...]
    kept: tuple[str, ...]
