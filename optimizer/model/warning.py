"""What is odd in a job without being wrong."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class WarningKind(StrEnum):
    """What is odd; ``report.words.warnings`` says each in words with its operands."""

    LONG_OUTAGES = "long_outages"  # hours
    GAPS_TOO_SHORT = "gaps_too_short"  # recharge_hours, gap_hours
    OLD_COLUMN = "old_column"  # file, old, new
    CRITICAL_NOT_CARRIED = "critical_not_carried"  # load, tier
    RATING_RISES = "rating_rises"  # inverter
    LOST_BOX = "lost_box"  # inverter
    HOT_ROOM = "hot_room"  # mean_degc
    WHAT_IF = "what_if"  # kind, family and unit of a parameter of the comparison; now, value


@dataclass(frozen=True, slots=True)
class JobWarning:
    """One odd thing: its kind, and the names and numbers it is about."""

    kind: WarningKind
    operands: Mapping[str, str | float]
