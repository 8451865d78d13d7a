"""Lead-acid or lithium, as plain data for programs and as rows of files; money is not rounded."""

from __future__ import annotations

import csv
import io
import math
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from optimizer.answers.curve import point_of
from optimizer.inputs.neutral import neutralised
from optimizer.report.json.serialise import to_data

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.answers.purchases import Purchase
    from optimizer.comparison.break_even_line import BreakEvenLine
    from optimizer.comparison.budgets import Bought, Staircase
    from optimizer.comparison.parameters import Parameter
    from optimizer.comparison.regrets import Regret
    from optimizer.comparison.sensitivities import Sensitivities, Setting
    from optimizer.comparison.side_by_side import Alternative, Comparison
    from optimizer.comparison.switch_points import Neighbour, SwitchPoints
    from optimizer.comparison.tier_costs import Tiers
    from optimizer.model.job import Job

#: Columns of the budget file.
BUDGET_COLUMNS = (
    "budget",
    "hours",
    "upfront_cost",
    "life_cycle_cost",
    "family",
    "battery",
    "series",
    "strings",
    "voltage",
    "inverter",
    "units",
    "bought_later",
    "next_budget",
)


def comparison_data(comparison: Comparison) -> dict[str, Any]:
    """Return the alternatives side by side."""
    site, dearer = comparison.job.site, comparison.dearer_at_start
    return {
        "site": site.name,
        "currency": site.currency,
        "hours": comparison.hours,
        "horizon_years": site.horizon_years,
        "winner": comparison.winner.name,
        "margin": comparison.margin,
        "rival_costs_more_by_part": comparison.differences(),
        "dearer_at_start": None if dearer is None else dearer.name,
        "caught_up_after_years": comparison.caught_up_after,
        "families": [_alternative(comparison.job, one) for one in comparison.families],
        "chemistries": [_alternative(comparison.job, one) for one in comparison.chemistries],
        "nothing_for": list(comparison.missing),
    }


def _alternative(job: Job, one: Alternative) -> dict[str, Any]:
    return {
        "name": one.name,
        **to_data(point_of(job, one.design)),
        "by_part": one.parts,
        "residual_value": one.residual_value,
        "monthly_sum": one.monthly_sum,
        "cost_per_hour": one.cost_per_hour,
        "cost_per_usable_kwh": one.cost_per_kwh,
        "usable_kwh": one.usable_kwh,
        "mass_kg": one.mass_kg,
        "floor_m2": one.floor_m2,
        "balances": [asdict(balance) for balance in one.balances],
    }


def parameter_data(parameter: Parameter) -> dict[str, Any]:
    """Return a parameter's name, unit, base and range."""
    return {
        "key": parameter.key,
        "name": parameter.name,
        "unit": parameter.unit,
        "base": parameter.base,
        "low": parameter.low,
        "high": parameter.high,
    }


def switch_points_data(all_found: Sequence[SwitchPoints]) -> list[dict[str, Any]]:
    """Return every switch point along every parameter."""

    def side(one: Neighbour) -> dict[str, Any]:
        return {
            "value": one.value,
            "winner": one.winner,
            "costs": {family: _finite(cost) for family, cost in one.costs.items()},
            "hours": {
                family: None if design is None else design.hours
                for family, design in one.designs.items()
            },
            "batteries": {
                family: None
                if design is None
                else [
                    f"{bank.battery.battery}, {bank.series} × {bank.strings}"
                    for bank in design.banks
                ]
                for family, design in one.designs.items()
            },
        }

    return [
        {
            **parameter_data(found.parameter),
            "winner_now": found.winner,
            "switch_points": [
                {
                    "value": switch_point.value,
                    "kind": switch_point.kind,
                    "cause": switch_point.cause or None,
                    "below": side(switch_point.below),
                    "above": side(switch_point.above),
                }
                for switch_point in found.switch_points
            ],
            "none_in_range": not found.switch_points,
            "unproven": [list(piece) for piece in found.unproven],
        }
        for found in all_found
    ]


def break_even_line_data(break_even_line: BreakEvenLine) -> dict[str, Any]:
    """Return the break-even line; below each factor the priced family wins."""
    return {
        "across": parameter_data(break_even_line.across),
        "price_of": break_even_line.priced,
        "against": break_even_line.other,
        "points": break_even_line_rows(break_even_line),
    }


def break_even_line_rows(break_even_line: BreakEvenLine) -> list[dict[str, Any]]:
    """Return the break-even line as rows."""
    return [
        {"value": point.value, "price_factor": point.factor, "always": point.always}
        for point in break_even_line.points
    ]


def sensitivities_data(found: Sensitivities) -> dict[str, Any]:
    """Return every sensitivity."""

    def setting(one: Setting) -> dict[str, Any]:
        return {**asdict(one), "cost": _finite(one.cost)}

    return {
        "hours": found.hours,
        "budget": found.budget,
        "sensitivities": [
            {
                "key": sensitivity.parameter.key,
                "name": sensitivity.parameter.name,
                "unit": sensitivity.parameter.unit,
                "low": setting(sensitivity.low),
                "base": setting(sensitivity.base),
                "high": setting(sensitivity.high),
                "changes_winner": sensitivity.changes_winner,
            }
            for sensitivity in found.sensitivities
        ],
    }


def regret_data(found: Regret) -> dict[str, Any]:
    """Return how each first purchase fares."""
    return {
        "hours": found.hours,
        "scenarios": found.scenarios,
        "seed": found.seed,
        "family_share": found.family_share,
        "safest": asdict(found.safest.first),
        "cheapest_today": asdict(found.cheapest_today),
        "first_purchases": [
            {
                **asdict(record.first),
                "cheapest_share": record.best_share,
                "largest_regret": _finite(record.largest_regret),
                "mean_regret": _finite(record.mean_regret),
                "mean_cost": _finite(record.mean_cost),
                "stranded_share": record.stranded,
            }
            for record in found.records
        ],
    }


def staircase_data(stairs: Staircase) -> dict[str, Any]:
    """Return every step of a budget."""
    return {
        "kind": "lifetime" if stairs.lifetime else "upfront",
        "family": stairs.family,
        "later_limit": stairs.job.site.later_limit,
        "steps": [
            {
                "budget": step.budget,
                **to_data(point_of(stairs.job, step.design)),
                "step_up": step.step_up,
                "price_of_hour": step.price_of_hour,
                "made_by": None if step.cause.requirement is None else step.cause.requirement.value,
                "lower_without_it": step.cause.lower_by,
            }
            for step in stairs.steps
        ],
    }


def budget_rows(rows: Sequence[Bought]) -> list[dict[str, Any]]:
    """Return what each budget buys, one flat row each, as the file has them."""
    found = []
    for row in rows:
        design = row.design
        line: dict[str, Any] = dict.fromkeys(BUDGET_COLUMNS)
        line |= {"budget": row.budget, "hours": 0, "next_budget": row.next_budget}
        if design is not None:
            bank = design.banks[0]
            line |= {
                "hours": design.hours,
                "upfront_cost": design.upfront_cost,
                "life_cycle_cost": design.life_cycle_cost,
                "family": bank.battery.family,
                "battery": bank.battery.battery,
                "series": bank.series,
                "strings": bank.strings,
                "voltage": design.voltage_v,
                "inverter": design.inverter.inverter,
                "units": design.inverter_units,
                "bought_later": _later(row.later),
            }
        found.append(line)
    return found


def budget_csv(rows: Sequence[Bought]) -> bytes:
    """Return the budget table as a CSV file; years count from 1, as people count them."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(BUDGET_COLUMNS)
    for line in budget_rows(rows):
        writer.writerow([neutralised(line[name]) for name in BUDGET_COLUMNS])
    return out.getvalue().encode("utf-8-sig")


def _later(later: tuple[Purchase, ...]) -> str:
    return "; ".join(
        f"year {one.year + 1}: {', '.join(one.items)}, {one.amount:.2f}" for one in later
    )


def tiers_data(tiers: Tiers, hours: Sequence[int]) -> dict[str, Any]:
    """Return the curves tier by tier, and what each tier costs at some hours."""
    return {
        "site": tiers.job.site.name,
        "currency": tiers.job.site.currency,
        "curves": [
            {
                "added": one.added,
                "tiers": list(one.tiers),
                "points": to_data(one.curve.points),
            }
            for one in tiers.curves
        ],
        "at": [asdict(cost) for hour in hours for cost in tiers.at(hour)],
    }


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None
