"""Every text that stands in a chart."""

from __future__ import annotations

from typing import Any, Final

from optimizer.report.words import money

FAMILIES: Final = {"lead": "lead-acid", "lithium": "lithium", "mixed": "mixed chain"}
HOURS: Final = "Hours without the grid"
BANK: Final = "Bank"
INVERTER: Final = "Inverter-charger"
UPFRONT: Final = "At the start"
NEW: Final = "Bought later"
CHARGE: Final = "Charge, %"
SINCE_FAILURE: Final = "Hours since the grid failed"
WATTS: Final = "Loads, W"
START: Final = "start"
TIME: Final = "Years from the start"
FIRST: Final = "bought at the start"
LATER: Final = "bought again"
RUNNING: Final = "running costs"
VALUE: Final = "residual value"
CLOCK: Final = "Time of day"
TIER: Final = "Tier"
WHAT: Final = "What"
AMOUNT: Final = "Amount"


def family(name: str) -> str:
    """Return a family's name for people."""
    return FAMILIES.get(name, name)


def lifetime(horizon_years: int) -> str:
    """Return what the life-cycle cost is called."""
    return "Over one year" if horizon_years == 1 else f"Over {horizon_years} years"


def target(hours: int) -> str:
    """Return the target's mark."""
    return f"target {hours} h"


def limit(amount: float, *, upfront: bool) -> str:
    """Return a budget's mark."""
    return f"{'budget at the start' if upfront else 'lifetime budget'} {money(amount)}"


def nothing(amount: float) -> str:
    """Return the mark of doing nothing."""
    return f"doing nothing {money(amount)}"


def spoken(row: dict[str, Any]) -> str:
    """Return a point of the curve for those who hear it."""
    return (
        f"{row['hours']} h: {row['bank']} behind {row['inverter']}, {row['upfront']} at the start, "
        f"{row['lifetime']} over the years"
    )


def chosen(hours: int, amount: float) -> str:
    """Return the chosen point's mark."""
    return f"{hours} h for {money(amount)}"


def held(hours: int) -> str:
    """Return the mark of the hours a design is chosen for."""
    return f"{hours} h asked of it"


def lowest(share: float) -> str:
    """Return the mark of the lowest charge allowed."""
    return f"lowest allowed {share:.0%}"


def clock(hour: float) -> str:
    """Return a time of day.

    >>> clock(25.0)
    '1:00'
    """
    return f"{int(hour) % 24}:00"
