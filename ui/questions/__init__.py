"""The questions a person is asked, in the order they are thought of.

A question is a module with ``draw(state)``; to add one, write its file, put its label into
`ui.words` and a line here. Only the question that is open is drawn.
"""

from collections.abc import Callable
from typing import Final

from ui import words
from ui.questions import files, loads, money, outages, place, prices, supplier, supply
from ui.state import State
from ui.words.supplier import ASK_SUPPLIER

#: Label and drawing of each question, in order.
QUESTIONS: Final[dict[str, Callable[[State], None]]] = {
    words.ASK_LOADS: loads.draw,
    words.ASK_OUTAGES: outages.draw,
    words.ASK_SUPPLY: supply.draw,
    words.ASK_PLACE: place.draw,
    words.ASK_MONEY: money.draw,
    words.ASK_PRICES: prices.draw,
    ASK_SUPPLIER: supplier.draw,
    words.ASK_FILES: files.draw,
}
