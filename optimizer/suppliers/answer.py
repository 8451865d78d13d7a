"""What ``keeplit prices`` answers: each list as it was read, each table as it was joined."""

from dataclasses import dataclass, field

from optimizer.model.shown import shown
from optimizer.suppliers.converted import Converted
from optimizer.suppliers.joining import Joined
from optimizer.suppliers.price_changes import Changes


@dataclass(frozen=True, slots=True)
class TableAnswer:
    """A table of the price list with the lists' rows in it, and where it was written.

    ``changes`` are since the list compared with, or since the table that stood.
    """

    table: str
    joined: Joined = field(
        metadata=shown(take=("rows", "untouched", "offered_twice", "cheaper_before"))
    )
    changes: Changes | None
    written: str | None


@dataclass(frozen=True, slots=True)
class PricesAnswer:
    """What suppliers' lists were made into; ``kept`` are copies of tables that stood before."""

    lists: tuple[Converted, ...]
    tables: tuple[TableAnswer, ...]
    kept: tuple[str, ...]
