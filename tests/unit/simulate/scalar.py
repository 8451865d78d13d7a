"""The same simulation as a plain loop over hours, to hold against the vectors."""

from __future__ import annotations

import numpy as np


def ride_hours(job, design, year, season, start, *, watts=None, step_h=1.0, charge=1.0):
    """Hours from ``start`` until the bank of ``year`` is at its lowest; None if over 2,000."""
    period = next(p for p in design.banks if p.start <= year < p.end)
    battery = period.battery
    age = year - period.start + 1
    health = 1 - (1 - battery.end_of_life_soh) * age / period.service_life_years
    degc, share = zip(*battery.cold_points, strict=True)
    cold = float(np.interp(job.site.min_degc, degc, share))
    capacity = period.strings * battery.capacity_ah * cold * health
    volts = period.series * battery.voltage_v
    if watts is None:
        watts = [hour_watts(job, season, hour) for hour in range(24)]
    limit = battery.max_dod * (1 + 1e-8) * charge
    used, hours, step = 0.0, 0.0, round(start / step_h)
    while hours < 2000:
        ac = watts[step % len(watts)] * (1 + job.site.load_growth) ** year
        idle = design.inverter_units * design.inverter.no_load_w
        amps = (ac / design.inverter.efficiency + idle) / volts
        rated = capacity / battery.rate_h
        take = amps / capacity * max(1.0, (amps / rated) ** (battery.peukert - 1)) * step_h
        if used + take > limit:
            return hours + (limit - used) / take * step_h
        used, hours, step = used + take, hours + step_h, step + 1
    return None


def hour_watts(job, season, hour):
    """Mean AC watts of an hour, minute by minute."""
    total = 0.0
    for load in job.loads:
        if load.tier not in job.site.tiers:
            continue
        minutes = sum(
            any(a <= t < b for a, b in load.windows for t in (at, at + 24))
            for at in (hour + (m + 0.5) / 60 for m in range(60))
        )
        times = load.season_multipliers.get(season, 1.0)
        total += load.count * load.running_w * load.duty * times * minutes / 60
    return total
