"""The circuit from the cells to the loads: every part once, sized, with the figures behind it."""

from optimizer.quote.circuit.build import make_circuit, parts_price
from optimizer.quote.circuit.parts import DIRECT_KINDS, Circuit, CircuitPart, Offered, Rating

__all__ = [
    "DIRECT_KINDS",
    "Circuit",
    "CircuitPart",
    "Offered",
    "Rating",
    "make_circuit",
    "parts_price",
]
