"""What belongs to earth: neutral, protective and bonding conductors, a pole of the bank."""

from collections.abc import Iterator, Sequence

from optimizer.formulas import protection
from optimizer.model.design import Design
from optimizer.model.part import PartKind
from optimizer.quote.circuit.parts import CircuitPart, Rating
from optimizer.quote.figures import Figure, FigureKind, Given, State


def earth_parts(design: Design, mains: Sequence[CircuitPart]) -> Iterator[CircuitPart]:
    """Yield the conductors to earth behind these mains, and what the installer decides."""
    yield _decision(PartKind.NEUTRAL_BOND, FigureKind.NEUTRAL_BOND)
    run = design.wiring
    direct_mm2 = 0.0 if run is None else run.runs * run.cable.section_mm2
    line_mm2 = max(direct_mm2, *(_behind_mm2(part) for part in mains))
    earthing_mm2 = protection.protective_conductor_mm2(line_mm2)
    thickest = Given("thickest line", line_mm2, "mm²")
    earthing = Figure(FigureKind.EARTHING_CONDUCTOR, earthing_mm2, inputs=(thickest,))
    yield CircuitPart(
        PartKind.EARTHING_CONDUCTOR, rating=Rating(earthing_mm2, "mm²"), figures=(earthing,)
    )
    bonding_mm2 = protection.bonding_conductor_mm2(earthing_mm2)
    conductor = Given("protective conductor", earthing_mm2, "mm²")
    bonding = Figure(FigureKind.BONDING_CONDUCTOR, bonding_mm2, inputs=(conductor,))
    yield CircuitPart(
        PartKind.BONDING_CONDUCTOR, rating=Rating(bonding_mm2, "mm²"), figures=(bonding,)
    )
    if run is not None:
        yield _decision(PartKind.DC_EARTH, FigureKind.DC_EARTH)


def _decision(kind: PartKind, figure: FigureKind) -> CircuitPart:
    return CircuitPart(kind, figures=(Figure(figure, state=State.NOT_YET_KNOWN),))


def _behind_mm2(part: CircuitPart) -> float:
    """Return the copper behind a breaker [mm²], 0 behind anything else."""
    if part.kind not in {PartKind.SUPPLY_BREAKER, PartKind.OUTPUT_BREAKER} or part.rating is None:
        return 0.0
    return protection.section_behind_mm2(part.rating.value) or 0.0
