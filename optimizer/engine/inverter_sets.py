"""Inverter sets as columns: which ones the site allows, and their money."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Any

import numpy as np

from optimizer.engine.works import gross, works_price
from optimizer.formulas.inverter import battery_current_a
from optimizer.formulas.money import yearly_costs_factor
from optimizer.formulas.temperature import heat_factor
from optimizer.formulas.tolerance import at_least, whole_years
from optimizer.formulas.wiring import RUNS, cable_price, choose_cable
from optimizer.model.design import CableRun
from optimizer.model.job import Inverter
from optimizer.model.requirement import Requirement

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from optimizer.model.demand import Demand
    from optimizer.model.job import Job

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class InverterSets:
    """Inverter sets that the site allows, one array element each, in the price list's order.

    ``life_cycle_cost`` and ``upfront_cost`` hold all that does not depend on the bank: sets,
    works per unit and per site, cable and fuse, swaps, standby, less the value left.
    """

    inverters: tuple[Inverter, ...]
    wiring: tuple[CableRun, ...]
    units: Ints
    voltage_v: Ints
    efficiency: Floats
    no_load_w: Floats
    peak_current_a: Floats
    charger_a: Floats
    life_cycle_cost: Floats
    upfront_cost: Floats

    def __len__(self) -> int:
        return len(self.inverters)

    def take(self, rows: Ints) -> InverterSets:
        """Return some of the sets."""
        taken: dict[str, Any] = {}
        for one in fields(self):
            column = getattr(self, one.name)
            is_array = isinstance(column, np.ndarray)
            taken[one.name] = column[rows] if is_array else tuple(column[row] for row in rows)
        return InverterSets(**taken)


def build_sets(job: Job, demand: Demand, lifted: frozenset[Requirement]) -> InverterSets:
    """Return every inverter set that carries the loads and can be wired."""
    site = job.site
    rows: list[tuple[Inverter, CableRun, int, float, float]] = []
    for inverter in job.catalog.inverters:
        if inverter.system_v not in site.voltages or inverter.inverter in site.exclude:
            continue
        heat = heat_factor(inverter.power_w, inverter.power_w_40c, site.max_degc)
        for units in range(1, inverter.max_units + 1):
            carries = at_least(units * inverter.power_w * heat, demand.peak_w) and at_least(
                units * inverter.power_va * heat, demand.peak_va
            )
            starts = at_least(units * inverter.surge_w, demand.surge_w)
            if not (carries or Requirement.POWER in lifted):
                continue
            if not (starts or Requirement.SURGE in lifted):
                continue
            wiring = choose_cable(
                job.catalog.cables,
                job.catalog.fuses,
                current_a=battery_current_a(
                    units * inverter.power_w, inverter.efficiency, inverter.system_v
                ),
                length_m=site.battery_cable_m,
                max_drop_v=site.max_drop * inverter.system_v,
            )
            if wiring is None and Requirement.WIRING in lifted:
                wiring = CableRun(job.catalog.cables[-1], max(RUNS), job.catalog.fuses[-1])
            if wiring is not None:
                rows.append((inverter, wiring, units, *_set_money(job, inverter, units, wiring)))
    counts = np.array([row[2] for row in rows], dtype=np.int64)

    def column(name: str) -> Floats:
        return np.array([getattr(row[0], name) for row in rows], dtype=float)

    return InverterSets(
        inverters=tuple(row[0] for row in rows),
        wiring=tuple(row[1] for row in rows),
        units=counts,
        voltage_v=column("system_v").astype(np.int64),
        efficiency=column("efficiency"),
        no_load_w=counts * column("no_load_w"),
        peak_current_a=np.array(
            [battery_current_a(demand.peak_w, row[0].efficiency, row[0].system_v) for row in rows]
        ),
        charger_a=counts * column("charger_a"),
        life_cycle_cost=np.array([row[3] for row in rows], dtype=float),
        upfront_cost=np.array([row[4] for row in rows], dtype=float),
    )


def _set_money(job: Job, inverter: Inverter, units: int, wiring: CableRun) -> tuple[float, float]:
    """Return life-cycle and upfront cost of a set with the works of the site [currency]."""
    site, factor = job.site, gross(job)
    horizon, rate = site.horizon_years, site.discount_rate
    per_unit_first = inverter.price + works_price(job, "inverter_unit", first=True)
    per_unit_swap = inverter.price + works_price(job, "inverter_unit", first=False)
    upfront = factor * (
        units * per_unit_first
        + cable_price(wiring, site.battery_cable_m)
        + works_price(job, "site", first=True)
    )
    life = whole_years(inverter.life_years)
    swaps = range(life, horizon, life)
    total = upfront + sum(factor * units * per_unit_swap / (1 + rate) ** year for year in swaps)
    last = max((0, *swaps))
    share_left = (last + life - horizon) / life
    total -= (
        site.residual_share * factor * units * inverter.price * share_left / (1 + rate) ** horizon
    )
    standby_year = units * inverter.standby_w * 8.76 * site.tariff
    total += standby_year * yearly_costs_factor(rate, 0, horizon)
    return total, upfront
