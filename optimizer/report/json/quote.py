"""A quote, and what a register of quotes holds, as JSON; the keys are the fields."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from optimizer.answers.curve import Point, point_of
from optimizer.comparison.answers import CompareAnswer, TiersAnswer, tiers_answer
from optimizer.comparison.budgets import Staircase
from optimizer.comparison.sensitivities import Sensitivities
from optimizer.model.shown import shown
from optimizer.quote.electrical import Sheet
from optimizer.quote.handover import Handover
from optimizer.quote.lines import Pricing
from optimizer.quote.options import Why
from optimizer.quote.register import Record
from optimizer.quote.sums import Item
from optimizer.simulate import Verdict

if TYPE_CHECKING:
    from optimizer.quote.appendix import Appendix
    from optimizer.quote.build import PricedOption, Quote


@dataclass(frozen=True)
class OldPrice:
    """An item whose price is more than a year old."""

    item: Item
    price_date: dt.date


@dataclass(frozen=True)
class OfferedOption:
    """One option: why it is here, its design, its money, and its two sheets."""

    why: Why
    why_hours: int
    why_money: float | None
    design: Point
    verdict: Verdict
    pricing: Pricing = field(metadata=shown(inline=True))
    old_prices: tuple[OldPrice, ...]
    electrical: Sheet
    handover: Handover


@dataclass(frozen=True)
class AppendixAnswer:
    """The same answers as the questions of the appendix give when asked alone."""

    compare: CompareAnswer = field(metadata=shown(inline=True))
    sensitivities: Sensitivities
    budget: Staircase
    tiers: TiersAnswer


@dataclass(frozen=True)
class QuoteAnswer:
    """A quote; nothing in it is meant for the installer alone."""

    quote: str | None
    revision: int
    company: str | None
    customer: str | None
    site: str
    date: dt.date
    valid_until: dt.date
    currency: str
    options: tuple[OfferedOption, ...]
    twins: tuple[int, ...]
    for_little_more: Point | None
    terms: tuple[str, ...]
    not_included: tuple[str, ...]
    appendix: AppendixAnswer | None


@dataclass(frozen=True)
class RegisterAnswer:
    """Quotes of a register; the files where one of them was reopened."""

    quotes: tuple[Record, ...]
    files: tuple[str, ...] | None = None


def quote_answer(made: Quote) -> QuoteAnswer:
    """Return a quote for programs."""
    company, site, little = made.company, made.job.site, made.selection.for_little_more
    return QuoteAnswer(
        quote=company.number,
        revision=company.revision,
        company=company.name,
        customer=company.customer,
        site=site.name,
        date=made.day,
        valid_until=made.valid_until,
        currency=site.currency,
        options=tuple(_offered(made, option) for option in made.options),
        twins=made.selection.twins,
        for_little_more=None if little is None else point_of(made.job, little),
        terms=tuple(company.terms),
        not_included=tuple(company.not_included),
        appendix=None if made.appendix is None else _appendix(made.appendix),
    )


def _offered(made: Quote, priced: PricedOption) -> OfferedOption:
    option = priced.option
    return OfferedOption(
        why=option.why,
        why_hours=option.hours,
        why_money=option.money,
        design=point_of(made.job, option.design),
        verdict=option.verdict,
        pricing=priced.pricing,
        old_prices=tuple(OldPrice(*one) for one in priced.old_prices),
        electrical=priced.sheet,
        handover=priced.handover,
    )


def _appendix(found: Appendix) -> AppendixAnswer:
    return AppendixAnswer(
        CompareAnswer(found.comparison, found.switch_points, found.break_even_line),
        found.sensitivities,
        found.stairs,
        tiers_answer(found.tiers),
    )
