"""Which designs are put before a customer: three by rule, or picked by hand."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum, auto
from typing import Final

from optimizer.answers.curve import Curve, Point, point_of
from optimizer.answers.distance import bought_new
from optimizer.answers.questions import search_for
from optimizer.errors import Fault, InputError
from optimizer.formulas.tolerance import at_least
from optimizer.model.design import Design
from optimizer.model.existing import Existing
from optimizer.model.job import Job
from optimizer.model.phrase import Phrase
from optimizer.model.shown import shown
from optimizer.quote.circuit import parts_price
from optimizer.simulate import Verdict

#: Options by rule differ by at least this share, in hours, upfront cost and life-cycle cost.
APART: Final = 0.10
#: Without a budget, a longer option costs at most this many times what is required.
MONEY_REACH: Final = 2.0


class Why(StrEnum):
    """Why a design is among the options."""

    REQUIRED = auto()
    LONGEST_ON_OFFER = auto()
    CHEAPER = auto()
    LONGER = auto()
    PICKED_HOURS = auto()
    PICKED_FAMILY = auto()
    PICKED_BUDGET = auto()
    PICKED_DESIGN = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pick:
    """An option picked by hand: hours [h], hours of one family, what a budget buys, or a design.

    Where a family stands alone it is for the site's required hours; ``budget`` is the longest that
    so much buys upfront [currency]; ``existing`` is equipment put together by hand, bought new and
    replaced by its like.
    """

    hours: int | None = None
    family: str | None = None
    budget: float | None = None
    existing: Existing | None = None


@dataclass(frozen=True, slots=True)
class Option:
    """A design as it is offered, why it is here, and its independent simulation.

    ``hours`` is the autonomy that the reason is about [h]; ``money`` the budget, where one is.
    """

    why: Why
    hours: int = field(metadata=shown("why_hours"))
    money: float | None = field(metadata=shown("why_money"))
    design: Point
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Selection:
    """The options, hours rising, and what is too near to one of them to stand beside it.

    ``twins`` are picks that turned out to be a design that is offered already, by the hours asked
    for; ``for_little_more`` carries at least a tenth longer than what is required for less than a
    tenth more.
    """

    options: tuple[Option, ...]
    twins: tuple[int, ...] = ()
    for_little_more: Point | None = None


def apart(one: Design, other: Design) -> bool:
    """Tell whether two designs differ enough to stand side by side as options by rule.

    By at least a tenth of the smaller in hours, in upfront cost and in life-cycle cost, and the
    longer is the dearer in both.
    """
    short, long = sorted((one, other), key=lambda design: design.hours)
    return all(
        at_least(getattr(long, name), (1 + APART) * getattr(short, name))
        for name in ("hours", "upfront_cost", "life_cycle_cost")
    )


def select(curve: Curve, picks: Sequence[Pick | int] | None = None) -> Selection:
    """Return the options of a quote: picked by hand, a number for hours [h], or by rule.

    Raises
    ------
    InputError
        A pick that nothing on offer meets.
    """
    twins: list[int] = []
    little: Point | None = None
    if picks is None:
        options = _by_rule(curve)
        little = _for_little_more(curve.points, options[0].design)
    else:
        options, twins = _by_hand(curve, picks)
    options.sort(key=lambda one: one.design.hours)
    return Selection(tuple(options), tuple(twins), little)


def _option(job: Job, design: Design, why: Why, hours: int, money: float | None = None) -> Option:
    """Return a design as an option; what stands on the curve has been simulated already."""
    point = design if isinstance(design, Point) else point_of(job, design, simulate=False)
    return Option(why, hours, money, point, point.simulated)


def _by_rule(curve: Curve) -> list[Option]:
    """Return what is required, then up to two that stand apart from it and from each other."""
    points, required = curve.points, curve.job.site.target_hours
    first = curve.at(required)
    why = Why.LONGEST_ON_OFFER if first is None else Why.REQUIRED
    options = [_option(curve.job, first or points[-1], why, required)]
    for find in (_longer, _cheaper, _cheaper, _longer):
        found = find(curve, [one.design for one in options]) if len(options) < _MOST else None
        if found is not None:
            options.append(found)
    return options


#: Options by rule.
_MOST: Final = 3


def _longer(curve: Curve, taken: Sequence[Design]) -> Option | None:
    """Return what adds hours to the first taken at the least life-cycle cost for each."""
    base, site = taken[0], curve.job.site
    has_limit = site.budget is not None or site.lifetime_budget is not None
    free = [
        point
        for point in curve.points
        if point.hours > base.hours
        and all(apart(point, one) for one in taken)
        and (has_limit or point.life_cycle_cost <= MONEY_REACH * base.life_cycle_cost)
    ]

    def cost_of_hour(point: Design) -> float:
        return (point.life_cycle_cost - base.life_cycle_cost) / (point.hours - base.hours)

    best = min(free, key=cost_of_hour, default=None)
    return None if best is None else _option(curve.job, best, Why.LONGER, base.hours)


def _cheaper(curve: Curve, taken: Sequence[Design]) -> Option | None:
    """Return the longest of those that are shorter than all that are taken and stand apart."""
    shortest = min(taken, key=lambda design: design.hours)
    free = [
        point
        for point in curve.points
        if point.hours < shortest.hours and all(apart(point, one) for one in taken)
    ]
    return _option(curve.job, free[-1], Why.CHEAPER, shortest.hours) if free else None


def _for_little_more(points: Sequence[Point], base: Point) -> Point | None:
    """Return the longest that costs less than a tenth more, where it carries a tenth longer."""
    near = [
        point
        for point in points
        if point.hours >= (1 + APART) * base.hours
        and point.life_cycle_cost < (1 + APART) * base.life_cycle_cost
        and point.upfront_cost < (1 + APART) * base.upfront_cost
    ]
    return near[-1] if near else None


def _by_hand(curve: Curve, picks: Sequence[Pick | int]) -> tuple[list[Option], list[int]]:
    options: list[Option] = []
    twins: list[int] = []
    faults: list[Fault] = []
    if not picks:
        wanted = Phrase("hours, families, budgets or design files, such as 12,24,lithium:24")
        faults.append(_unmet(Phrase("nothing"), wanted))
    for one in picks:
        found = _picked(curve, Pick(hours=one) if isinstance(one, int) else one)
        if isinstance(found, Fault):
            faults.append(found)
        elif any(_is_same(found.design, there.design) for there in options):
            twins.append(found.hours)
        else:
            options.append(found)
    if faults:
        raise InputError(faults)
    return options, twins


def _unmet(found: str | Phrase, wanted: Phrase) -> Fault:
    return Fault("options", None, "--options", found, wanted)


def _is_same(one: Design, other: Design) -> bool:
    return (one.hours, one.equipment) == (other.hours, other.equipment)


def _picked(curve: Curve, pick: Pick) -> Option | Fault:
    if pick.existing is not None:
        return _hand_made(curve.job, pick.existing)
    if pick.budget is not None:
        return _within(curve, pick, pick.budget)
    hours = curve.job.site.target_hours if pick.hours is None else pick.hours
    if pick.family is None or pick.family == curve.family:
        point: Design | None = curve.at(hours) if hours >= 1 else None
        longest = curve.points[-1].hours
    else:
        search = search_for(curve.job, pick.family)
        end = search.longest()
        longest = 0 if end is None else end.hours
        point = search.cheapest(hours) if 1 <= hours <= longest else None
    if point is None:
        found = str(hours) if pick.family is None else f"{pick.family}:{hours}"
        wanted = Phrase("whole hours from 1 to {longest}, the longest on offer", longest=longest)
        return _unmet(found, wanted)
    why = Why.PICKED_HOURS if pick.family is None else Why.PICKED_FAMILY
    return _option(curve.job, point, why, hours)


def _within(curve: Curve, pick: Pick, budget: float) -> Option | Fault:
    left = budget
    while True:
        job = curve.job.with_site(budget=left)
        point = search_for(job, pick.family or curve.family).longest()
        if point is None:
            least = min(one.upfront_cost + parts_price(job, one) for one in curve.points)
            wanted = Phrase(
                "a budget that buys something: the least on offer costs {least} upfront",
                least=f"{least:.0f}",
            )
            return _unmet(f"budget:{budget:g}", wanted)
        beside = parts_price(job, point)  # what the curve does not count
        if point.upfront_cost + beside <= budget:
            return _option(curve.job, point, Why.PICKED_BUDGET, point.hours, budget)
        left = budget - beside  # less than this design costs


def _hand_made(job: Job, existing: Existing) -> Option | Fault:
    design = bought_new(job, existing)
    if design is None:
        found = Phrase(
            "{battery} with {inverter}",
            battery=existing.battery.battery,
            inverter=existing.inverter.inverter,
        )
        wanted = Phrase("equipment that carries at least one hour here in every year")
        return _unmet(found, wanted)
    return _option(job, design, Why.PICKED_DESIGN, design.hours)
