"""Which points of the curve are put before a customer, and how each is called."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum, auto
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


class Why(StrEnum):
    """Why a design is among the options."""

    REQUIRED = auto()
    LONGEST_ON_OFFER = auto()
    BEND = auto()
    END = auto()
    LONGEST_OF_BUDGET = auto()
    LONGEST_FOR_TWICE = auto()
    PICKED = auto()
    NEXT_APART = auto()


@dataclass(frozen=True, slots=True)
class Option:
    """One point of the curve as it is offered, why it is here, and its second opinion.

    ``hours`` is the autonomy that the reason is about [h].
    """

    design: Design
    why: Why
    hours: int
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A design that counts as the same as another option, and what takes its place."""

    design: Design
    same_as: Design
    instead: Design | None

    @property
    def differs_in_fuel(self) -> bool:
        """Whether fuel alone makes the hours of one those of the other."""
        one, other = self.design, self.same_as
        return one.equipment == other.equipment and one.fuel_l != other.fuel_l


@dataclass(frozen=True, slots=True)
class Selection:
    """The options, hours rising, and what was left out or changed to keep them apart."""

    options: tuple[Option, ...]
    left_out: tuple[LeftOut, ...]


@dataclass(frozen=True, slots=True)
class _Wish:
    design: Design
    why: Why
    hours: int


def same_equipment(one: Design, other: Design) -> bool:
    """Tell whether two designs put the same in place at the start; fuel does not count."""
    return _equipment(one) == _equipment(other)


def _equipment(design: Design) -> tuple[object, ...]:
    bank = design.banks[0]
    return (
        design.inverter.inverter,
        design.inverter_units,
        bank.battery.battery,
        bank.series,
        bank.strings,
        design.contract,
        design.generator,
    )


def alike(one: Design, other: Design) -> bool:
    """Tell whether two designs count as the same option.

    Parameters
    ----------
    one, other : Design
        Two points of a curve.

    Notes
    -----
    The same bank, inverter set, contract and generator at the start; or hours that differ by less
    than a tenth and life-cycle costs that differ by less than a twentieth, each of the smaller.
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
    left_out: list[LeftOut] = []
    for wish in wishes:
        twin = next((one for one in chosen if alike(one.design, wish.design)), None)
        if twin is None:
            chosen.append(wish)
            continue
        following = _next_apart(curve.points, wish.design, [one.design for one in chosen])
        left_out.append(LeftOut(wish.design, twin.design, following))
        if following is not None:
            chosen.append(_Wish(following, Why.NEXT_APART, following.hours))
    chosen.sort(key=lambda one: one.design.hours)
    options = tuple(
        Option(one.design, one.why, one.hours, verdict(curve.job, one.design)) for one in chosen
    )
    return Selection(options, tuple(left_out))


def _defaults(curve: Curve) -> list[_Wish]:
    site, points = curve.job.site, curve.points
    required = site.target_hours
    first = curve.at(required)
    why = Why.LONGEST_ON_OFFER if first is None else Why.REQUIRED
    first = first or points[-1]
    bend = farthest_below(points)
    at_end = bend in (points[0], points[-1])
    wishes = [
        _Wish(first, why, required),
        _Wish(bend, Why.END if at_end else Why.BEND, bend.hours),
    ]
    if site.budget is not None or site.lifetime_budget is not None:
        return [*wishes, _Wish(points[-1], Why.LONGEST_OF_BUDGET, points[-1].hours)]
    longest = longest_within(points, _MONEY_REACH * first.life_cycle_cost)
    if longest is not None:
        wishes.append(_Wish(longest, Why.LONGEST_FOR_TWICE, first.hours))
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
            wishes.append(_Wish(point, Why.PICKED, wanted))
    if not hours:
        faults.append(Fault("options", None, "--options", "nothing", "hours such as 12,24,36"))
    if faults:
        raise InputError(faults)
    return wishes


def _next_apart(points: Sequence[Design], wish: Design, taken: Sequence[Design]) -> Design | None:
    """Return the nearest longer point unlike all that are taken, else the nearest shorter."""
    free = [point for point in points if not any(alike(point, one) for one in taken)]
    longer = [point for point in free if point.hours > wish.hours]
    shorter = [point for point in free if point.hours < wish.hours]
    return longer[0] if longer else shorter[-1] if shorter else None
