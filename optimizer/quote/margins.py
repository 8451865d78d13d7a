"""What each line of a quote leaves: for the installer alone."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from optimizer.formulas.rounding import rounded
from optimizer.quote.sums import AddedKind, Heading, Line, Part

if TYPE_CHECKING:
    from optimizer.quote.lines import Pricing
    from optimizer.quote.sums import Added


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
    """Return what each line leaves to the installer, markups and discounts included."""
    found = []
    for line in pricing.first.lines:
        cost = rounded(line.quantity * line.cost_each, pricing.currency)
        markup = sum((one.rate for one in pricing.first.added if _marks(one, line)), Decimal(0))
        off = sum((one.rate for one in pricing.first.added if one.is_discount), Decimal(0))
        selling = rounded(line.amount * (1 + markup) * (1 - off), pricing.currency)
        found.append(Margin(line, cost, selling))
    return tuple(found)


def _marks(added: Added, line: Line) -> bool:
    """Tell whether a markup is on a line: extras have none."""
    labour = line.heading is Heading.LABOUR
    wanted = AddedKind.MARKUP_LABOUR if labour else AddedKind.MARKUP_GOODS
    return added.kind is wanted and line.item.part is not Part.EXTRA
