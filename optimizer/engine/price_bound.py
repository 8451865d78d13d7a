"""A bound on every selection of one option of each group, by putting a price on a limit.

At a price of the limit each group takes what is worth most less its price (H. Everett, Operations
Research 11, 1963). What that is worth, and the limit at its price, no selection within the limit
exceeds, whatever other limits there are; at the lowest price where the selection itself is within
the limit it is nearly an optimum. Then an option's bound is the bound on all less what its group
gives up by taking it: options whose bound is below a selection that is known need no look.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from optimizer.model.arrays import Bools, Floats, Ints

#: Times the interval of prices is halved: to the last digits of a float.
_HALVINGS = 60
#: No price is above, in the worth of the best option for all of the limit it takes: a limit that
#: cannot be met has none.
_DEAREST = 1e12
#: Sums of many options are known to this share of themselves.
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Limit:
    """A sum over the options chosen is ``most`` at most; ``weights`` hold one for each option.

    With ``shares_worst`` the row may be passed by as much as the worst of all such rows is, which
    is then what is made small.
    """

    weights: Floats
    most: float
    shares_worst: bool = False

    def passed(self, taken: Bools) -> float:
        """Return by how much a selection passes it; negative where it leaves something."""
        return float(self.weights[taken].sum()) - self.most


@dataclass(frozen=True)
class PriceBound:
    """Options of groups, rising, under one limit; of the groups in ``must`` one is taken."""

    group: Ints
    worth: Floats
    must: Bools
    limit: Limit

    @cached_property
    def price(self) -> float | None:
        """The lowest price at which the limit is met; None where no price does."""
        if self._is_within(0.0):
            return 0.0
        # not passed at no price: some weight is not 0
        usual = float(np.abs(self.worth).max() / np.abs(self.limit.weights).max()) or 1.0
        low, high = 0.0, usual
        while not self._is_within(high):
            low, high = high, 2 * high
            if not high <= usual * _DEAREST:
                return None
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            low, high = (low, middle) if self._is_within(middle) else (middle, high)
        return high

    @cached_property
    def bound(self) -> float:
        """What no selection within the limit is worth more than."""
        price = self.price or 0.0
        return float(self._best(price).sum()) + price * self.limit.most

    @cached_property
    def known(self) -> Bools | None:
        """A selection within the limit, nearly the best; None where no price finds one."""
        return None if self.price is None else self._filled(self._at(self.price))

    def worth_a_look(self, gap: float) -> Ints:
        """Return the options that may be in a selection worth more than `known`, by a gap."""
        assert self.known is not None
        price = self.price or 0.0
        own = float(self.worth[self.known].sum())
        given_up = np.repeat(self._best(price), self._lengths) - self._net(price)
        least = own + (gap - _ROUNDING) * abs(own)
        return np.flatnonzero(self.known | (self.bound - given_up >= least))

    @cached_property
    def _starts(self) -> Ints:
        return np.flatnonzero(np.diff(self.group, prepend=-1))

    @cached_property
    def _lengths(self) -> Ints:
        return np.diff(self._starts, append=self.group.size)

    def _net(self, price: float) -> Floats:
        return self.worth - price * self.limit.weights

    def _best(self, price: float) -> Floats:
        """Return what each group takes is worth less its price, nothing where it may."""
        best = np.maximum.reduceat(self._net(price), self._starts)
        return np.where(self.must[self.group[self._starts]], best, np.maximum(best, 0.0))

    def _at(self, price: float) -> Bools:
        """Return the selection at a price; of equals in a group the one that takes least."""
        net = self._net(price)
        best = np.maximum.reduceat(net, self._starts)
        takes = np.where(net >= np.repeat(best, self._lengths), self.limit.weights, np.inf)
        first = np.lexsort((takes, self.group))[self._starts]
        taken = np.zeros(self.group.size, bool)
        taken[first[(best > 0) | self.must[self.group[self._starts]]]] = True
        return taken

    def _is_within(self, price: float) -> bool:
        return self.limit.passed(self._at(price)) <= 0

    def _filled(self, taken: Bools) -> Bools:
        """Return a selection with exchanges that the limit leaves room for, the best first."""
        while True:
            of_group = np.zeros((2, self.must.size))
            of_group[:, self.group[taken]] = self.worth[taken], self.limit.weights[taken]
            more = self.worth - of_group[0][self.group]
            takes = self.limit.weights - of_group[1][self.group]
            gain = np.where(takes <= -self.limit.passed(taken), more, 0.0)
            best = int(gain.argmax())
            if gain[best] <= 0:
                return taken
            taken = taken & (self.group != self.group[best])
            taken[best] = True
