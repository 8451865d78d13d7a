"""What of a quote still stands at the prices of the bundled price list, which are invented."""

from collections.abc import Iterable, Iterator
from decimal import Decimal
from functools import cache
from typing import TypeAlias

from optimizer.formulas.rounding import exact
from optimizer.inputs.demo import FOLDER
from optimizer.inputs.load import load_job
from optimizer.model.job import Catalog
from optimizer.model.part import PartKind
from optimizer.quote.sums import Item, Line, Part

#: A row as a line shows it: part, kind, name, size and price.
_Row: TypeAlias = tuple[Part, PartKind | None, str, float | None, Decimal]


def invented_items(catalog: Catalog, lines: Iterable[Line]) -> tuple[Item, ...]:
    """Return the items of lines whose rows are as `keeplit new` wrote them, each once.

    A model or work is known by its name and price; what has no name by its whole row, since
    another's fuse may well cost the same.
    """
    shipped = _shipped()
    same = {*_named(shipped), *_sized(shipped, catalog)}
    return tuple(dict.fromkeys(line.item for line in lines if _row(line) in same))


@cache
def _shipped() -> Catalog:
    return load_job(FOLDER / "house" / "site.toml").catalog


def _row(line: Line) -> _Row:
    item = line.item
    return item.part, item.kind, item.name, item.size, line.cost_each


def _named(catalog: Catalog) -> Iterator[_Row]:
    for battery in catalog.batteries:
        yield Part.BATTERY, None, battery.battery, None, exact(battery.price)
    for inverter in catalog.inverters:
        yield Part.INVERTER, None, inverter.inverter, None, exact(inverter.price)
    for generator in catalog.generators:
        yield Part.GENERATOR, None, generator.generator, None, exact(generator.price)
    for work in catalog.works:
        yield Part.WORK, None, work.item, None, exact(work.price)


def _sized(shipped: Catalog, catalog: Catalog) -> Iterator[_Row]:
    for cable in {*shipped.cables} & {*catalog.cables}:
        yield Part.CABLE, None, "", cable.section_mm2, exact(cable.price_per_m)
    for fuse in {*shipped.fuses} & {*catalog.fuses}:
        yield Part.FUSE, None, "", fuse.rating_a, exact(fuse.price)
        yield Part.CIRCUIT, PartKind.STRING_FUSE, "", fuse.rating_a, exact(fuse.price)
    for part in {*shipped.parts} & {*catalog.parts}:
        yield Part.CIRCUIT, part.kind, "", part.rating_a, exact(part.price)
