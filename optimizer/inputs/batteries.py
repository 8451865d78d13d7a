"""Rows of batteries, completed from their chemistries → `Battery`."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from optimizer.errors import Fault
from optimizer.inputs.battery_rows import (
    OPEN_TRAITS,
    TRAITS,
    BatteryRow,
    ChemistryRow,
)
from optimizer.inputs.chemistry import (
    KINDS,
    MONEY_TRAITS,
    SHIPPED_CURRENCY,
    Chemistries,
    load_chemistries,
)
from optimizer.inputs.columns import Broken, columns_of
from optimizer.inputs.faults import CONFLICT, MISSING, at_least, at_most, shown
from optimizer.inputs.records import check_known, read_records
from optimizer.inputs.tables import Table
from optimizer.inputs.voltage import voltage_class
from optimizer.model.job import FLOAT_LIFE_DEGC, Battery
from optimizer.model.phrase import Phrase

_CHEMISTRYS: Final = "per hour, its chemistry's"


def read_batteries(
    table: Table, chemistries: Chemistries, faults: list[Fault]
) -> tuple[Battery, ...]:
    """Return the batteries, every open value filled in."""
    records = read_records(table, BatteryRow, faults, unique="battery")
    reader = _Completion(table, chemistries, faults)
    made = [reader.battery(number, row) for number, row in records]
    what = Phrase("a chemistry of the catalog or a shipped one")
    check_known(table, "chemistry", what, chemistries.known, faults)
    return tuple(battery for battery in made if battery is not None)


class _Completion:
    """Completes batteries, and complains once for each value that nobody gives."""

    def __init__(self, table: Table, chemistries: Chemistries, faults: list[Fault]) -> None:
        self.table, self.chemistries, self.faults = table, chemistries, faults
        self.complained: set[tuple[str, str]] = set()

    def battery(self, number: int, row: BatteryRow) -> Battery | None:
        class_v = voltage_class(row.voltage_v)
        if row.chemistry not in self.chemistries.known:
            return None
        values: dict[str, Any] = {}
        sources: dict[str, str] = {}
        for field in (*TRAITS, *KINDS):
            value, source = getattr(row, field, None), ""
            if value is None:
                value, source = self.chemistries.value(row.chemistry, field)
            values[field] = value
            if source:
                sources[field] = source
        empty = {field for field, value in values.items() if value is None}
        if missing := empty - OPEN_TRAITS:
            for field in sorted(missing, key=[*TRAITS, *KINDS].index):
                self._complain_of_missing(number, row, field)
            return None
        if row.surge_rate_max is None and values["surge_rate_max"] is not None:
            # what it gives for hours it gives for seconds
            values["surge_rate_max"] = max(values["surge_rate_max"], values["discharge_rate_max"])
        conflicts = [
            self.table.fault(number, column, f"{values[column]:g}", wanted, CONFLICT)
            for column, wanted in _conflicts(row, values)
        ]
        self.faults += conflicts
        if class_v is None or conflicts:
            return None
        own = {name: value for name, value in dict(row).items() if name not in TRAITS}
        depths = values.pop("max_dod")
        if values["float_life_degc"] is None:
            values["float_life_degc"] = FLOAT_LIFE_DEGC
        return Battery(
            class_v=class_v, sources=sources, max_dod=depths[-1], max_dods=depths, **own, **values
        )

    def _complain_of_missing(self, number: int, row: BatteryRow, field: str) -> None:
        """Complain in the chemistry's own row of what neither it nor a battery says."""
        if (row.chemistry, field) in self.complained:
            return
        self.complained.add((row.chemistry, field))
        if field in MONEY_TRAITS and row.chemistry in load_chemistries():
            self._ask_for_money(number, row, field)
            return
        if row.chemistry not in self.chemistries.own or field in KINDS:
            return  # said where the chemistries are read
        place, _ = self.chemistries.own[row.chemistry]
        wanted = Phrase(
            "{value}, here or in each battery: {battery} ({file}, row {row}) leaves it to its "
            "chemistry",
            value=columns_of(ChemistryRow)[field].wanted,
            battery=shown(row.battery),
            file=self.table.file,
            row=str(number),
        )
        file = self.chemistries.file
        self.faults.append(Fault(file, place, field, Phrase("nothing"), wanted, MISSING))

    def _ask_for_money(self, number: int, row: BatteryRow, field: str) -> None:
        """Ask for money that ships in one currency only."""
        amount = getattr(load_chemistries()[row.chemistry], field)
        found = Phrase(
            "nothing; the {amount} that would stand in is in {shipped}",
            amount=f"{amount:g}",
            shipped=SHIPPED_CURRENCY,
        )
        wanted = Phrase(
            "{what} in {currency}, here and in each battery of {chemistry}, or once in "
            "chemistries.csv",
            what=columns_of(BatteryRow)[field].help,
            currency=self.chemistries.currency,
            chemistry=row.chemistry,
        )
        self.faults.append(self.table.fault(number, field, found, wanted, MISSING))


def _conflicts(row: BatteryRow, values: Mapping[str, Any]) -> Iterator[Broken]:
    """Yield what only the completed battery shows; one side's rows were checked as read."""
    steady, start = values["discharge_rate_max"], values["surge_rate_max"]
    if start is not None and start < steady:
        yield "surge_rate_max", at_least("discharge_rate_max", steady, _CHEMISTRYS)
    low, high = values["charge_rate_min"], values["charge_rate_max"]
    if low > high and row.charge_rate_min is not None:
        yield "charge_rate_min", at_most("charge_rate_max", high, _CHEMISTRYS)
    elif low > high and row.charge_rate_max is not None:
        yield "charge_rate_max", at_least("charge_rate_min", low, _CHEMISTRYS)
