"""What a design can fail at."""

from enum import StrEnum


class Requirement(StrEnum):
    """A family of what a design can fail at; each can be lifted alone, to see what is in the way.

    ``report.words.checks`` says each in words.
    """

    POWER = "power"
    SURGE = "surge"
    WIRING = "wiring"
    DISCHARGE = "discharge"
    REFILL = "recharge"
    STRINGS = "strings"
    MASS = "mass"
    COLD = "cold"
    VENTED = "vented"
    START = "start"
    TRANSFER = "transfer"
    CUTS = "cuts"
    CONTRACT = "contract"
    GENERATOR = "generator"
