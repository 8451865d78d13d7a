"""A judgement as plain data for programs."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from optimizer.report.data import point_data
from optimizer.report.opinion_data import opinion_data

if TYPE_CHECKING:
    from optimizer.answers.assessment import Assessment, HoursAt
    from optimizer.model.design import Design
    from optimizer.model.job import Job


def judgement_data(judgement: Assessment) -> dict[str, Any]:
    """Return a judgement; money is not rounded, what is without bound is null."""
    existing, life, refill = judgement.existing, judgement.life, judgement.recharge
    distance, job = judgement.distance, judgement.job
    return {
        "verdict": judgement.verdict,
        "target_hours": judgement.design.hours,
        "currency": job.site.currency,
        "inverter": existing.inverter.inverter,
        "units": existing.units,
        "battery": existing.battery.battery,
        "chemistry": existing.battery.chemistry,
        "series": existing.series,
        "strings": existing.strings,
        "voltage": existing.voltage_v,
        "age_years": existing.age_years,
        "paid": existing.paid,
        "hours": {_key(stage): _hours(stage) for stage in judgement.hours},
        "carries_target_for_years": judgement.carries_years,
        "constraints": [
            {
                "kind": check.kind,
                "required": check.required,
                "provided": check.provided,
                "unit": check.unit,
                "at_most": check.at_most,
                "met": check.met,
            }
            for check in judgement.checks
        ],
        "fails": [check.kind for check in judgement.failed],
        "service_life": {
            "years": life.years,
            "left_years": life.left_years,
            "calendar_alone_years": life.calendar_years,
            "cycles_alone_years": _bounded(life.cycle_years),
            "calendar_share": life.calendar_share,
            "cycle_share": life.cycle_share,
            "warranty_years": life.warranty_years,
            "deepest_outage": None if life.deepest is None else asdict(life.deepest),
        },
        "refill": {**asdict(refill), "hours": _bounded(refill.hours)},
        "set_aside": [asdict(one) for one in judgement.set_aside],
        "distance": {
            "hours": distance.hours,
            "carried": distance.carried,
            "upfront_cost": distance.upfront_cost,
            "life_cycle_cost": distance.life_cycle_cost,
            "least_cost_of_the_same_hours": _point(job, distance.least),
            "same_upfront_buys": _point(job, distance.by_upfront),
            "same_life_cycle_buys": _point(job, distance.by_life_cycle),
        },
        "second_opinion": opinion_data(judgement.simulation),
    }


def _key(stage: HoursAt) -> str:
    return stage.stage


def _hours(stage: HoursAt) -> dict[str, Any]:
    ride = stage.simulated
    return {
        "age_years": stage.age_years,
        "health": stage.health,
        "planned": stage.planned_hours,
        "simulated": ride.shortest,
        "simulated_mean": ride.mean,
        "simulated_longest": ride.longest,
        "season": ride.worst.season,
        "start_hour": ride.worst.start_hour,
    }


def _point(job: Job, design: Design | None) -> dict[str, Any] | None:
    return None if design is None else point_data(job, design)


def _bounded(value: float) -> float | None:
    return value if value < math.inf else None
