"""What each command of the comparison answers, all of it together."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from optimizer.answers.stops import Stop
from optimizer.comparison.break_even_line import BreakEvenLine
from optimizer.comparison.budgets import Bought, BudgetTable, Staircase, Step
from optimizer.comparison.load_costs import LoadCosts
from optimizer.comparison.parameters import Parameter
from optimizer.comparison.regrets import Regret
from optimizer.comparison.sensitivities import Sensitivities
from optimizer.comparison.side_by_side import Comparison
from optimizer.comparison.switch_points import SwitchPoints
from optimizer.comparison.tier_costs import TierCost, Tiers
from optimizer.model.shown import shown


@dataclass(frozen=True)
class CompareAnswer:
    """Who wins, and what would change that; the last two are empty where nobody stands against."""

    comparison: Comparison = field(metadata=shown(inline=True))
    switch_points: tuple[SwitchPoints, ...]
    break_even_line: BreakEvenLine | None


@dataclass(frozen=True)
class WhatIfAnswer:
    """The numbers that ``--set`` may change, with the range of each."""

    numbers: tuple[Parameter, ...]


@dataclass(frozen=True)
class SensitivityAnswer:
    """What moves the answer: each number alone, and all at once."""

    sensitivities: Sensitivities = field(metadata=shown(inline=True))
    regret: Regret


@dataclass(frozen=True)
class BudgetAnswer:
    """What money buys: every step, or a table of many budgets, whichever was asked for."""

    currency: str
    lifetime: bool
    family: str | None
    later_limit: float | None
    steps: tuple[Step, ...] | None
    budgets: tuple[Bought, ...] | None
    stopped_by: Stop | None


def budget_answer(table: BudgetTable | None, stairs: Staircase | None) -> BudgetAnswer:
    """Return what money buys, from what was asked for: a table of budgets, every step, or both."""
    found = stairs if table is None else table
    assert found is not None  # one of them was asked for
    return BudgetAnswer(
        currency=found.currency,
        lifetime=found.lifetime,
        family=found.family,
        later_limit=found.job.site.later_limit,
        steps=None if stairs is None else stairs.steps,
        budgets=None if table is None else table.rows,
        stopped_by=found.stopped_by,
    )


@dataclass(frozen=True)
class TiersAnswer:
    """What loads cost: each tier's curve, its cost at some hours, and each load at one."""

    tiers: Tiers = field(metadata=shown(inline=True))
    at: tuple[TierCost, ...]
    each: LoadCosts | None = field(default=None, metadata=shown("loads"))


def tiers_answer(
    found: Tiers, hours: Sequence[int] | None = None, each: LoadCosts | None = None
) -> TiersAnswer:
    """Return what tiers cost at some hours, at all landmarks where left out, and each load."""
    at = tuple(cost for one in hours or found.landmarks for cost in found.at(one))
    return TiersAnswer(found, at, each)
