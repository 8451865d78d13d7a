"""The bank as it is in each year: how much of it is left, and how fast it charges."""

from typing import NamedTuple

import numpy as np

from optimizer.errors import InternalError
from optimizer.model.arrays import Floats
from optimizer.model.design import BankPeriod, Design
from optimizer.model.job import Job

#: A bank worn past nothing still needs a capacity above zero to be divided by.
_LEAST_HEALTH = 1e-6
#: Charging voltage over the nominal class where the battery's row gives none: 14 V for a 12 V
#: unit (common practice).
_CHARGE_OVER_CLASS = 14 / 12
#: Times this close, of a span, are one moment.
_SAME_MOMENT = 1e-9


class Stage(NamedTuple):
    """One bank at one age under the loads of one year: a line of every table here."""

    period: BankPeriod
    year: int
    health: float


def health_at(period: BankPeriod, age_years: float) -> float:
    """Return the share of new capacity left at an age [a]: a straight line, not below 0."""
    lost = (1 - period.battery.end_of_life_soh) * age_years / period.service_life_years
    return max(0.0, 1 - lost)


def oldest_in_year(period: BankPeriod, year: int) -> float:
    """Return the greatest age [a] of a bank that serves in a year, at its end or on retirement."""
    bought = [period.start + one * period.service_life_years for one in range(period.bought)]
    moment = _SAME_MOMENT * max(1.0, period.end - period.start)
    return max(
        min(retired, year + 1.0) - begun
        for begun, retired in zip(bought, [*bought[1:], float(period.end)], strict=True)
        if begun < year + 1 - moment and retired > year + moment
    )


def stages_by_year(design: Design) -> tuple[Stage, ...]:
    """Return for each year the bank in service, at the weakest that it is in that year."""
    stages = [
        Stage(period, year, health_at(period, oldest_in_year(period, year)))
        for period in design.banks
        for year in range(max(0, period.start), period.end)
    ]
    stages.sort(key=lambda stage: stage.year)
    if not stages or [s.year for s in stages] != list(range(stages[0].year, stages[-1].year + 1)):
        raise InternalError("a design must have exactly one bank in service in every year")
    return tuple(stages)


def capacity_ah(job: Job, stage: Stage) -> float:
    """Return the effective capacity [Ah] at the rated hours, cold and aged.

    Below the coldest known point the share stays at that point's.
    """
    battery = stage.period.battery
    degc, share = zip(*battery.cold_points, strict=True)
    cold = float(np.interp(job.site.min_degc, degc, share))
    health = max(stage.health, _LEAST_HEALTH)
    return stage.period.strings * battery.capacity_ah * cold * health


def bank_voltage_v(period: BankPeriod) -> float:
    """Return the voltage by which the bank's energy is reckoned [V]."""
    return period.series * period.battery.voltage_v


def charging_voltage_v(period: BankPeriod) -> float:
    """Return the voltage at which the bank is charged [V]."""
    battery = period.battery
    unit_v = battery.absorption_v
    return period.series * (battery.class_v * _CHARGE_OVER_CLASS if unit_v is None else unit_v)


def charger_current_a(design: Design, period: BankPeriod) -> float:
    """Return the charge current [A]: all chargers together, no more than the bank may take."""
    battery = period.battery
    taken_a = battery.charge_rate_max * period.strings * battery.capacity_ah
    return min(design.inverter_units * design.inverter.charger_a, taken_a)


def charge_ratio(period: BankPeriod) -> float:
    """Return the ampere-hours to put back for each one drawn.

    The charge factor, or what the round trip asks for in energy at the charging voltage,
    whichever is more.
    """
    battery = period.battery
    by_energy = bank_voltage_v(period) / battery.round_trip / charging_voltage_v(period)
    return max(battery.charge_factor, by_energy)


def bank_current_a(
    job: Job, design: Design, stages: tuple[Stage, ...], watts: Floats, load_factor: float = 1.0
) -> Floats:
    """Return the current from the bank [A] for AC watts (any shape), by stage."""
    each = (slice(None), *(None,) * watts.ndim)
    grown = np.array([(1 + job.site.load_growth) ** s.year for s in stages])[each] * load_factor
    volts = np.array([bank_voltage_v(s.period) for s in stages])[each]
    idle_w = design.inverter_units * design.inverter.no_load_w
    amps: Floats = (grown * watts / design.inverter.efficiency + idle_w) / volts
    return amps
