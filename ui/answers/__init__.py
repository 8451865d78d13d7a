"""What is told of the design that is shown, each part under a question.

A part is a function of state, curves and choice; to add one, write it into `ui.answers.design`,
its heading into `ui.words` and a line here. Each is drawn by itself, so that one that fails
leaves the others.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from ui import words
from ui.answers import design

if TYPE_CHECKING:
    from optimizer.answers.choice import Choice
    from ui.cached import Curves
    from ui.state import State

Part = Callable[["State", "Curves", "Choice"], None]

#: Rows of columns of parts: heading and drawing, in order. On a phone it is one column.
PARTS: Final[tuple[tuple[dict[str, Part], ...], ...]] = (
    (
        {words.FIGURES: design.figures},
        {words.BINDING: design.binding, words.STEP: design.step, words.SIMULATION: design.holds},
    ),
    ({words.OUTAGE: design.outage},),
    ({words.MONEY: design.money},),
)
