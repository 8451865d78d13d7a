"""What each line of a quote leaves: for the installer alone."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from optimizer.formulas.rounding import rounded
from optimizer.quote.lines import Line

if TYPE_CHECKING:
    from optimizer.quote.lines import Pricing


@dataclass(frozen=True, slots=True)
class Margin:
    """A line as the installer alone reads it: what it costs, brings, and leaves before tax."""

    line: Line
    cost: Decimal
    selling: Decimal

    @property
    def margin(self) -> Decimal:
        """Selling price less cost."""
        return self.selling - self.cost

    @property
    def share(self) -> Decimal:
        """The margin as a share of the selling price."""
        return self.margin / self.selling if self.selling else Decimal(0)


def margins(pricing: Pricing) -> tuple[Margin, ...]:
    """Return what each line leaves to the installer; for the installer alone."""
    found = []
    for line in pricing.first.lines:
        cost = rounded(line.quantity * line.cost_each, pricing.currency)
        selling = line.amount
        if not pricing.markup_spread:
            selling += rounded(line.amount * pricing.markup_rate, pricing.currency)
        found.append(Margin(line, cost, selling))
    return tuple(found)
