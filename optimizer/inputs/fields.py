"""Every file the project reads and the facts about each of its fields."""

from collections.abc import Mapping

from optimizer.inputs.battery_rows import BatteryRow, ChemistryRow
from optimizer.inputs.columns import Column, Record, columns_of
from optimizer.inputs.design_file import DesignKeys
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.programme import SiteRow
from optimizer.inputs.rows import LoadRow, OutageRow
from optimizer.inputs.site_keys import SECTIONS

#: Facts by field, by section or table.
Fields = Mapping[str, Mapping[str, Column]]


def all_fields() -> Fields:
    """Return the fields of each section of the site file, of each table, of the design file.

    >>> all_fields()["[economics]"]["tariff"].unit
    '{currency} per kWh'
    """
    models: dict[str, type[Record]] = {f"[{name}]": model for name, model in SECTIONS.items()}
    models |= {"loads": LoadRow, "outages": OutageRow}
    models |= {"batteries": BatteryRow, "chemistries": ChemistryRow}
    models |= {name: table.model for name, table in TABLES.items()}
    models |= {"design": DesignKeys, "sites": SiteRow}
    return {name: columns_of(model) for name, model in models.items()}
