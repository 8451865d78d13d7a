"""One bank's discharges, wear and energy by plain arithmetic, apart from the columns."""

from typing import NamedTuple

import numpy as np

from optimizer.engine.events import Events
from optimizer.formulas.ageing import cycles_to_end_of_life, service_life_years
from optimizer.formulas.charging import float_wh_per_year
from optimizer.formulas.rate import depth_taken
from optimizer.formulas.temperature import cold_share, float_life_years
from optimizer.model.design import BankPeriod
from optimizer.model.job import Battery, Job


class Discharge(NamedTuple):
    """One kind of event in a bank: hours, times a year, depth, share of its energy served.

    ``energy_wh`` is AC, of year 0; ``is_peak`` marks peaks of the supply.
    """

    hours: float
    times_a_year: float
    energy_wh: float
    depth: float
    served: float
    is_peak: bool


def cold_wh(job: Job, bank: BankPeriod) -> float:
    """Return what a new bank holds in the cold at its rated current [Wh]."""
    battery = bank.battery
    share = cold_share(battery.cold_points, job.site.min_degc) or 0.0
    return bank.units * battery.voltage_v * battery.capacity_ah * share


def discharges(job: Job, bank: BankPeriod, events: Events) -> list[Discharge]:
    """Return how deep each kind of event discharges a new bank, no deeper than allowed."""
    battery, whole_wh = bank.battery, cold_wh(job, bank)
    key = (whole_wh, battery.rate_h, battery.peukert, battery.max_dod)
    if key in events.known_discharges:
        return list(events.known_discharges[key])
    found: list[Discharge] = []
    for hours, energy_wh, times, is_peak in zip(
        events.hours.tolist(),
        events.energy_wh.tolist(),
        events.times_a_year.tolist(),
        events.is_peak.tolist(),
        strict=True,
    ):
        # a room colder than the battery's data leaves nothing to divide by
        share = energy_wh / job.site.reference_efficiency / whole_wh if whole_wh else float("inf")
        depth = float(depth_taken(share, hours, battery.rate_h, battery.peukert))
        served = 1.0 if depth <= battery.max_dod else battery.max_dod / depth
        depth = min(depth, battery.max_dod)
        found.append(Discharge(hours, times, energy_wh, depth, served, is_peak))
    events.known_discharges[key] = found
    return found


def cycle_wear_per_year(job: Job, bank: BankPeriod, events: Events) -> float:
    """Return the share of the bank's cycle life that a year's events take [1/a]."""
    felt = [one for one in discharges(job, bank, events) if one.depth > 0]
    depths = np.array([one.depth for one in felt])
    cycles = cycles_to_end_of_life(depths, bank.battery.cycle_points)
    return float(sum(one.times_a_year / lasts for one, lasts in zip(felt, cycles, strict=True)))


def calendar_life_years(job: Job, battery: Battery) -> float:
    """Return the life of a battery that only stands on float in the site's room [a]."""
    return float_life_years(
        battery.float_life_years,
        battery.halving_degc,
        job.site.room_degc,
        battery.float_life_degc,
    )


def life_years(job: Job, bank: BankPeriod, events: Events) -> float:
    """Return the service life of one of the banks of a period [a]."""
    calendar = calendar_life_years(job, bank.battery)
    return float(service_life_years(calendar, cycle_wear_per_year(job, bank, events)))


def energy_kwh_per_year(job: Job, bank: BankPeriod, events: Events) -> tuple[float, float]:
    """Return what is bought for a bank in a year: used by the loads, and lost [kWh].

    Losses are those of charging and conversion, of the peaks of the supply, and what holds the
    bank full.
    """
    battery, efficiency = bank.battery, job.site.reference_efficiency
    used_wh = lost_wh = 0.0
    for one in discharges(job, bank, events):
        bought_share = 1 / (efficiency * battery.round_trip)
        if one.is_peak:
            lost_wh += one.times_a_year * one.energy_wh * (bought_share - 1)
        else:
            served_wh = one.times_a_year * one.served * one.energy_wh
            used_wh += served_wh
            lost_wh += served_wh * (bought_share - 1)
    return used_wh / 1000, (lost_wh + standing_wh_per_year(bank)) / 1000


def standing_wh_per_year(bank: BankPeriod) -> float:
    """Return the energy that holds a bank full for a year [Wh]."""
    battery = bank.battery
    if battery.float_ma_ah is None:
        stored_wh = bank.units * battery.voltage_v * battery.capacity_ah
        return 12 * battery.self_discharge_month * stored_wh / battery.round_trip
    capacity_ah, float_v = bank.strings * battery.capacity_ah, bank.series * battery.floating_v
    return float(float_wh_per_year(capacity_ah, battery.float_ma_ah, float_v))
