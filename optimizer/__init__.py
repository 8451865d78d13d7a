"""keeplit: the exact curve of cost against hours of autonomy through grid failures.

Five lines from a site file to proven designs::

    from optimizer import choose, frontier, load
    job = load("house")
    for point in frontier(job).points:
        print(point.hours, round(point.life_cycle_cost))
    print(choose(job, hours=24).design.inverter.inverter)
"""

from optimizer.api import (
    assumptions,
    choose,
    frontier,
    judge,
    load,
    load_design,
    make_quote,
    outages,
    second_opinion,
    survey,
)
from optimizer.api_compare import (
    break_even_line,
    budget_table,
    compare,
    regret,
    sensitivities,
    staircase,
    switch_points,
    tiers,
)
from optimizer.errors import (
    Fault,
    InputError,
    InternalError,
    KeeplitError,
    NoDesignError,
    NotProvenError,
)
from optimizer.model.design import BankPeriod, CableRun, Curve, Design
from optimizer.model.existing import Existing
from optimizer.model.job import Job

__all__ = [
    "BankPeriod",
    "CableRun",
    "Curve",
    "Design",
    "Existing",
    "Fault",
    "InputError",
    "InternalError",
    "Job",
    "KeeplitError",
    "NoDesignError",
    "NotProvenError",
    "assumptions",
    "break_even_line",
    "budget_table",
    "choose",
    "compare",
    "frontier",
    "judge",
    "load",
    "load_design",
    "make_quote",
    "outages",
    "regret",
    "second_opinion",
    "sensitivities",
    "staircase",
    "survey",
    "switch_points",
    "tiers",
]
