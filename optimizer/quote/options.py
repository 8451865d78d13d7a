"""Which points of the curve are put before a customer, and how each is called."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from optimizer.errors import Fault, InputError
from optimizer.model.design import Design
from optimizer.simulate import Verdict, verdict

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.answers.curve import Curve

#: Below these two differences nobody could tell why both are offered.
_SAME_HOURS, _SAME_MONEY = 0.10, 0.05
#: Without a budget, the longest option costs at most this many times the first.
_MONEY_REACH = 2.0


@dataclass(frozen=True, slots=True)
class Option:
    """One point of the curve as it is offered: its name, why it is here, its second opinion."""

    name: str
    why: str
    design: Design
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Selection:
    """The options, hours rising, and what was left out or changed to keep them apart."""

    options: tuple[Option, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Wish:
    design: Design
    why: str


def name_of(design: Design) -> str:
    """Return a design's name by what it does: hours and family of its first bank.

    Never a grade: what is better depends on what one needs.
    """
    unit = "hour" if design.hours == 1 else "hours"
    return f"{design.hours} {unit}, {design.banks[0].battery.family}"


def same_equipment(one: Design, other: Design) -> bool:
    """Tell whether two designs put the same bank and inverter set in place at the start."""
    return _equipment(one) == _equipment(other)


def _equipment(design: Design) -> tuple[object, ...]:
    bank = design.banks[0]
    return (
        design.inverter.inverter,
        design.inverter_units,
        bank.battery.battery,
        bank.series,
        bank.strings,
    )


def alike(one: Design, other: Design) -> bool:
    """Tell whether two designs count as the same option.

    Parameters
    ----------
    one, other : Design
        Two points of a curve.

    Notes
    -----
    The same bank and inverter set at the start; or hours that differ by less than a tenth and
    life-cycle costs that differ by less than a twentieth, each of the smaller.
    """
    if same_equipment(one, other):
        return True
    few, many = sorted((one.hours, other.hours))
    low, high = sorted((one.life_cycle_cost, other.life_cycle_cost))
    return many - few < _SAME_HOURS * few and high - low < _SAME_MONEY * low


def farthest_below(points: Sequence[Design]) -> Design:
    """Return the point farthest below the straight line between the curve's ends.

    Where cost rises faster the longer it holds, that is where more hours stop being cheap. The
    distance is taken in money, which names the same point as any other scale of the axes.

    Parameters
    ----------
    points : sequence of Design
        A curve, hours rising, at least one.
    """
    first, last = points[0], points[-1]
    span = last.hours - first.hours
    slope = (last.life_cycle_cost - first.life_cycle_cost) / span if span else 0.0

    def below(point: Design) -> float:
        line = first.life_cycle_cost + slope * (point.hours - first.hours)
        return line - point.life_cycle_cost

    return max(points, key=below)


def longest_within(points: Sequence[Design], cost: float) -> Design | None:
    """Return the longest point that costs no more over its life [currency], or None."""
    within = [point for point in points if point.life_cycle_cost <= cost]
    return within[-1] if within else None


def select(curve: Curve, hours: Sequence[int] | None = None) -> Selection:
    """Return the options of a quote, each with its second opinion.

    Parameters
    ----------
    curve : Curve
        With at least one point.
    hours : sequence of int, optional
        Autonomies picked by hand [h]; three by rule where left out.

    Raises
    ------
    InputError
        Hours that no point of the curve carries.
    """
    wishes = _defaults(curve) if hours is None else _picked(curve, hours)
    chosen: list[_Wish] = []
    notes: list[str] = []
    for wish in wishes:
        twin = next((one for one in chosen if alike(one.design, wish.design)), None)
        if twin is None:
            chosen.append(wish)
            continue
        following = _next_apart(curve.points, wish.design, [one.design for one in chosen])
        what = f"{name_of(wish.design)} and {name_of(twin.design)} count as the same"
        if following is None:
            notes.append(f"{what}; nothing else stands apart.")
        else:
            notes.append(f"{what}; {name_of(following)} takes its place.")
            chosen.append(_Wish(following, "the next point of the curve that stands apart"))
    chosen.sort(key=lambda one: one.design.hours)
    options = tuple(
        Option(name_of(one.design), one.why, one.design, verdict(curve.job, one.design))
        for one in chosen
    )
    return Selection(options, tuple(notes))


def _defaults(curve: Curve) -> list[_Wish]:
    site, points = curve.job.site, curve.points
    first = curve.at(site.target_hours)
    if first is None:
        wishes = [_Wish(points[-1], f"the longest on offer; {site.target_hours} hours are not")]
        first = points[-1]
    else:
        why = f"the least cost that carries the {site.target_hours} hours asked for"
        wishes = [_Wish(first, why)]
    bend = farthest_below(points)
    if bend in (points[0], points[-1]):
        why = "an end of the curve: no point lies below the straight line between its ends"
    else:
        why = "where the curve bends: beyond it an hour costs more, on average, than before it"
    wishes.append(_Wish(bend, why))
    if site.budget is not None or site.lifetime_budget is not None:
        return [*wishes, _Wish(points[-1], "the longest that the budget buys")]
    longest = longest_within(points, _MONEY_REACH * first.life_cycle_cost)
    if longest is not None:
        why = f"the longest for at most twice the cost of {first.hours} hours"
        wishes.append(_Wish(longest, why))
    return wishes


def _picked(curve: Curve, hours: Sequence[int]) -> list[_Wish]:
    longest = curve.points[-1].hours
    wishes, faults = [], []
    for wanted in hours:
        point = curve.at(wanted) if wanted >= 1 else None
        if point is None:
            right = f"whole hours from 1 to {longest}, the longest on offer"
            faults.append(Fault("options", None, "--options", str(wanted), right))
        else:
            wishes.append(_Wish(point, _why_picked(point, wanted)))
    if not hours:
        faults.append(Fault("options", None, "--options", "nothing", "hours such as 12,24,36"))
    if faults:
        raise InputError(faults)
    return wishes


def _why_picked(point: Design, wanted: int) -> str:
    if point.hours == wanted:
        return "the least cost of these hours"
    return f"the least cost that carries the {wanted} hours asked for"


def _next_apart(points: Sequence[Design], wish: Design, taken: Sequence[Design]) -> Design | None:
    """Return the nearest longer point unlike all that are taken, else the nearest shorter."""
    free = [point for point in points if not any(alike(point, one) for one in taken)]
    longer = [point for point in free if point.hours > wish.hours]
    shorter = [point for point in free if point.hours < wish.hours]
    return longer[0] if longer else shorter[-1] if shorter else None
