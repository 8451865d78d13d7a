"""What a design can fail at."""

from __future__ import annotations

from enum import StrEnum


class Requirement(StrEnum):
    """What a design can fail at. Each can be lifted alone, to see what stands in the way."""

    POWER = "continuous power in the heat"
    SURGE = "start-up surge"
    WIRING = "battery cable and fuse"
    DISCHARGE = "discharge current of the bank"
    REFILL = "refill time"
    STRINGS = "strings in parallel"
    MASS = "mass of the bank"
    COLD = "lowest room temperature"
    VENTED = "no ventilated place"
