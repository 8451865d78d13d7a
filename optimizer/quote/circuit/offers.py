"""Parts chosen from the price list, or what they must be rated for where it has none."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TypeVar

from optimizer.formulas.tolerance import at_least
from optimizer.formulas.wiring import FUSE_VOLTAGE_FACTOR
from optimizer.model.job import Catalog, Fuse
from optimizer.model.part import UNRATED_KINDS, ListedPart, PartKind
from optimizer.quote.circuit.parts import CircuitPart, Rating
from optimizer.quote.figures import Figure, Given, Note, settled

OfferT = TypeVar("OfferT", Fuse, ListedPart)


def part_of(
    catalog: Catalog,
    kind: PartKind,
    least_a: float,
    *figures: Figure,
    quantity: int = 1,
    direct_v: float | None = None,
) -> CircuitPart:
    """Return the smallest part of a kind on offer that is rated high enough, with its figures.

    ``least_a`` is without meaning where the kind has no rating. ``direct_v`` is the direct voltage
    that it switches [V]: a part that states less than 1.25 times it is passed over.
    """
    found = smallest((one for one in catalog.parts if one.kind is kind), least_a, direct_v)
    rating_a = None if found is None else found.rating_a
    if found is not None and direct_v is not None:
        *others, last = figures
        held = replace(  # against the direct voltage that the part states
            last,
            inputs=(*last.inputs, Given("rated voltage", found.rated_v, "V")),
            notes=(Note.VOLTAGE_UNKNOWN,) if found.rated_v is None else (),
            state=settled(bears(found.rated_v, direct_v)),
        )
        figures = (*others, held)
    least = None if kind in UNRATED_KINDS else Rating(least_a, "A", is_least=True)
    return CircuitPart(
        kind,
        quantity=quantity,
        rating=least if rating_a is None else Rating(rating_a, "A"),
        figures=figures,
        ware=found,
    )


def bears(rated_v: float | None, direct_v: float | None) -> bool | None:
    """Tell whether a part breaks the voltage of a bank; None where that is not stated."""
    if direct_v is None:
        return True
    if rated_v is None:
        return None
    return bool(at_least(rated_v, FUSE_VOLTAGE_FACTOR * direct_v))


def smallest(offers: Iterable[OfferT], least_a: float, direct_v: float | None) -> OfferT | None:
    """Return the smallest on offer for a current and a direct voltage, the cheapest of its size."""
    fitting = [
        one
        for one in offers
        if (one.rating_a is None or at_least(one.rating_a, least_a))
        and bears(one.rated_v, direct_v) is not False
    ]
    return min(fitting, key=lambda one: (one.rating_a or 0.0, one.price), default=None)
