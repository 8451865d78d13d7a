"""What labour, transport and fittings cost, by the basis they are charged on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.formulas.money import gross_factor

if TYPE_CHECKING:
    from optimizer.model.job import Basis, Job


def works_price(job: Job, basis: Basis, *, first: bool) -> float:
    """Return the net price per ``basis`` of the works due at the first purchase, or at a swap."""
    when = ("first", "both") if first else ("swap", "both")
    return sum(
        work.price for work in job.catalog.works if work.basis == basis and work.applies in when
    )


def gross(job: Job) -> float:
    """Return the factor from a net price to what is paid at this site."""
    return gross_factor(job.site.markup, job.site.tax_rate)
