"""What the loads of a site ask for, worked out."""

from __future__ import annotations

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
    return Demand(
        profiles=profiles,
        peak_w=peak_w,
        peak_va=peak_va,
        surge_w=peak_w + largest_start_w(loads),
        mean_w=mean_w(profiles, site.seasons),
    )
