"""What the appendix says; every number written as the locale writes it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.report.words import comparison
from optimizer.report.words.charts import family
from optimizer.report.words.switch_points import break_even, turning

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.comparison.budgets import Step
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
    return comparison.verdict(write, found.comparison)


def reasons(found: Appendix, write: Writer) -> list[str]:
    """Return why the winner wins, when the dearer has caught up, and who cannot carry it."""
    compared = found.comparison
    said = [*comparison.reasons(write, compared), comparison.catch_up(write, compared)]
    if compared.missing:
        said.append(comparison.missing(write, compared))
    return [sentence for sentence in said if sentence]


def turns(found: Appendix, write: Writer) -> list[str]:
    """Return what would turn the answer."""
    return turning(write, found.switch_points) if found.switch_points else []


def break_even_line(found: Appendix, write: Writer) -> str:
    """Return the break-even line at the lowest, today's and the highest value."""
    if found.break_even_line is None:
        return ""
    return " ".join(break_even(write, found.break_even_line))


def lifetime(write: Writer, years: int) -> str:
    """Return what the life-cycle cost is called."""
    return write.say("Over {years:years}", years=years)


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


def _listed(names: list[str], word: str) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} {word} {names[-1]}"
