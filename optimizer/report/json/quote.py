"""A quote, and what a register of quotes holds, as JSON; the keys are the fields."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from optimizer.answers.curve import Point
from optimizer.comparison.answers import TiersAnswer, tiers_answer
from optimizer.model.shown import shown
from optimizer.quote.appendix import Appendix
from optimizer.quote.build import PricedOption
from optimizer.quote.register import Record
from optimizer.quote.sums import Item

if TYPE_CHECKING:
    from optimizer.quote.build import Quote


@dataclass(frozen=True)
class AppendixAnswer:
    """The same answers as the questions of the appendix give when asked alone."""

    appendix: Appendix = field(metadata=shown(inline=True))
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
    options: tuple[PricedOption, ...]
    twins: tuple[int, ...]
    for_little_more: Point | None
    invented: tuple[Item, ...]
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
    company, behind = made.company, made.appendix
    return QuoteAnswer(
        quote=company.number,
        revision=company.revision,
        company=company.name,
        customer=company.customer,
        site=made.site,
        date=made.day,
        valid_until=made.valid_until,
        currency=made.currency,
        options=made.options,
        twins=made.selection.twins,
        for_little_more=made.selection.for_little_more,
        invented=made.invented,
        terms=company.terms,
        not_included=company.not_included,
        appendix=None if behind is None else AppendixAnswer(behind, tiers_answer(behind.tiers)),
    )
