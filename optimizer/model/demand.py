"""What a site asks of any equipment."""

from collections.abc import Hashable
from dataclasses import dataclass, field
from typing import Any

from optimizer.model.arrays import Floats


@dataclass(frozen=True, slots=True)
class Demand:
    """What the site asks of any equipment.

    ``profiles`` [W] has one row a season and 24 columns; powers in W and VA. ``layers`` split the
    profiles by the hours for which an outage carries them [h], infinite where throughout;
    ``layer_means_w`` are their means over the year. ``growth`` is the largest year's load over
    that of year 0.
    """

    profiles: Floats
    layers: tuple[tuple[float, Floats], ...]
    layer_means_w: tuple[float, ...]
    peak_w: float
    peak_va: float
    surge_w: float
    mean_w: float
    growth: float
    known_stretches: dict[Hashable, Any] = field(default_factory=dict, repr=False, compare=False)
    known_outages_wh: dict[Hashable, float] = field(default_factory=dict, repr=False, compare=False)

    def mean_wh(self, hours: float) -> float:
        """Return what an outage takes that has no clock, tiers let go after their hours [Wh]."""
        means = zip(self.layers, self.layer_means_w, strict=True)
        return sum(min(hours, carried_h) * mean_w for (carried_h, _), mean_w in means)
