"""One design, fully explained: what binds, what is paid when, what is bought next."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from optimizer.engine import cashflow
from optimizer.engine.cashflow import Payment
from optimizer.engine.check import Check, CheckKind
from optimizer.engine.verify import checks
from optimizer.formulas.tolerance import COST_TOLERANCE
from optimizer.model.design import Design
from optimizer.model.diagnosis import Goal, GoalKind
from optimizer.model.job import Job

if TYPE_CHECKING:
    from optimizer.engine.curve import Search
    from optimizer.model.requirement import Requirement

#: Units of requirements that a design meets more or less amply; counts and ages are not.
_QUANTITIES = {"W", "VA", "A", "V", "kWh"}


@dataclass(frozen=True, slots=True)
class Explained:
    """A check, and what the design would save if that requirement did not stand [currency].

    ``saving`` is 0 where lifting the requirement alone changes nothing.
    """

    check: Check
    saving: float

    @property
    def binds(self) -> bool:
        """Whether a cheaper design waits behind this requirement."""
        return self.saving > COST_TOLERANCE


@dataclass(frozen=True, slots=True)
class Purchase:
    """Equipment bought in one year: its year and the sum paid, works included [currency]."""

    year: int
    amount: float
    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Material:
    """A line of the material list, at the first purchase: quantity and unit, price of one."""

    item: str
    quantity: float
    unit: str
    price_each: float


@dataclass(frozen=True)
class Choice:
    """The answer to one question.

    ``job`` holds the limits that were asked for.
    """

    job: Job
    goal: Goal
    design: Design
    explained: tuple[Explained, ...]
    payments: tuple[Payment, ...]

    @property
    def binding(self) -> tuple[Explained, ...]:
        """What binds, the dearest requirement first; else the quantity with least to spare."""
        found = sorted((one for one in self.explained if one.binds), key=lambda one: -one.saving)
        quantities = [one for one in self.explained if one.check.unit in _QUANTITIES]
        return tuple(found) or (min(quantities, key=lambda one: one.check.margin),)

    @property
    def purchases(self) -> tuple[Purchase, ...]:
        """Everything bought, by year; the first is the upfront cost."""
        return purchases(self.payments)

    @property
    def next_purchase(self) -> Purchase | None:
        """The first purchase after the start, or None within the horizon."""
        later = [purchase for purchase in self.purchases if purchase.year > 0]
        return later[0] if later else None

    @property
    def materials(self) -> tuple[Material, ...]:
        """What is bought at the start, at net prices."""
        return materials(self.job, self.design)


def purchases(payments: tuple[Payment, ...]) -> tuple[Purchase, ...]:
    """Return what is bought in each year, works included."""
    amounts: defaultdict[int, float] = defaultdict(float)
    items: defaultdict[int, list[str]] = defaultdict(list)
    for payment in payments:
        if payment.kind in {"inverter", "wiring", "battery", "works"}:
            amounts[payment.year] += payment.amount
            if payment.kind in {"inverter", "battery"}:
                items[payment.year].append(payment.item)
    return tuple(Purchase(year, amounts[year], tuple(items[year])) for year in sorted(amounts))


def materials(job: Job, design: Design) -> tuple[Material, ...]:
    """Return what is bought at the start, equipment before works."""
    run, length_m = design.wiring, job.site.battery_cable_m
    bank = design.banks[0]
    section = f"Battery cable {run.cable.section_mm2:g} mm²"
    lines = [
        Material(design.inverter.inverter, design.inverter_units, "", design.inverter.price),
        Material(bank.battery.battery, bank.units, "", bank.battery.price),
        Material(section, run.runs * 2 * length_m, "m", run.cable.price_per_m),
        Material(f"Battery fuse {run.fuse.rating_a:g} A", 1, "", run.fuse.price),
    ]
    vented = any(period.battery.gas == "vented" for period in design.banks)
    quantities = {
        "site": (1.0, ""),
        "inverter_unit": (float(design.inverter_units), ""),
        "battery_unit": (float(bank.units), ""),
        "string": (float(bank.strings), ""),
        "kg": (bank.units * bank.battery.mass_kg, "kg"),
        "vented_bank": (float(vented), ""),
    }
    for work in job.catalog.works:
        quantity, unit = quantities[work.basis]
        if quantity and work.applies != "swap":
            lines.append(Material(work.item, quantity, unit, work.price))
    return tuple(lines)


def explain(search: Search, goal: Goal, design: Design) -> Choice:
    """Return a design with the price of every requirement.

    Parameters
    ----------
    search : Search
        What found the design.
    goal : Goal
        What was asked.
    design : Design
        The answer; it may carry more hours than were asked for.

    Notes
    -----
    Duals of an integer program say nothing, so each requirement is priced by lifting it alone
    and finding the least cost again. The energy is priced by asking for one hour less.
    """
    job = search.job
    hours = goal.hours if goal.kind is GoalKind.HOURS else design.hours
    found = checks(job, design, search.candidates.demand)
    savings: dict[Requirement | None, float] = {
        requirement: _saving(search, design, hours, requirement)
        for requirement in {check.requirement for check in found} - {None}
    }
    explained = []
    for check in found:
        saving = savings.get(check.requirement, 0.0)
        if check.kind is CheckKind.ENERGY and hours > 1:
            saving = design.life_cycle_cost - search.least(hours - 1)
        elif check.kind is CheckKind.UPFRONT_COST:
            saving = _unlimited_saving(search, design, hours)
        explained.append(Explained(check, max(0.0, saving)))
    return Choice(
        job=job,
        goal=goal,
        design=design,
        explained=tuple(explained),
        payments=cashflow.payments(job, design, search.candidates.demand),
    )


def _saving(search: Search, design: Design, hours: int, requirement: Requirement | None) -> float:
    if requirement is None:
        return 0.0
    least = replace(search, lifted=frozenset({requirement})).least(hours)
    return 0.0 if math.isinf(least) else design.life_cycle_cost - least


def _unlimited_saving(search: Search, design: Design, hours: int) -> float:
    least = replace(search, job=search.job.with_site(budget=None)).least(hours)
    return design.life_cycle_cost - least
