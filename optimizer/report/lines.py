"""The curve line by line: what tables, files and charts of it share."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.engine import cashflow
from optimizer.report.words import bank_in_words, replacements_in_words, set_in_words

if TYPE_CHECKING:
    from collections.abc import Mapping

    from optimizer.answers.curve import Curve
    from optimizer.model.design import Design
    from optimizer.model.job import Job

#: The name of the exact curve over all families.
OVERALL: Final = "overall"
#: The columns of the curve's table, in order.
COLUMNS: Final = (
    "curve",
    "hours",
    "life_cycle_cost",
    "upfront_cost",
    "voltage_v",
    "bank",
    "inverter",
    "bought_later",
    "hours_to_next",
    "cost_to_next",
)

Line = dict[str, str | int | float | None]


def family_of(design: Design) -> str | None:
    """Return the family of a design's banks, or None where they are of several."""
    families = {bank.battery.family for bank in design.banks}
    return families.pop() if len(families) == 1 else None


def bought_later(job: Job, design: Design) -> str:
    """Return what is bought after the start, with its years."""
    return replacements_in_words(cashflow.payments(job, design))


def point_id(family: str | None, design: Design) -> str:
    """Return what names a point of a curve: its hours and its family, overall where None."""
    return f"{design.hours}:{'' if family is None else family}"


def find_point(
    name: str, overall: Curve, families: Mapping[str, Curve]
) -> tuple[str | None, Design] | None:
    """Return the family and the design that `point_id` names, or None where there is none."""
    hours, _, family = name.partition(":")
    curve = families.get(family) if family else overall
    if curve is None:
        return None
    found = next((point for point in curve.points if str(point.hours) == hours), None)
    return None if found is None else (family or None, found)


def curve_lines(overall: Curve, families: Mapping[str, Curve]) -> list[Line]:
    """Return every point of every curve with the step to the next, the overall curve first."""
    found: list[Line] = []
    for name, curve in ((OVERALL, overall), *families.items()):
        found += _lines(name, curve)
    return found


def _lines(name: str, curve: Curve) -> list[Line]:
    lines: list[Line] = [
        {
            "curve": name,
            "hours": point.hours,
            "life_cycle_cost": point.life_cycle_cost,
            "upfront_cost": point.upfront_cost,
            "voltage_v": point.voltage_v,
            "bank": bank_in_words(point.banks[0], point.voltage_v),
            "inverter": set_in_words(point),
            "bought_later": bought_later(curve.job, point),
            "hours_to_next": None,
            "cost_to_next": None,
        }
        for point in curve.points
    ]
    for (line, here), there in zip(
        zip(lines, curve.points, strict=True), curve.points[1:], strict=False
    ):
        line["hours_to_next"] = there.hours - here.hours
        line["cost_to_next"] = there.life_cycle_cost - here.life_cycle_cost
    return lines
