"""What the loads of a site ask for, worked out."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from optimizer.formulas.load import largest_start_w, mean_w, peak_demand, profiles_w
from optimizer.model.demand import Demand

if TYPE_CHECKING:
    from optimizer.model.job import Job


def demand_of(job: Job) -> Demand:
    """Return what the loads of the site's tiers ask for."""
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
        growth=max(1.0, (1 + site.load_growth) ** (site.horizon_years - 1)),
    )
