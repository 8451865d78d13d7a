"""A figure of the electrical sheet: a value with its formula, its inputs and its source."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

#: A number, from–to, or words.
Value = float | tuple[float, float] | str

Topic = Literal[
    "Battery bank",
    "Direct-current circuit",
    "Charger settings",
    "Alternating-current side",
    "Mass and floor",
    "Hydrogen and air",
    "Room",
]


@dataclass(frozen=True, slots=True)
class Given:
    """An input of a formula: its symbol there, its value, its unit."""

    symbol: str
    value: float | str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure.

    Parameters
    ----------
    topic : Topic
        Under which heading it stands.
    name : str
        What it is.
    value : float, (float, float) or str
        In ``unit``; a pair is from–to.
    unit : str
        Its unit.
    formula : str
        How it follows from the inputs; empty where it is read off.
    inputs : tuple of Given
        What goes into the formula.
    source : str
        Where formula and constants come from; "from memory" is said where the text was not seen.
    remark : str
        What the figure means here, in words.
    meets : bool or None
        Whether a limit is kept, where there is one; None also where it is not known.
    """

    topic: Topic
    name: str
    value: Value
    unit: str = ""
    formula: str = ""
    inputs: tuple[Given, ...] = field(default=())
    source: str = ""
    remark: str = ""
    meets: bool | None = None
