"""What an as-built file says of the plan behind it, and how a changed design is told from it."""

from collections.abc import Iterator
from datetime import date
from hashlib import blake2s
from typing import Final

from optimizer.inputs.columns import Kind, Record, declare, number, text, whole
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.site_keys import Name, names
from optimizer.inputs.toml_text import toml_value
from optimizer.model.existing import Existing
from optimizer.model.job import Battery, Generator, Inverter


class AsBuiltKeys(Record):
    """[as_built]: the quote behind a design, its wiring, and the serial numbers put in by hand."""

    quote: Name | None = text("number of the quote")
    revision: int | None = whole("", "revision of the quote", ge=1)
    day: date | None = declare(Kind.DAY, "a day such as 2026-01-31", "of the quote")
    site: Name | None = text("the site's name")
    planned_hours: int | None = whole("h", "autonomy that was planned", ge=1)
    bank_years: int | None = whole("years", "how long the plan keeps the bank", ge=1)
    fuse_a: float | None = number("A", "fuse of each inverter", gt=0)
    cable_mm2: float | None = number("mm²", "battery cable", gt=0)
    cable_pairs: int | None = whole("", "pairs of cable for each inverter", ge=1)
    cable_m: float | None = number("m", "battery cable, one way", gt=0)
    inverter_serials: list[str] | None = names("serial numbers")
    battery_serials: list[str] | None = names("serial numbers")
    design: Name | None = text(
        "sign of the design as it was planned; it differs once that is changed"
    )


#: What a design is made of, by its key: the table that lists it.
EQUIPMENT: Final = {TABLES[name].key: name for name in ("batteries", "inverters", "generators")}


def model_columns(model: Battery | Inverter | Generator) -> Iterator[tuple[str, object]]:
    """Yield the columns of the price list that describe a battery, inverter or generator."""
    listed = next(table for key, table in EQUIPMENT.items() if hasattr(model, key))
    for name in TABLES[listed].model.model_fields:
        value = getattr(model, name)
        if isinstance(value, tuple):  # pairs, as a table's cell has them
            value = ";".join(f"{first:g}:{second:g}" for first, second in value)
        if value is not None:
            yield name, value


def sign_of(design: Existing) -> str:
    """Return a short sign that is another one for any other equipment."""
    models = (design.inverter, design.battery, design.generator)
    columns = [one for model in models if model is not None for one in model_columns(model)]
    counts = [design.units, design.strings, design.voltage_v]
    text = "\n".join([toml_value(one) for one in counts] + [_written(one) for one in columns])
    return blake2s(text.encode(), digest_size=6).hexdigest()


def _written(column: tuple[str, object]) -> str:
    name, value = column
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return f"{name} = {value:.9g}" if is_number else f"{name} = {value}"
