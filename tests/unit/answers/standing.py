"""Jobs in which nothing but the bank can be what is missing."""

from __future__ import annotations

from dataclasses import replace

from optimizer.model.job import Cable, Fuse
from tests.unit.builders import make_battery, make_inverter, make_job

#: Wide enough that no cable, fuse or power limit plays a part.
CABLES, FUSES = (
    (Cable(section_mm2=120.0, ampacity_a=500.0, ohm_per_km=0.16, price_per_m=10.0),),
    (Fuse(rating_a=400.0, price=20.0),),
)


def roomy(*loads, battery, inverter=None, **changes):
    """Return a job in which only the bank can be what is missing, and the bank to be judged."""
    inverter = inverter or make_inverter(
        efficiency=0.8, no_load_w=0.0, power_w=4000.0, power_w_40c=4000.0, power_va=5000.0
    )
    inverter = replace(inverter, surge_w=9000.0)
    job = make_job(
        *loads,
        batteries=[battery],
        inverters=[inverter],
        cables=CABLES,
        fuses=FUSES,
        **({"max_drop": 0.1} | changes),
    )
    return job, inverter


def heavy_battery(**changes):
    """A flooded battery that may be drawn to flat, 200 Ah at the 20-hour rate, exponent 1.2."""
    values = {
        "capacity_ah": 200.0,
        "rate_h": 20.0,
        "peukert": 1.2,
        "max_dod": 1.0,
        "discharge_rate_max": 5.0,
        "charge_rate_max": 5.0,
        "cycle_points": ((0.5, 400.0), (0.8, 250.0)),
    }
    return make_battery(**(values | changes))
