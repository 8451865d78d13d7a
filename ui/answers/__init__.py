"""What is told of the design that is shown, each part under a question.

A part is a function of state, curves and answer; to add one, write it into `ui.answers.design`,
its heading into `ui.words` and a line here. Each is drawn by itself, so that one that fails
leaves the others, and only where it is open.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from optimizer.report.words.glossary import Term
from ui import words
from ui.answers import design, pictures

if TYPE_CHECKING:
    from ui.cached import Answer, Curves
    from ui.state import State

Part = Callable[["State", "Curves", "Answer"], None]

#: Heading and drawing of each part, in order; each opens by its heading.
PARTS: Final[dict[str, Part]] = {
    words.FIGURES: design.figures,
    words.MONEY: design.money,
    words.TRADES: design.trades,
    words.BINDING: design.binding,
    words.STEP: design.step,
    words.SIMULATION: design.holds,
    words.OUTAGE: pictures.outage,
}

#: Terms of the trade that a part uses; their meanings stand behind a button at its end.
TERMS: Final[dict[str, tuple[Term, ...]]] = {
    words.FIGURES: (
        Term.AUTONOMY,
        Term.STRING,
        Term.SERVICE_LIFE,
        Term.INVERTER_CHARGER,
        Term.STARTING_POWER,
    ),
    words.MONEY: (
        Term.UPFRONT_COST,
        Term.LIFE_CYCLE_COST,
        Term.PRESENT_VALUE,
        Term.DISCOUNT_RATE,
        Term.REPLACEMENT,
        Term.RESIDUAL_VALUE,
    ),
    words.TRADES: (Term.UPFRONT_COST, Term.LIFE_CYCLE_COST, Term.STUDY_PERIOD),
    words.BINDING: (Term.AUTONOMY, Term.STARTING_POWER),
    words.SIMULATION: (Term.INDEPENDENT_SIMULATION, Term.TIER, Term.UNSERVED_ENERGY),
    words.OUTAGE: (Term.STATE_OF_CHARGE, Term.DEPTH_OF_DISCHARGE, Term.TIER),
}

#: Parts that only some sites have: heading, whether this one has it, drawing.
OF_SOME: Final[tuple[tuple[str, Callable[[Answer], bool], Part], ...]] = (
    (words.BURSTS, pictures.has_bursts, pictures.bursts),
    (words.CUTS, pictures.has_cuts, pictures.cuts),
    (words.PEAKS, pictures.has_peaks, pictures.peaks),
    (words.THREE_DAYS, pictures.has_generator, pictures.three_days),
)


def parts_of(answer: Answer) -> dict[str, Part]:
    """Return the parts of a design that is shown, in order."""
    return PARTS | {heading: draw for heading, has, draw in OF_SOME if has(answer)}
