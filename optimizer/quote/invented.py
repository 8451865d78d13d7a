"""What of a quote still stands at the prices of the bundled price list, which are invented."""

from collections.abc import Iterable
from functools import cache

from optimizer.inputs.demo import FOLDER
from optimizer.inputs.load import load_job
from optimizer.inputs.price_tables import TABLES
from optimizer.model.job import Battery, Generator, Inverter, Work
from optimizer.quote.sums import Item, Line, Ware


def invented_items(lines: Iterable[Line]) -> tuple[Item, ...]:
    """Return the items of lines whose rows are as `keeplit new` wrote them, each once."""
    found = (line.item for line in lines if line.ware and is_invented(line.ware))
    return tuple(dict.fromkeys(found))


def is_invented(ware: Ware) -> bool:
    """Tell whether a row is as `keeplit new` wrote it."""
    return _known_by(ware) in _shipped()


@cache
def _shipped() -> frozenset[object]:
    catalog = load_job(FOLDER / "house" / "site.toml").catalog
    return frozenset(_known_by(row) for table in TABLES for row in getattr(catalog, table))


def _known_by(ware: Ware) -> object:
    """Return a model's or work's name and price; of what has no name its whole row.

    Another's fuse may well cost the same.
    """
    match ware:
        case (
            Battery(battery=name)
            | Inverter(inverter=name)
            | Generator(generator=name)
            | Work(item=name)
        ):
            return type(ware), name, ware.price
    return ware
