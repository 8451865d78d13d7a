"""What is told of the design that is shown, each part under a question.

A part is a function of state, curves and answer; to add one, write it into `ui.answers.design`,
its heading into `ui.words` and a line here. Each is drawn by itself, so that one that fails
leaves the others, and only where it is open.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from ui import words
from ui.answers import design

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
    words.OUTAGE: design.outage,
}
