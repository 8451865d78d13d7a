"""Points in the life of a bank."""

from __future__ import annotations

from enum import StrEnum


class AgeStage(StrEnum):
    """At which point of its life a bank is looked at."""

    NEW = "new"
    NOW = "now"
    MID_LIFE = "mid_life"
    LAST_YEAR = "last_year"
    END_OF_LIFE = "end_of_life"
