"""keeplit: the exact curve of cost against hours of autonomy through grid failures.

Five lines from a site file to proven designs::

    from optimizer import choose, frontier, load
    job = load("house")
    for point in frontier(job).points:
        print(point.hours, round(point.life_cycle_cost))
    print(choose(job, hours=24).design.inverter.inverter)
"""

from optimizer.api import choose, frontier, load, survey
from optimizer.design import BankPeriod, CableRun, Curve, Design
from optimizer.errors import (
    Fault,
    InputError,
    InternalError,
    KeeplitError,
    NoDesignError,
    NotProvenError,
)
from optimizer.job import Job

__all__ = [
    "BankPeriod",
    "CableRun",
    "Curve",
    "Design",
    "Fault",
    "InputError",
    "InternalError",
    "Job",
    "KeeplitError",
    "NoDesignError",
    "NotProvenError",
    "choose",
    "frontier",
    "load",
    "survey",
]
