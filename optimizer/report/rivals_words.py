"""Lead-acid or lithium, in sentences: who wins, why, and what would change the answer."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from optimizer.report.words import bank_in_words, money, plain, set_in_words
from optimizer.report.words.checks import requirement_name
from optimizer.report.words.writer import Writer

if TYPE_CHECKING:
    from optimizer.comparison.break_even_line import BreakEvenLine
    from optimizer.comparison.budgets import Cause
    from optimizer.comparison.parameters import Parameter
    from optimizer.comparison.regrets import First, Regret
    from optimizer.comparison.side_by_side import Alternative, Comparison, Part
    from optimizer.comparison.switch_points import SwitchPoint, SwitchPoints

#: Parts of the cost, as the subject of "costs … less".
_PART_WORDS: dict[Part, str] = {
    "inverter": "the inverter set with its cable",
    "first bank": "the first bank",
    "later banks": "later banks",
    "works": "work and transport",
    "running": "running it",
    "residual value": "what is left at the end",
}
#: A part below this share of all differences is not worth a word.
_WORTH_A_WORD = 0.04
#: A factor this close to 1 is "as today".
_AS_TODAY = 5e-4


def value_in_words(parameter: Parameter, value: float) -> str:
    """Return a parameter's value as a person says it."""
    if parameter.unit == "×":
        return _factor(parameter, value)
    if parameter.key == "drift":
        return f"{value * 100:+.1f} %".replace("-", "−").replace("+0.0", "0")
    if parameter.unit == "%":
        return f"{value * 100:.3g} %"
    if parameter.unit == "years":
        return f"{value:.0f} years" if value != 1 else "1 year"
    digits = f"{value:,.0f}" if value >= 100 else f"{value:.3g}"  # noqa: PLR2004 - enough digits
    return f"{digits} {parameter.unit}".rstrip()


def _factor(parameter: Parameter, value: float) -> str:
    """Return a factor: of a price as dearer or cheaper, of anything else as it stands."""
    if abs(value - 1) < _AS_TODAY:
        return "as today"
    if not parameter.key.startswith("price:"):
        return f"× {value:.3g}"
    return f"{abs(value - 1) * 100:.3g} % {'dearer' if value > 1 else 'cheaper'}"


def range_in_words(parameter: Parameter) -> str:
    """Return the range that was looked through."""
    return _between(parameter, parameter.low, parameter.high)


def winner_in_words(name: str | None) -> str:
    """Return a winner, or that there is none."""
    return "nothing fits" if name is None else plain(name)


def regions_in_words(found: SwitchPoints) -> str:
    """Return who wins where along a parameter, from low to high.

    Whole numbers name the last of each; "to a jump" tells that a cost breaks off there.
    """
    if not found.switch_points:
        return f"{winner_in_words(found.winner)} throughout"
    pieces = []
    for switch_point in found.switch_points:
        # a region of whole numbers ends with the last that is in it
        end = switch_point.below.value if switch_point.kind == "whole" else switch_point.value
        jump = ", a jump" if switch_point.kind == "jump" else ""
        pieces.append(
            f"{winner_in_words(switch_point.below.winner)} up to "
            f"{value_in_words(found.parameter, end)}{jump}"
        )
    return "; ".join([*pieces, f"then {winner_in_words(found.switch_points[-1].above.winner)}"])


def nearest_switch_points(found: SwitchPoints) -> tuple[SwitchPoint, ...]:
    """Return the switch point just below the base and the one just above it, where there are."""
    base = found.parameter.base
    below = [
        switch_point for switch_point in found.switch_points if switch_point.above.value <= base
    ]
    above = [
        switch_point for switch_point in found.switch_points if switch_point.below.value >= base
    ]
    return (*below[-1:], *above[:1])


def turning_points(all_found: tuple[SwitchPoints, ...]) -> list[str]:
    """Return what would turn the answer, one phrase each, and who would win then."""
    phrases = []
    for found in all_found:
        for switch_point in nearest_switch_points(found):
            up = switch_point.below.value >= found.parameter.base
            winner = switch_point.above.winner if up else switch_point.below.winner
            place = found.switch_points.index(switch_point)
            beyond = (
                found.switch_points[place + 1 :][:1] if up else found.switch_points[:place][-1:]
            )
            near = _edge(switch_point, up=up)
            far = _edge(beyond[0], up=not up) if beyond else None
            turned = _turned(found.parameter, near, far, up=up)
            phrases.append(f"{turned}: {winner_in_words(winner)}")
    return phrases


def turns_in_words(all_found: tuple[SwitchPoints, ...], comparison: Comparison) -> list[str]:
    """Return what would turn the answer and what would not, in two sentences."""
    runner_up = comparison.runner_up
    if runner_up is None or not all_found:
        return []
    phrases = turning_points(all_found)
    if not phrases:
        return ["Nothing turns it alone, in any of the ranges looked through below."]
    usual = f": {winner_in_words(runner_up.name)}"
    said = [phrase.removesuffix(usual) for phrase in phrases]
    return [f"{plain(runner_up.name).capitalize()} would win with one of: {'; '.join(said)}."]


def _edge(switch_point: SwitchPoint, *, up: bool) -> float:
    """Return the value at a switch point; of whole numbers the one on the far side."""
    if switch_point.kind != "whole":
        return switch_point.value
    return switch_point.above.value if up else switch_point.below.value


def _turned(parameter: Parameter, value: float, far: float | None, *, up: bool) -> str:
    """Return the values that turn the answer: from one on, or between two."""
    text, now = value_in_words(parameter, value), value_in_words(parameter, parameter.base)
    if far is not None and far != value:
        low, high = sorted((value, far))
        text = f"of {_between(parameter, low, high)}"
    elif parameter.unit != "×":
        text += f" or {'more' if up else 'less'}" if far is None else ""
    if parameter.key.startswith("price:"):
        return f"{plain(parameter.key.removeprefix('price:'))} batteries {text}"
    return f"{plain(parameter.name)} {text}" + ("" if parameter.unit == "×" else f" (now {now})")


def _between(parameter: Parameter, low: float, high: float) -> str:
    """Return two values with their unit once where it can be."""
    if parameter.unit == "years":
        return f"{low:.0f} to {value_in_words(parameter, high)}"
    return f"{value_in_words(parameter, low)} to {value_in_words(parameter, high)}"


def verdict_in_words(comparison: Comparison) -> str:
    """Return who wins and by how much."""
    site, winner, runner_up = comparison.job.site, comparison.winner, comparison.runner_up
    years = site.horizon_in_words
    hours = f"{comparison.hours} hours" if comparison.hours > 1 else "one hour"
    cost = winner.design.life_cycle_cost
    if runner_up is None:
        limited = site.budget is not None or site.lifetime_budget is not None
        alone = (
            "nothing else does it within the budget"
            if limited
            else ("nothing else on offer lasts that long")
        )
        return (
            f"{plain(winner.name).capitalize()}, for {hours}: {alone}. "
            f"{money(cost, site.currency)} over {years}."
        )
    if comparison.is_tie:
        return f"A tie, for {hours}: both cost {money(cost, site.currency)} over {years}."
    return (
        f"{plain(winner.name).capitalize()}, for {hours}: "
        f"{money(comparison.margin, site.currency)} cheaper over {years}, {money(cost)} against "
        f"{money(runner_up.design.life_cycle_cost)} for {plain(runner_up.name)}."
    )


def reason_in_words(comparison: Comparison) -> str:
    """Return why the winner wins: the parts that speak for it, then those against."""
    differences = comparison.differences()
    size = sum(abs(amount) for amount in differences.values())
    if size == 0:
        return ""
    told = {
        part: amount for part, amount in differences.items() if abs(amount) > _WORTH_A_WORD * size
    }
    speak_for = sorted(((a, p) for p, a in told.items() if a > 0), reverse=True)
    against = sorted((a, p) for p, a in told.items() if a < 0)
    text = "Why: " + ", ".join(_part(part, amount) for amount, part in speak_for)
    if against:
        text += "; against that, " + ", ".join(_part(part, amount) for amount, part in against)
    return text + " (present values)."


def _part(part: Part, amount: float) -> str:
    """Return one part: positive amounts speak for the winner."""
    what = _PART_WORDS[part]
    if part == "residual value":
        return f"{what} is worth {money(abs(amount))} {'more' if amount > 0 else 'less'}"
    verb = "cost" if part in {"later banks", "works"} else "costs"
    return f"{what} {verb} {money(abs(amount))} {'less' if amount > 0 else 'more'}"


def catch_up_in_words(comparison: Comparison) -> str:
    """Return when the one dearer at the start has caught up."""
    dearer, runner_up = comparison.dearer_at_start, comparison.runner_up
    if runner_up is None:
        return ""
    if dearer is None:
        return "Both ask the same money at the start."
    other = runner_up if dearer is comparison.winner else comparison.winner
    gap = dearer.design.upfront_cost - other.design.upfront_cost
    years = comparison.caught_up_after
    start = (
        f"{plain(dearer.name).capitalize()} asks {money(gap, comparison.job.site.currency)} more "
        "at the start"
    )
    if years is None:
        left = dearer is comparison.winner
        tail = ": only the residual value at the end makes up for it" if left else ""
        return f"{start} and has not caught up within {comparison.job.site.horizon_in_words}{tail}."
    after = "at once" if years == 0 else f"after {years} year{'s' if years > 1 else ''}"
    return f"{start} and has caught up {after}."


def later_in_words(one: Alternative) -> str:
    """Return what is bought after the start, with years and sums."""
    return purchases_in_words(one.later_purchases)


def purchases_in_words(later: tuple) -> str:  # type: ignore[type-arg] # of Purchase
    """Return later purchases with their years, counted from 1, and sums."""
    if not later:
        return "none"
    return "; ".join(
        f"year {one.year + 1}: {plain(', '.join(one.items))}, {money(one.amount)}" for one in later
    )


def cause_in_words(cause: Cause) -> str:
    """Return what made a step of a staircase."""
    if cause.requirement is None:
        return "energy: the next larger bank"
    return requirement_name(Writer("EUR"), cause.requirement)


def first_in_words(first: First) -> str:
    """Return a first purchase: bank and inverter set."""
    units = "" if first.inverter_units == 1 else f"{first.inverter_units} × "
    return (
        f"{plain(first.battery)}, {first.series} × {first.strings}, {first.voltage_v} V; "
        f"{units}{plain(first.inverter)}"
    )


def design_in_words(one: Alternative) -> str:
    """Return bank and inverter set of a alternative."""
    bank = one.design.banks[0]
    return f"{plain(bank_in_words(bank, one.design.voltage_v))}; {plain(set_in_words(one.design))}"


def regret_in_words(found: Regret) -> str:
    """Return what the drawn futures say of the cheapest design and of the safest."""
    currency = found.job.site.currency
    today, safest = found.today, found.safest
    text = (
        f"In {found.scenarios} drawn futures today's cheapest ({first_in_words(today.first)}) is "
        f"the cheapest in {today.best_share:.0%}; at worst it costs "
        f"{_regret(today.largest_regret, currency)} more than the best would have."
    )
    if safest.first == today.first:
        return f"{text} No other has a smaller largest regret."
    return (
        f"{text} The safest ({first_in_words(safest.first)}) at worst "
        f"{_regret(safest.largest_regret, currency)}; on average "
        f"{money(safest.mean_cost - today.mean_cost, currency)} more than today's cheapest."
    )


def _regret(amount: float, currency: str) -> str:
    return money(amount, currency) if math.isfinite(amount) else "without limit"


def break_even_line_in_words(
    break_even_line: BreakEvenLine, values: tuple[float, ...] | None = None
) -> list[str]:
    """Return the break-even line at values of its first number, one sentence each.

    At its low, base and high where no values are named.
    """
    across = break_even_line.across
    picked = values or (across.low, across.base, across.high)
    sentences = []
    for point in break_even_line.points:
        if point.value in picked:
            at = f"With {plain(across.name)} at {value_in_words(across, point.value)}"
            at += " (now)," if point.value == across.base else ","
            if point.factor is None:
                sentences.append(f"{at} {winner_in_words(point.always)} wins at any price tried.")
            else:
                text = value_in_words(break_even_line.price, point.factor)
                sentences.append(
                    f"{at} {plain(break_even_line.priced)} wins until its batteries are {text}."
                )
    return sentences
