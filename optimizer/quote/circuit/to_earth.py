"""What belongs to earth: neutral, protective and bonding conductors, a pole of the bank."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.formulas.protection import (
    bonding_conductor_mm2,
    protective_conductor_mm2,
    section_behind_mm2,
)
from optimizer.model.part import PartKind
from optimizer.quote.circuit.parts import CircuitPart, Rating
from optimizer.quote.figures import Figure, FigureKind, Given, State

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from optimizer.model.design import Design


def earth_parts(design: Design, mains: Sequence[CircuitPart]) -> Iterator[CircuitPart]:
    """Yield the conductors to earth, and what the installer decides.

    Parameters
    ----------
    design : Design
        What is connected.
    mains : sequence of CircuitPart
        The alternating-current side, for the cables behind its breakers.
    """
    asked = Figure(kind=FigureKind.NEUTRAL_BOND, state=State.NOT_YET_KNOWN)
    yield CircuitPart(kind=PartKind.NEUTRAL_BOND, figures=(asked,))
    run = design.wiring
    direct_mm2 = 0.0 if run is None else run.runs * run.cable.section_mm2
    line_mm2 = max(direct_mm2, *(_behind_mm2(part) for part in mains))
    earthing_mm2 = protective_conductor_mm2(line_mm2)
    earthing = Figure(
        kind=FigureKind.EARTHING_CONDUCTOR,
        value=earthing_mm2,
        unit="mm²",
        inputs=(Given("thickest line", line_mm2, "mm²"),),
    )
    yield CircuitPart(
        kind=PartKind.EARTHING_CONDUCTOR, rating=Rating(earthing_mm2, "mm²"), figures=(earthing,)
    )
    bonding_mm2 = bonding_conductor_mm2(earthing_mm2)
    bonding = Figure(
        kind=FigureKind.BONDING_CONDUCTOR,
        value=bonding_mm2,
        unit="mm²",
        inputs=(Given("protective conductor", earthing_mm2, "mm²"),),
    )
    yield CircuitPart(
        kind=PartKind.BONDING_CONDUCTOR, rating=Rating(bonding_mm2, "mm²"), figures=(bonding,)
    )
    if run is not None:
        pole = Figure(kind=FigureKind.DC_EARTH, state=State.NOT_YET_KNOWN)
        yield CircuitPart(kind=PartKind.DC_EARTH, figures=(pole,))


def _behind_mm2(part: CircuitPart) -> float:
    """Return the copper behind a breaker [mm²], 0 behind anything else."""
    if part.kind not in {PartKind.SUPPLY_BREAKER, PartKind.OUTPUT_BREAKER} or part.rating is None:
        return 0.0
    return section_behind_mm2(part.rating.value) or 0.0
