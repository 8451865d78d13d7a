"""What the loads of a site ask for, worked out."""

import math
from collections import deque
from dataclasses import replace
from typing import Final

from optimizer.formulas.load import largest_start_w, mean_w, peak_demand, profiles_w
from optimizer.model.demand import Demand
from optimizer.model.job import Job, Load

#: What was asked lately: the loads themselves, what else it depends on, and the answer. A question
#: asked again under another price or temperature keeps the stretches worked out for it.
_LATELY: Final[deque[tuple[tuple[Load, ...], tuple[object, ...], Demand]]] = deque(maxlen=16)


def demand_of(job: Job) -> Demand:
    """Return what the loads of the site's tiers ask for."""
    site = job.site
    growth = max(1.0, (1 + site.load_growth) ** (site.horizon_years - 1))
    question = (site.tiers, site.seasons, site.coincidence, dict(site.tier_hours))
    for loads, asked, demand in tuple(_LATELY):
        if loads is job.loads and asked == question:
            return replace(demand, growth=growth)
    demand = _worked_out(job, growth)
    _LATELY.append((job.loads, question, demand))
    return demand


def _worked_out(job: Job, growth: float) -> Demand:
    site = job.site
    loads = [load for load in job.loads if load.tier in site.tiers]
    profiles = profiles_w(loads, site.seasons)
    peak_w, peak_va = peak_demand(loads, site.seasons, site.coincidence)
    carried_h = {tier: float(site.tier_hours.get(tier, math.inf)) for tier in site.tiers}
    layers = tuple(
        (hours, profiles_w([load for load in loads if carried_h[load.tier] == hours], site.seasons))
        for hours in sorted(set(carried_h.values()))
    )
    return Demand(
        profiles=profiles,
        layers=layers,
        layer_means_w=tuple(mean_w(layer, site.seasons) for _, layer in layers),
        peak_w=peak_w,
        peak_va=peak_va,
        surge_w=peak_w + largest_start_w(loads),
        mean_w=mean_w(profiles, site.seasons),
        growth=growth,
    )
