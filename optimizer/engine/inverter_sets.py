"""Inverter sets as columns: which ones the site allows, and their money."""

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Any

import numpy as np

from optimizer.engine.variants import Variant
from optimizer.engine.works import gross, residual_of_years, works_price
from optimizer.formulas.inverter import battery_current_a
from optimizer.formulas.money import yearly_costs_factor
from optimizer.formulas.temperature import heat_factor
from optimizer.formulas.tolerance import at_least, whole_years
from optimizer.formulas.wiring import RUNS, cable_price, choose_cable
from optimizer.model.arrays import Bools, Floats, Ints
from optimizer.model.design import CableRun
from optimizer.model.job import Inverter, Job
from optimizer.model.requirement import Requirement

#: What rules a set out, whatever bank stands behind it.
SET_REQUIREMENTS = frozenset(
    {
        Requirement.POWER,
        Requirement.SURGE,
        Requirement.TRANSFER,
        Requirement.CONTRACT,
        Requirement.WIRING,
    }
)
#: kWh a year of one watt throughout.
_KWH_A_YEAR_PER_W = 8.76


@dataclass(frozen=True, slots=True, eq=False)
class InverterSets:
    """Inverter sets that the site allows, one array element each, in the price list's order.

    ``life_cycle_cost`` and ``upfront_cost`` hold all that does not depend on the bank: sets,
    works per unit and per site, cables and fuses, swaps, standby, less the value left.
    ``wiring`` is that of one unit, None where battery and inverter share a box.
    """

    inverters: tuple[Inverter, ...]
    wiring: tuple[CableRun | None, ...]
    units: Ints
    voltage_v: Ints
    efficiency: Floats
    no_load_w: Floats
    peak_current_a: Floats
    start_current_a: Floats
    charger_a: Floats
    boxed: Bools
    life_cycle_cost: Floats
    upfront_cost: Floats

    def __len__(self) -> int:
        return len(self.inverters)

    def take(self, rows: Ints) -> "InverterSets":
        """Return some of the sets."""
        taken: dict[str, Any] = {}
        for one in fields(self):
            column = getattr(self, one.name)
            is_array = isinstance(column, np.ndarray)
            taken[one.name] = column[rows] if is_array else tuple(column[row] for row in rows)
        return InverterSets(**taken)


def build_sets(
    variant: Variant,
    lifted: frozenset[Requirement],
    *,
    wired: dict[str, CableRun | None] | None = None,
) -> InverterSets:
    """Return every inverter set that carries the loads under a variant and can be wired.

    ``wired`` keeps what was found for each inverter: neither step nor requirement matters to it.
    """
    wired = {} if wired is None else wired
    job, demand, site = variant.job, variant.demand, variant.job.site
    boxes = boxed_inverters(job)
    rows: list[tuple[Inverter, CableRun | None, int]] = []
    for inverter in job.catalog.inverters:
        if inverter.system_v not in site.voltages or inverter.inverter in site.exclude:
            continue
        counts = list(_units_that_carry(variant, inverter, lifted))
        boxed = inverter.inverter in boxes
        wiring = None
        if counts and not boxed:
            if inverter.inverter not in wired:
                wired[inverter.inverter] = wiring_of(job, inverter)
            wiring = wired[inverter.inverter]
        if wiring is None and not boxed and Requirement.WIRING in lifted:
            wiring = CableRun(job.catalog.cables[-1], max(RUNS), job.catalog.fuses[-1])
        if boxed or wiring is not None:
            rows += [(inverter, wiring, units) for units in counts]
    counted = np.array([row[2] for row in rows], dtype=np.int64)
    works = (
        works_price(job, "site", first=True),
        works_price(job, "inverter_unit", first=True),
        works_price(job, "inverter_unit", first=False),
    )
    money = np.array([_set_money(job, works, *row) for row in rows], dtype=float).reshape(-1, 2)

    def column(name: str) -> Floats:
        return np.array([getattr(row[0], name) for row in rows], dtype=float)

    efficiency, voltage_v = column("efficiency"), column("system_v")
    peak_w = max(demand.peak_w, variant.largest_excess_w)
    return InverterSets(
        inverters=tuple(row[0] for row in rows),
        wiring=tuple(row[1] for row in rows),
        units=counted,
        voltage_v=voltage_v.astype(np.int64),
        efficiency=efficiency,
        no_load_w=counted * column("no_load_w"),
        peak_current_a=battery_current_a(peak_w, efficiency, voltage_v),
        start_current_a=battery_current_a(demand.surge_w, efficiency, voltage_v),
        charger_a=counted * column("charger_a"),
        boxed=np.array([row[0].inverter in boxes for row in rows], dtype=bool),
        life_cycle_cost=money[:, 0],
        upfront_cost=money[:, 1],
    )


def boxed_inverters(job: Job) -> frozenset[str]:
    """Return the inverters that some battery of the list shares a box with."""
    return frozenset(one.built_into for one in job.catalog.batteries if one.built_into)


def wiring_of(job: Job, inverter: Inverter) -> CableRun | None:
    """Return the cable and fuse of one unit, None where none fits."""
    site = job.site
    return choose_cable(
        job.catalog.cables,
        job.catalog.fuses,
        current_a=battery_current_a(inverter.power_w, inverter.efficiency, inverter.system_v),
        length_m=site.battery_cable_m,
        max_drop_v=site.max_drop * inverter.system_v,
        system_v=inverter.system_v,
        room_degc=site.max_degc,
    )


def _units_that_carry(
    variant: Variant, inverter: Inverter, lifted: frozenset[Requirement]
) -> Iterator[int]:
    """Yield the numbers of units that carry the loads and, beside the supply, its peaks."""
    site, demand, excess_w = variant.job.site, variant.demand, variant.largest_excess_w
    heat = heat_factor(inverter.power_w, inverter.power_w_40c, site.max_degc)
    passes_va = np.inf
    if inverter.pass_through_a is not None:
        passes_va = inverter.pass_through_a * site.supply_voltage_v
    for units in range(1, inverter.max_units + 1):
        power_w = units * inverter.power_w * heat
        carries = at_least(power_w, demand.peak_w) and at_least(
            units * inverter.power_va * heat, demand.peak_va
        )
        starts = at_least(units * inverter.surge_w, demand.surge_w)
        transfers = at_least(units * passes_va, demand.peak_va)
        helps = variant.contract is None or not variant.excess
        if not helps and variant.contract is not None:
            helps = (
                inverter.works_in_parallel is True
                and bool(at_least(power_w, excess_w))
                and bool(at_least(units * passes_va, variant.contract.power_w))
            )
        if (
            (carries or Requirement.POWER in lifted)
            and (starts or Requirement.SURGE in lifted)
            and (transfers or Requirement.TRANSFER in lifted)
            and (helps or Requirement.CONTRACT in lifted)
        ):
            yield units


def _set_money(
    job: Job,
    works: tuple[float, float, float],
    inverter: Inverter,
    wiring: CableRun | None,
    units: int,
) -> tuple[float, float]:
    """Return life-cycle and upfront cost of a set with the works of the site [currency].

    ``works`` are the prices of those of the site, at a unit's first purchase and at its swap.
    """
    site, factor = job.site, gross(job)
    horizon, rate = site.horizon_years, site.discount_rate
    wired = 0.0 if wiring is None else cable_price(wiring, site.battery_cable_m)
    prepared, mounted, swapped = works
    upfront = factor * (units * (inverter.price + wired + mounted) + prepared)
    life = whole_years(inverter.life_years)
    swaps = range(life, horizon, life)
    swap = factor * units * (inverter.price + swapped)
    total = upfront + sum(swap / (1 + rate) ** year for year in swaps)
    total -= residual_of_years(job, factor * units * inverter.price, life) / (1 + rate) ** horizon
    standby_year = units * inverter.standby_w * _KWH_A_YEAR_PER_W * site.tariff
    return total + standby_year * yearly_costs_factor(rate, 0, horizon), upfront
