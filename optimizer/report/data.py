"""Results as plain data for programs: the JSON contract."""

from __future__ import annotations

from dataclasses import asdict
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from optimizer.answers.purchases import purchases
from optimizer.engine import cashflow
from optimizer.errors import InputError, KeeplitError, NoDesignError
from optimizer.report.opinion_data import simulated_data

if TYPE_CHECKING:
    from optimizer.answers.choice import Choice
    from optimizer.answers.curve import Curve
    from optimizer.answers.site_survey import Survey
    from optimizer.model.design import Design
    from optimizer.model.job import Job


def point_data(job: Job, design: Design) -> dict[str, Any]:
    """Return a design; money is not rounded."""
    flow = cashflow.payments(job, design)
    return {
        "hours": design.hours,
        "life_cycle_cost": design.life_cycle_cost,
        "upfront_cost": design.upfront_cost,
        "voltage": design.voltage_v,
        "inverter": design.inverter.inverter,
        "units": design.inverter_units,
        "banks": [
            {
                "battery": bank.battery.battery,
                "chemistry": bank.battery.chemistry,
                "family": bank.battery.family,
                "series": bank.series,
                "strings": bank.strings,
                "start": bank.start,
                "end": bank.end,
                "service_life": bank.service_life_years,
            }
            for bank in design.banks
        ],
        "wiring": {
            "section_mm2": design.wiring.cable.section_mm2,
            "runs": design.wiring.runs,
            "fuse_a": design.wiring.fuse.rating_a,
        },
        "purchases": [
            {"year": one.year, "amount": one.amount, "items": list(one.items)}
            for one in purchases(flow)
        ],
        "simulated": simulated_data(job, design),
    }


def curve_data(curve: Curve) -> dict[str, Any]:
    """Return the curve, each point with the step to the next one."""
    points = [point_data(curve.job, point) for point in curve.points]
    for here, there in pairwise(points):
        hours = there["hours"] - here["hours"]
        cost = there["life_cycle_cost"] - here["life_cycle_cost"]
        here["next"] = {"hours": hours, "cost": cost, "cost_per_hour": cost / hours}
    if points:
        points[-1]["next"] = None
    return {
        "site": curve.job.site.name,
        "currency": curve.job.site.currency,
        "family": curve.family,
        "max_hours": curve.job.site.max_hours,
        "points": points,
    }


def choice_data(choice: Choice) -> dict[str, Any]:
    """Return a choice: the point, its constraints, its money and its materials."""
    rate = choice.job.site.discount_rate
    following = choice.next_purchase
    binding = {id(one) for one in choice.binding}
    return {
        **point_data(choice.job, choice.design),
        "goal": asdict(choice.goal),
        "currency": choice.job.site.currency,
        "constraints": [
            {
                "kind": one.check.kind,
                "required": one.check.required,
                "provided": one.check.provided,
                "unit": one.check.unit,
                "at_most": one.check.at_most,
                "margin": _finite(one.check.margin),
                "binds": id(one) in binding,
                "saving_if_lifted": one.saving,
            }
            for one in choice.explained
        ],
        "payments": [
            {**asdict(payment), "present_value": payment.present_value(rate)}
            for payment in choice.design.payments
        ],
        "materials": [asdict(line) for line in choice.materials],
        "next_purchase": None if following is None else asdict(following),
    }


def survey_data(found: Survey) -> dict[str, Any]:
    """Return what was understood of a site."""
    data = asdict(found)
    data["energy_kwh_day"] = [
        {"tier": tier, "season": season, "kwh_day": energy}
        for (tier, season), energy in found.energy_kwh_day.items()
    ]
    data["old_prices"] = [
        {"table": old.table, "name": old.name, "price_date": old.price_date.isoformat()}
        for old in found.old_prices
    ]
    return data


def error_data(error: KeeplitError) -> dict[str, Any]:
    """Return an error as the contract writes it."""
    data: dict[str, Any] = {"error": error.kind}
    if isinstance(error, InputError):
        data["faults"] = [fault.as_dict() for fault in error.faults]
    elif isinstance(error, NoDesignError):
        data |= {
            "goal": asdict(error.goal),
            "reasons": [asdict(one) for one in error.diagnosis.hindrances],
            "openings": [asdict(one) for one in error.diagnosis.openings],
            "pairs": [[asdict(one) for one in pair] for pair in error.diagnosis.pairs],
        }
    else:
        data["message"] = str(error)
    return data


def _finite(value: float) -> float | None:
    return value if abs(value) < float("inf") else None
