"""What is told of the design that is shown, each part under a question.

To add a part, write a function of the answer into `ui.answers.design`, its heading into `ui.words`
and a line here. Each is drawn by itself, so that one that fails leaves the others, and only where
it is open.
"""

from collections.abc import Callable, Iterator
from functools import partial
from typing import NamedTuple

from optimizer.report.words.glossary import Term
from ui import words
from ui.answers import design, pictures
from ui.cached import Answer, Curves


class Part(NamedTuple):
    """A part: its heading, its drawing, and the trade terms it uses."""

    heading: str
    draw: Callable[[Answer], None]
    terms: tuple[Term, ...] = ()


def parts_of(answer: Answer, found: Curves) -> Iterator[Part]:
    """Yield the parts of a design that is shown, in order."""
    job, shown = answer.job, answer.design
    yield Part(
        words.FIGURES,
        design.figures,
        (
            Term.AUTONOMY,
            Term.STRING,
            Term.SERVICE_LIFE,
            Term.INVERTER_CHARGER,
            Term.STARTING_POWER,
        ),
    )
    yield Part(
        words.MONEY,
        design.money,
        (
            Term.UPFRONT_COST,
            Term.LIFE_CYCLE_COST,
            Term.PRESENT_VALUE,
            Term.DISCOUNT_RATE,
            Term.REPLACEMENT,
            Term.RESIDUAL_VALUE,
        ),
    )
    costs = (Term.UPFRONT_COST, Term.LIFE_CYCLE_COST, Term.STUDY_PERIOD)
    yield Part(words.TRADES, design.trades, costs)
    yield Part(words.BINDING, design.binding, (Term.AUTONOMY, Term.STARTING_POWER))
    yield Part(words.STEP, partial(design.step, found))
    held = (Term.INDEPENDENT_SIMULATION, Term.TIER, Term.UNSERVED_ENERGY)
    yield Part(words.SIMULATION, design.holds, held)
    charge = (Term.STATE_OF_CHARGE, Term.DEPTH_OF_DISCHARGE, Term.TIER)
    yield Part(words.OUTAGE, pictures.outage, charge)
    if any(one.duty < 1 for one in job.loads if one.tier in job.site.tiers):
        yield Part(words.BURSTS, pictures.bursts)
    if job.outages.daily:
        yield Part(words.CUTS, pictures.cuts)
    if job.site.peaks and shown.contract is not None:
        yield Part(words.PEAKS, partial(pictures.peaks, shown.contract.power_w))
    if shown.generator is not None:
        yield Part(words.THREE_DAYS, pictures.three_days)
