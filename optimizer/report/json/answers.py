"""What each command answers as JSON, all of it together; the keys are the fields."""

from __future__ import annotations

from dataclasses import dataclass, field
from importlib import import_module
from itertools import zip_longest
from typing import TYPE_CHECKING, Any

from optimizer.answers.assessment import Assessment
from optimizer.answers.choice import Choice
from optimizer.answers.curve import Curve, Point, TradeOff
from optimizer.answers.independent_simulation import IndependentSimulation
from optimizer.answers.ledger import Assumption
from optimizer.answers.outage_run import OutageRun
from optimizer.answers.site_survey import Survey
from optimizer.answers.stops import Stop
from optimizer.engine.cashflow import Payment
from optimizer.inputs.bank_words import Assumed
from optimizer.model.shown import shown
from optimizer.report.json.failure import ErrorAnswer
from optimizer.report.json.schema import schema_of

if TYPE_CHECKING:
    from collections.abc import Sequence


@dataclass(frozen=True)
class NextStep:
    """The way to the next point of the curve: hours and cost more, and the price of an hour."""

    hours: int
    cost: float
    cost_per_hour: float


@dataclass(frozen=True)
class CurvePoint:
    """A point of the curve, and the way to the next one; none from the last."""

    point: Point = field(metadata=shown(inline=True))
    next: NextStep | None


@dataclass(frozen=True)
class FrontierAnswer:
    """The whole curve of cost against hours."""

    site: str
    currency: str
    family: str | None
    max_hours: int
    points: tuple[CurvePoint, ...]
    stopped_by: Stop | None


def frontier_answer(curve: Curve) -> FrontierAnswer:
    """Return a curve with the step from each point to the next."""
    site, points = curve.job.site, curve.points
    stepped = tuple(
        CurvePoint(here, None if there is None else _step(here, there))
        for here, there in zip_longest(points, points[1:])
        if here is not None
    )
    return FrontierAnswer(
        site.name, site.currency, curve.family, site.max_hours, stepped, curve.stopped_by
    )


def _step(here: Point, there: Point) -> NextStep:
    hours, cost = there.hours - here.hours, there.life_cycle_cost - here.life_cycle_cost
    return NextStep(hours, cost, cost / hours)


@dataclass(frozen=True)
class Paid:
    """A payment, and what it is worth at the start of year 0."""

    payment: Payment = field(metadata=shown(inline=True))
    present_value: float


@dataclass(frozen=True)
class ChooseAnswer:
    """One design, explained."""

    choice: Choice = field(metadata=shown(inline=True))
    currency: str
    payments: tuple[Paid, ...]
    independent_simulation: IndependentSimulation
    assumptions: tuple[Assumption, ...] | None


def choose_answer(
    choice: Choice,
    simulation: IndependentSimulation,
    assumptions: Sequence[Assumption] | None = None,
) -> ChooseAnswer:
    """Return a choice with its money year by year and what the simulation says."""
    site = choice.job.site
    return ChooseAnswer(
        choice,
        site.currency,
        tuple(Paid(one, one.present_value(site.discount_rate)) for one in choice.design.payments),
        simulation,
        None if assumptions is None else tuple(assumptions),
    )


@dataclass(frozen=True)
class AssessAnswer:
    """A bank and inverter assessed; ``assumed`` where it was told in a few words."""

    assessment: Assessment = field(metadata=shown(inline=True))
    assumptions: tuple[Assumption, ...] | None
    assumed: tuple[Assumed, ...] = ()


@dataclass(frozen=True)
class OutagesAnswer:
    """A design through the outages as they come; the design where it was chosen for this."""

    run: OutageRun = field(metadata=shown(inline=True))
    design: Point | None


#: What each command prints with --json; "error" is what any of them may print instead.
ANSWERS: dict[str, type | str] = {
    "frontier": FrontierAnswer,
    "choose": ChooseAnswer,
    "assess": AssessAnswer,
    "outages": OutagesAnswer,
    "compare": "optimizer.comparison.answers:CompareAnswer",
    "sensitivity": "optimizer.comparison.answers:SensitivityAnswer",
    "budget": "optimizer.comparison.answers:BudgetAnswer",
    "tiers": "optimizer.comparison.answers:TiersAnswer",
    "trade-off": TradeOff,
    "worth": "optimizer.comparison.hours_worth:HoursWorth",
    "against": "optimizer.comparison.two_runs:TwoRuns",
    "allot": "optimizer.programme.answers:AllotAnswer",
    "quote": "optimizer.quote.build:Quote",
    "register": "optimizer.quote.register:RegisterAnswer",
    "check": Survey,
    "what-if": "optimizer.comparison.answers:WhatIfAnswer",
    "prices": "optimizer.suppliers.answer:PricesAnswer",
    "error": ErrorAnswer,
}

#: Of no single site, or nobody got so far.
_OF_NO_SITE = frozenset({"prices", "error", "allot", "register"})


def command_schema(command: str) -> dict[str, Any]:
    """Return the JSON Schema of what a command prints."""
    answer = ANSWERS[command]
    if isinstance(answer, str):
        module, _, name = answer.partition(":")
        answer = getattr(import_module(module), name)
    return schema_of(answer, of_a_site=command not in _OF_NO_SITE)
