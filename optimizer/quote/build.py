"""A whole quote: options priced, with their electrical and handing-over sheets."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from pathlib import Path
from typing import ClassVar, Self

from optimizer.answers.curve import Curve, curve_of
from optimizer.answers.old_prices import PRICE_AGE
from optimizer.answers.questions import no_design, search_for
from optimizer.errors import wrong_option
from optimizer.model.diagnosis import Goal, GoalKind
from optimizer.model.job import LONGEST_HOURS, Job
from optimizer.model.phrase import Phrase
from optimizer.model.progress import Progress
from optimizer.model.result import Result
from optimizer.model.shown import shown
from optimizer.quote.appendix import Appendix, make_appendix
from optimizer.quote.as_built import as_built, file_name
from optimizer.quote.company import SHOWN, Company
from optimizer.quote.electrical import Sheet, electrical_sheet
from optimizer.quote.handover import Handover, handover_sheet
from optimizer.quote.invented import invented_items
from optimizer.quote.options import Option, Pick, Selection, select
from optimizer.quote.priced_lines import Pricing, price
from optimizer.quote.sums import Item


@dataclass(frozen=True, slots=True)
class OldPrice:
    """An item whose price is more than a year old."""

    item: Item
    price_date: date


@dataclass(frozen=True, slots=True)
class PricedOption(Option):
    """One option: why it is here, its design, its money, and its two sheets."""

    pricing: Pricing = field(metadata=shown(inline=True))
    old_prices: tuple[OldPrice, ...]
    sheet: Sheet = field(metadata=shown("electrical"))
    handover: Handover


@dataclass(frozen=True, slots=True, repr=False)
class Quote(Result):
    """A quote: who, when, for which site, and its options, hours rising.

    Nothing that JSON has of it is meant for the installer alone. ``selection`` also says what is
    too near to an option to stand beside it; ``appendix`` is None where none is asked for.
    """

    also: ClassVar = ("site", "currency", "valid_until", "invented")

    job: Job = field(metadata=shown(hide=True))
    curve: Curve = field(metadata=shown(hide=True))
    company: Company = field(metadata=shown(take=SHOWN))
    day: date = field(metadata=shown("date"))
    options: tuple[PricedOption, ...]
    selection: Selection = field(metadata=shown(take=("twins", "for_little_more")))
    appendix: Appendix | None = None

    @property
    def as_built_files(self) -> dict[str, str]:
        """The as-built file of each option by its name."""
        found: dict[str, str] = {}
        for one in self.options:
            name = file_name(one.design, self.company, self.job.site.name)
            while name in found:  # options of the same hours
                name = f"{Path(name).stem}-{len(found) + 1}.toml"
            design, paid = one.design, one.pricing.total
            found[name] = as_built(self.job, design, paid, self.company, self.day)
        return found

    def numbered(self, number: str, revision: int) -> Self:
        """Return the quote under a number of a register."""
        return replace(self, company=replace(self.company, number=number, revision=revision))

    @property
    def invented(self) -> tuple[Item, ...]:
        """What still stands at a price of the bundled price list, which is invented."""
        lines = (line for option in self.options for line in option.pricing.first.lines)
        return invented_items(lines)

    @property
    def valid_until(self) -> date:
        """The last day the quote holds."""
        return self.day + timedelta(days=self.company.valid_days)


def make_quote(
    job: Job,
    *,
    options: Sequence[Pick | int] | None = None,
    company: Company | None = None,
    day: date | None = None,
    family: str | None = None,
    appendix: bool = False,
    progress: Progress | None = None,
) -> Quote:
    """Return a quote: options from the curve, priced, with their sheets.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money hold.
    options : sequence of Pick or int, optional
        Picked by hand, a number for hours [h]; up to three by rule where left out.
    company : Company, optional
        Sender and terms, from `optimizer.quote.read_company`.
    day : date, optional
        Day of the quote; this day where left out.
    family : str, optional
        Only chemistries of this family.
    appendix : bool
        Also work out what speaks for each family, and what would change the answer: a few
        seconds.
    progress : callable, optional
        Called with steps done and all steps while the curve is made.

    Raises
    ------
    InputError
        Hours that no design carries, or a company file that does not suit the price list.
    NoDesignError
        Nothing fits at any hour.
    """
    asked = [one if isinstance(one, int) else one.hours or 1 for one in options or ()]
    longest = max([job.site.max_hours, *(one for one in asked if one <= LONGEST_HOURS)])
    search = search_for(job, family, longest)
    curve = curve_of(search, progress)
    if not curve.points:
        goal = Goal(GoalKind.HOURS, currency=job.site.currency, family=family)
        raise no_design(search, goal, progress)
    return build_quote(
        curve, options=options, company=company, day=day or date.today(), appendix=appendix
    )


def build_quote(
    curve: Curve,
    *,
    options: Sequence[Pick | int] | None = None,
    company: Company | None = None,
    day: date,
    appendix: bool = False,
) -> Quote:
    """Return what `make_quote` does, from a whole curve with at least one point.

    Raises
    ------
    InputError
        As there; and for a day long before the price list's, as ages of prices count from it.
    """
    sender = company or Company()
    job = curve.job
    _check_day(job, day)
    selection = select(curve, options)
    priced = tuple(_priced(job, option, sender, day) for option in selection.options)
    more = make_appendix(curve, selection.options) if appendix else None
    return Quote(job, curve, sender, day, priced, selection, more)


def _priced(job: Job, option: Option, company: Company, day: date) -> PricedOption:
    pricing, design = price(job, option.design, company), option.design
    old = tuple(
        OldPrice(line.item, line.price_date)
        for line in pricing.first.lines
        if line.price_date is not None and day - line.price_date > PRICE_AGE
    )
    sheet = electrical_sheet(job, design)
    handover = handover_sheet(job, design, company, day)
    why, hours, money = option.why, option.hours, option.money
    return PricedOption(
        why, hours, money, option.design, option.verdict, pricing, old, sheet, handover
    )


def _check_day(job: Job, day: date) -> None:
    dated = [battery.price_date for battery in job.catalog.batteries]
    dated += [inverter.price_date for inverter in job.catalog.inverters]
    newest = max((one for one in dated if one is not None), default=day)
    if day < newest - PRICE_AGE:
        wanted = Phrase(
            "a day of the price list's time; its newest price is of {day}", day=newest.isoformat()
        )
        raise wrong_option("--date", day.isoformat(), wanted)
