"""Points of curves by name: what a click on a chart brings back."""

from collections.abc import Mapping

from optimizer.answers.curve import Curve, Point
from optimizer.comparison.study import MIXED
from optimizer.model.design import Design


def family_of(design: Design) -> str:
    """Return the family of a design's banks, `MIXED` where they are of several."""
    families = {bank.battery.family for bank in design.banks}
    return families.pop() if len(families) == 1 else MIXED


def point_id(family: str | None, design: Design) -> str:
    """Return what names a point of a curve: its hours and its family, overall where None."""
    return f"{design.hours}:{'' if family is None else family}"


def find_point(
    name: str, overall: Curve, families: Mapping[str, Curve]
) -> tuple[str | None, Point] | None:
    """Return the family and the design that `point_id` names, or None where there is none."""
    hours, _, family = name.partition(":")
    curve = families.get(family) if family else overall
    if curve is None:
        return None
    found = next((point for point in curve.points if str(point.hours) == hours), None)
    return None if found is None else (family or None, found)
