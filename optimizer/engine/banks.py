"""Banks as columns: which ones the site allows, how long they serve, and their money."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from optimizer.engine.works import gross, works_price
from optimizer.formulas.ageing import service_life_years, wear_per_year
from optimizer.formulas.rate import fixed_time_share
from optimizer.formulas.temperature import cold_share, float_life_years
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE, at_least
from optimizer.model.job import Battery
from optimizer.model.requirement import Requirement

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from optimizer.model.demand import Demand
    from optimizer.model.job import Job

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]
    Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Banks:
    """Banks that the site allows, one array element each, in the price list's order.

    ``usable_wh`` is what is there when new, cold and depth counted, before rate and uneven load.
    ``whole_life_years`` is the oldest whole age in service, ``least_years`` the least service
    before a replacement.
    """

    batteries: tuple[Battery, ...]
    series: Ints
    strings: Ints
    voltage_v: Ints
    vented: Bools
    usable_wh: Floats
    rate_h: Floats
    peukert: Floats
    end_of_life_soh: Floats
    service_life_years: Floats
    whole_life_years: Ints
    least_years: Floats
    discharge_a: Floats
    charge_a: Floats
    losses_wh: Floats

    def __len__(self) -> int:
        return len(self.batteries)

    @property
    def units(self) -> Ints:
        """Battery units in each bank."""
        return self.series * self.strings


def _capacity_share(
    job: Job, battery: Battery, family: str | None, lifted: frozenset[Requirement]
) -> float | None:
    """Return the share of capacity left in the cold, None where the site rules the model out."""
    site = job.site
    ruled_out = (
        (family is not None and battery.family != family)
        or battery.battery in site.exclude
        or battery.chemistry in site.exclude
        or (
            battery.gas == "vented" and not site.vented_allowed and Requirement.VENTED not in lifted
        )
    )
    if ruled_out:
        return None
    share = cold_share(battery.cold_points, site.min_degc)
    if Requirement.COLD in lifted:
        return battery.cold_points[0][1] if share is None else share
    return share if site.min_degc >= battery.min_charge_degc else None


def build_banks(
    job: Job, demand: Demand, family: str | None, lifted: frozenset[Requirement]
) -> Banks:
    """Return every bank that the site allows, of one family where one is named."""
    site = job.site
    rows: list[tuple[Battery, int, int, int, float]] = []
    for battery in job.catalog.batteries:
        share = _capacity_share(job, battery, family, lifted)
        if share is None:
            continue
        most = battery.max_parallel
        if site.max_parallel is not None and Requirement.STRINGS not in lifted:
            most = min(most, site.max_parallel)
        for voltage_v in sorted(set(site.voltages)):
            series, rest = divmod(voltage_v, battery.class_v)
            if rest or not 1 <= series <= battery.max_series:
                continue
            for strings in range(1, most + 1):
                mass_kg = series * strings * battery.mass_kg
                light = site.max_bank_kg is None or at_least(site.max_bank_kg, mass_kg)
                if light or Requirement.MASS in lifted:
                    rows.append((battery, series, strings, voltage_v, share))
    batteries = tuple(row[0] for row in rows)
    counts = np.array([row[1:4] for row in rows], dtype=np.int64).reshape(-1, 3).T
    series_count, strings_count, system_v = counts
    cold = np.array([row[4] for row in rows], dtype=float)

    def column(name: str) -> Floats:
        return np.array([getattr(battery, name) for battery in batteries], dtype=float)

    capacity_ah, max_dod = strings_count * column("capacity_ah"), column("max_dod")
    stored_wh = series_count * column("voltage_v") * capacity_ah
    life, taken_wh = _service(job, demand, batteries, stored_wh * cold)
    kept_wh = 12 * column("self_discharge_month") * stored_wh
    whole = np.floor(life * (1 + RELATIVE_TOLERANCE)).astype(np.int64)
    charge_rate = np.maximum(
        column("charge_rate_min"), column("charge_factor") * max_dod / site.recharge_hours
    )
    return Banks(
        batteries=batteries,
        series=series_count,
        strings=strings_count,
        voltage_v=system_v,
        vented=np.array([battery.gas == "vented" for battery in batteries], dtype=bool),
        usable_wh=stored_wh * cold * max_dod,
        rate_h=column("rate_h"),
        peukert=column("peukert"),
        end_of_life_soh=column("end_of_life_soh"),
        service_life_years=life,
        whole_life_years=whole,
        least_years=np.minimum(site.min_service_share * life, whole),
        discharge_a=column("discharge_rate_max") * capacity_ah,
        charge_a=charge_rate * capacity_ah,
        losses_wh=(taken_wh + kept_wh) / column("round_trip"),
    )


def _service(
    job: Job, demand: Demand, batteries: tuple[Battery, ...], stored_wh: Floats
) -> tuple[Floats, Floats]:
    """Return service life [a] and energy taken by outages a year [Wh] of each bank.

    ``stored_wh`` is nominal energy in the cold, before the rate. Outages of one length are
    counted together.
    """
    site = job.site
    frequency: defaultdict[float, float] = defaultdict(float)
    for hours, times in job.outages.yearly:
        frequency[hours] += times
    length_h = np.array(list(frequency), dtype=float)
    times_a_year = np.array(list(frequency.values()), dtype=float)
    energy_wh = length_h * demand.mean_w / site.reference_efficiency
    life, taken_wh = np.zeros(len(batteries)), np.zeros(len(batteries))
    by_model: dict[str, list[int]] = {}
    for index, battery in enumerate(batteries):
        by_model.setdefault(battery.battery, []).append(index)
    for rows in by_model.values():
        battery = batteries[rows[0]]
        rate = fixed_time_share(length_h, battery.rate_h, battery.peukert)
        nominal_wh = stored_wh[rows][:, None] * rate[None, :]
        depth = np.minimum(battery.max_dod, energy_wh[None, :] / nominal_wh)
        wear = wear_per_year(depth, times_a_year, battery.cycle_points)
        calendar = float_life_years(battery.float_life_years, battery.halving_degc, site.mean_degc)
        life[rows] = service_life_years(calendar, wear)
        taken_wh[rows] = (times_a_year * depth * nominal_wh).sum(axis=1)
    return life, taken_wh


def bank_money(job: Job, banks: Banks, starts: Ints, ends: Ints) -> tuple[Floats, Floats]:
    """Return the present value of every bank over every span, and its price at the start."""
    site, factor = job.site, gross(job)
    horizon, rate = site.horizon_years, site.discount_rate
    units = banks.units

    def column(name: str) -> Floats:
        return np.array([getattr(battery, name) for battery in banks.batteries], dtype=float)

    def works(*, first: bool) -> Floats:
        per_unit = works_price(job, "battery_unit", first=first)
        per_string = works_price(job, "string", first=first)
        per_kg = works_price(job, "kg", first=first)
        return units * (per_unit + per_kg * column("mass_kg")) + banks.strings * per_string

    price = units * column("price")
    years = np.arange(horizon + 1)
    discount = (1 + rate) ** -years.astype(float)
    drift = (1 + column("price_drift"))[:, None] ** years[None, :]
    equipment = price[:, None] * drift * factor  # (banks, year bought)
    first, swap = works(first=True) * factor, works(first=False) * factor
    bought = (equipment + np.where(years == 0, first[:, None], swap[:, None])) * discount
    yearly = units * column("upkeep_year") + banks.losses_wh / 1000 * site.tariff
    annuity = np.concatenate([[0.0], np.cumsum(discount[1:])])
    scrap = (units * column("scrap_value"))[:, None] * discount[None, :]
    ages = ends - starts
    cost = bought[:, starts] + yearly[:, None] * (annuity[ends] - annuity[starts])
    cost -= scrap[:, ends]
    at_horizon = ends == horizon
    left = 1 - ages[at_horizon][None, :] / banks.service_life_years[:, None]
    cost[:, at_horizon] -= (
        site.residual_share * equipment[:, starts[at_horizon]] * left * discount[horizon]
    )
    too_old = ages[None, :] > banks.whole_life_years[:, None]
    too_young = ~at_least(ages[None, :].astype(float), banks.least_years[:, None])
    cost[too_old | (too_young & ~at_horizon[None, :])] = np.inf
    return cost, equipment[:, 0] + first
