"""How far banks are drawn down, before and after an outage, and how they come back."""

from typing import NamedTuple

import numpy as np

from optimizer.model.arrays import Floats, Rows

#: A bank lacking less than this share of what was drawn is full.
_FULL = 1e-8


class Depletion(NamedTuple):
    """How far banks are drawn down: share used (Peukert's law included) and charge drawn [Ah]."""

    depth: Floats
    drawn_ah: Floats

    def of(self, rows: Rows) -> "Depletion":
        """Return the banks of some rows."""
        return Depletion(self.depth[rows], self.drawn_ah[rows])

    def plus(self, other: "Depletion") -> "Depletion":
        """Return the banks with what the other one took taken too."""
        return Depletion(self.depth + other.depth, self.drawn_ah + other.drawn_ah)

    def at_least(self, other: "Depletion") -> "Depletion":
        """Return the banks drawn down as far as the other ones at least."""
        depth = np.maximum(self.depth, other.depth)
        return Depletion(depth, np.maximum(self.drawn_ah, other.drawn_ah))

    def times(self, factor: Floats) -> "Depletion":
        """Return so many times of what was taken."""
        return Depletion(self.depth * factor, self.drawn_ah * factor)

    def less(self, charged_ah: Floats) -> "Depletion":
        """Return the banks when so much is made good [Ah]; depth comes back in step with it."""
        left_ah = np.maximum(0.0, self.drawn_ah - charged_ah)
        left_ah[left_ah <= _FULL * self.drawn_ah] = 0.0
        share = left_ah / np.where(self.drawn_ah > 0, self.drawn_ah, 1.0)
        return Depletion(self.depth * share, left_ah)
