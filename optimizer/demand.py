"""What the site asks of any equipment: profiles, peak, surge and mean power."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from optimizer.formulas.load import largest_start_w, mean_w, peak_demand, profiles_w

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from optimizer.job import Job


@dataclass(frozen=True, slots=True)
class Demand:
    """What the site asks of any equipment.

    ``profiles`` [W] has one row a season and 24 columns; powers in W and VA.
    """

    profiles: NDArray[np.float64]
    peak_w: float
    peak_va: float
    surge_w: float
    mean_w: float


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
