"""What the appendix says; every number written as the locale writes it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from optimizer.formulas.rounding import exact
from optimizer.report import rivals_words as words
from optimizer.report.quote.texts import chemistry, localised
from optimizer.report.words import bank_in_words, plain, set_in_words
from optimizer.report.words.charts import family

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from optimizer.answers.purchases import Purchase
    from optimizer.comparison.budgets import Step
    from optimizer.comparison.side_by_side import Alternative
    from optimizer.quote.appendix import Appendix
    from optimizer.report.words.writer import Writer

#: Steps of a budget that a page has room for; the workbook has all of them.
STEPS_SHOWN = 16


def title(found: Appendix, write: Writer) -> str:
    """Return the heading: the question as a buyer asks it."""
    names = [family(write, name) for name in found.families]
    if len(names) == 1:
        return "Appendix: what would change the answer"
    return f"Appendix: {_listed(names, 'or')}, and what would change the answer"


def verdict(found: Appendix, write: Writer) -> str:
    """Return who wins and by how much."""
    comparison = found.comparison
    if len(found.families) > 1:
        return spoken(words.verdict_in_words(comparison), found, write)
    site, winner = comparison.job.site, comparison.winner
    over = lifetime(write, site.horizon_years).lower()
    cost = write.money(exact(winner.design.life_cycle_cost), whole=True)
    return (
        f"{_capital(family(write, winner.name))}, for {_hours(comparison.hours)}: {cost} "
        f"{over}. The price list has no other family to set against it."
    )


def reasons(found: Appendix, write: Writer) -> list[str]:
    """Return why the winner wins, when the dearer has caught up, and who cannot carry it."""
    comparison = found.comparison
    said = [
        spoken(sentence, found, write)
        for sentence in (
            words.reason_in_words(comparison),
            words.catch_up_in_words(comparison),
        )
    ]
    if comparison.missing:
        names = _listed([_kind(name, write) for name in comparison.missing], "or")
        said.append(f"Nothing on offer lets {names} batteries carry these hours here.")
    return [sentence for sentence in said if sentence]


def turns(found: Appendix, write: Writer) -> str:
    """Return what would turn the answer, in one sentence."""
    if not found.switch_points:
        return ""
    comparison = found.comparison
    runner_up = comparison.runner_up
    phrases = words.turning_points(found.switch_points)
    if not phrases:
        return (
            f"Nothing turns it alone: {family(write, comparison.winner.name)} stays the "
            "answer throughout every range below."
        )
    if runner_up is not None and all(one.endswith(f": {plain(runner_up.name)}") for one in phrases):
        return spoken(" ".join(words.turns_in_words(found.switch_points, comparison)), found, write)
    return spoken(f"Another would win with one of: {'; '.join(phrases)}.", found, write)


def break_even_line(found: Appendix, write: Writer) -> str:
    """Return the break-even line at the lowest, today's and the highest value."""
    if found.break_even_line is None:
        return ""
    line = found.break_even_line
    winners = {point.always for point in line.points}
    if len(winners) == 1 and None not in winners:
        across = f"{plain(line.across.name)} from {words.range_in_words(line.across)}"
        sentence = (
            f"None: {plain(str(*winners))} wins whatever {plain(line.priced)} batteries cost, "
            f"from {words.range_in_words(line.price)}, with {across}."
        )
        return spoken(sentence, found, write)
    text = " ".join(words.break_even_line_in_words(line))
    others = [name for name in found.families if name not in {line.priced, line.other}]
    if others:
        text += f" Between these two alone, without {_listed(others, 'and')}."
    return spoken(text, found, write)


def spoken(sentence: str, found: Appendix, write: Writer) -> str:
    """Return a sentence with families named as people call them, and the locale's numbers."""
    for name in found.families:
        said = family(write, name)
        if said != plain(name):
            for old, new in ((plain(name), said), (_capital(plain(name)), _capital(said))):
                sentence = re.sub(rf"\b{re.escape(old)}\b(?!-)", new, sentence)
    return localised(sentence, write)


def lifetime(write: Writer, years: int) -> str:
    """Return what the life-cycle cost is called."""
    return write.say("Over {years:years}", years=years)


def _kind(name: str, write: Writer) -> str:
    """Return a family or a chemistry as people call it."""
    return family(write, chemistry(name))


def later(bought: Iterable[Purchase], write: Writer) -> str:
    """Return what is bought after the start, years counted from 1."""
    return "; ".join(
        f"year {one.year + 1}: {plain(', '.join(one.items))}, {write.number(one.amount)}"
        for one in bought
    )


def bank_of(step: Step) -> str:
    """Return bank and inverter set of a step."""
    design = step.design
    bank = bank_in_words(design.banks[0], design.voltage_v)
    text = f"{plain(bank)}; {plain(set_in_words(design))}"
    return text.replace(" × ", "\N{NO-BREAK SPACE}×\N{NO-BREAK SPACE}")


def sides(found: Appendix, write: Writer) -> list[tuple[str, Callable[[Alternative], str]]]:
    """Return the rows of the families side by side: a heading, and the cell of each."""
    site = found.comparison.job.site

    def money(amount: float) -> str:
        return write.money(exact(amount), whole=True)

    return [
        ("Bank", lambda one: plain(bank_in_words(one.design.banks[0], one.design.voltage_v))),
        ("Inverter-charger", lambda one: plain(set_in_words(one.design))),
        ("To pay at the start", lambda one: money(one.design.upfront_cost)),
        ("Bought later, money of today", lambda one: later(one.later_purchases, write) or "none"),
        ("Left at the end, money of today", lambda one: money(one.residual_value)),
        (
            f"Cost {lifetime(write, site.horizon_years).lower()}",
            lambda one: money(one.design.life_cycle_cost),
        ),
        ("A month pays for all of it", lambda one: write.money(exact(one.monthly_sum))),
        ("An hour of it", lambda one: money(one.cost_per_hour)),
        ("A usable kWh of it", lambda one: money(one.cost_per_kwh)),
        ("Carries; gives when new", lambda one: _carries(one, write)),
        ("Mass; floor under the units", lambda one: _mass(one, write)),
    ]


def _carries(one: Alternative, write: Writer) -> str:
    return f"{one.design.hours} h; {write.number(one.usable_kwh, 1)} kWh"


def _mass(one: Alternative, write: Writer) -> str:
    floor = "not known" if one.floor_m2 is None else f"{write.number(one.floor_m2, 2)} m²"
    return f"{write.number(one.mass_kg)} kg; {floor}"


def years_shown(horizon_years: int) -> list[int]:
    """Return the years of a short table: all of few, else about ten, the last among them."""
    step = 1 if horizon_years <= 10 else -(-horizon_years // 10)  # noqa: PLR2004
    return sorted({*range(0, horizon_years + 1, step), horizon_years})


def large_steps(steps: Sequence[Step]) -> list[Step]:
    """Return the steps that a page has room for: the ends and those that add most hours."""
    if len(steps) <= STEPS_SHOWN:
        return list(steps)
    added = {step.hours: step.hours - before for step, before in zip(
        steps, [0, *(one.hours for one in steps)], strict=False
    )}  # fmt: skip
    inner = sorted(steps[1:-1], key=lambda step: -added[step.hours])[: STEPS_SHOWN - 2]
    kept = {step.hours for step in (steps[0], steps[-1], *inner)}
    return [step for step in steps if step.hours in kept]


def _hours(hours: int) -> str:
    return "one hour" if hours == 1 else f"{hours} hours"


def _listed(names: list[str], word: str) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} {word} {names[-1]}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
