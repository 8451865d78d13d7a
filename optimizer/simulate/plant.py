"""A generator as it stands at the site."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from optimizer.model.job import Generator, GeneratorRules, Job

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from optimizer.model.design import Design

#: Moments this close [h] are one.
MOMENT_H = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Plant:
    """The model, when it may run, and the litres stored [l] as an outage begins."""

    generator: Generator
    rules: GeneratorRules
    fuel_l: float

    def quiet_at(self, time_h: NDArray[np.float64]) -> NDArray[np.bool_]:
        """Return whether it must be silent at times since a midnight [h]."""
        if self.rules.quiet is None:
            return np.zeros(time_h.shape, dtype=bool)
        begin, end = self.rules.quiet
        quiet: NDArray[np.bool_] = (time_h + MOMENT_H - begin) % 24 < end - begin
        return quiet


def plant_of(job: Job, design: Design) -> Plant | None:
    """Return the design's generator as it stands at the site, None without one."""
    if design.generator is None or job.site.generator is None:
        return None
    return Plant(generator=design.generator, rules=job.site.generator, fuel_l=design.fuel_l)
