"""The as-built file: what was put in place, for judging it in later years."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.inputs.battery_rows import BatteryRow
from optimizer.inputs.rows import InverterRow
from optimizer.inputs.toml_text import toml_value

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date
    from decimal import Decimal

    from optimizer.model.design import Design
    from optimizer.model.job import Battery, Inverter


def as_built(design: Design, paid: Decimal, day: date, site: str) -> str:
    """Return the design file (TOML) of what is put in place at the start.

    Parameters
    ----------
    design : Design
        Its first bank and its inverter set.
    paid : Decimal
        What was asked for it all [currency].
    day : date
        The day of the quote.
    site : str
        The site's name.

    Returns
    -------
    str
        Battery and inverter are written out column by column: the price list of a later year may
        not have them any more.
    """
    bank = design.banks[0]
    lines = [
        f"# As built: {_comment(site)}, quoted on {day.isoformat()}.",
        "# Read a year later with: keeplit assess THIS_FILE SITE, age_years set to 1.",
        f"units = {design.inverter_units}",
        f"strings = {bank.strings}",
        f"voltage = {design.voltage_v}",
        "age_years = 0",
        f"paid = {paid}",
        "",
        "[inverter]",
        *_columns(design.inverter, tuple(InverterRow.model_fields)),
        "",
        "[battery]",
        *_columns(bank.battery, tuple(BatteryRow.model_fields)),
    ]
    return "\n".join(lines) + "\n"


def _columns(model: Battery | Inverter, names: tuple[str, ...]) -> Iterator[str]:
    for name in names:
        value = getattr(model, name)
        if isinstance(value, tuple):  # pairs, as a table's cell has them
            value = ";".join(f"{first:g}:{second:g}" for first, second in value)
        if value is not None:
            yield f"{name} = {toml_value(value)}"


def _comment(text: str) -> str:
    return "".join(letter if letter.isprintable() else " " for letter in text)
