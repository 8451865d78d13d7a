"""Common appliances with usual figures, by group, to start a row of the loads from."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import chain, count
from pathlib import Path
from typing import Any, Final

from optimizer.inputs.cells import windows
from optimizer.inputs.draft import raw_table, survey_rows

_FILE: Final = Path(__file__).with_name("appliances.csv")
_FIGURES: Final = ("running_w", "power_factor", "starting_w", "hours", "duty")


@dataclass(frozen=True, slots=True)
class Appliance:
    """An appliance: the row it makes, and where its figures come from."""

    group: str
    name: str
    row: dict[str, Any]
    source: str

    @property
    def kwh_day(self) -> float:
        """What one takes in a day [kWh]."""
        hours = sum(end - start for start, end in windows(self.row["hours"]))
        return float(self.row["running_w"] * self.row["duty"] * hours / 1000)


@lru_cache
def appliances() -> tuple[Appliance, ...]:
    """Return the list, in the file's order."""
    table = raw_table(_FILE.name, _FILE.read_bytes())
    usual = {"count": 1, "seasons": "", "with": ""}
    return tuple(
        Appliance(told["group"], told["load"], row | usual, told["source"])
        for told, row in zip(table.records(), survey_rows(table), strict=True)
    )


def with_figures_of(row: dict[str, Any]) -> Appliance | None:
    """Return the appliance whose usual figures a load still has, whatever it is called."""
    same = (one for one in appliances() if all(one.row[key] == row[key] for key in _FIGURES))
    return next(same, None)


def named(rows: list[dict[str, Any]], name: str) -> str:
    """Return a name that no row has yet.

    >>> named([{"load": "Kettle"}], "Kettle")
    'Kettle 2'
    """
    taken = {row["load"] for row in rows}
    numbered = (f"{name} {number}" for number in count(2))
    return next(one for one in chain([name], numbered) if one not in taken)
