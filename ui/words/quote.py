"""Texts of the quote."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.formulas.rounding import exact
from optimizer.report.quote import texts
from ui.markup import safe

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.model.design import Design
    from optimizer.model.job import Site
    from optimizer.quote import PricedOption, Quote
    from optimizer.quote.lines import Sum
    from optimizer.report.words.writer import Writer

LEAVE: Final = "Leave a quote?"
LEAVE_HELP: Final = (
    "Two or three options off the curve, priced line by line, with a sheet for the electrician "
    "and one for the household."
)
MAKE: Final = "Price the options"
MAKE_AGAIN: Final = "Price them anew"
STALE: Final = "The job has changed since the options were priced."
WAIT: Final = "Pricing the options"
WAIT_APPENDIX: Final = "Comparing the families; this takes several seconds"
NOT_PRICED: Final = "The quote cannot be made like this yet."
FAILED: Final = "The quote could not be made this time; change something and it is tried again."
PICK: Final = "Options"
PICKS: Final = {False: "by rule", True: "by hand"}
PICK_HELP: Final = (
    "By rule: the cheapest that meets the target, the point where more hours stop being cheap, "
    "and the longest within the budget or twice the first one's cost."
)
HOURS: Final = "Hours of the options"
SENDER: Final = "Who leaves it, and on which terms"
COMPANY_FILE: Final = "Drop in the details of your company (TOML)"
COMPANY_HELP: Final = (
    "Sections company, quote, payment and headings; it fills in the fields here, and brings "
    "address, terms and stages, which have none."
)
LOGO_FILE: Final = "And a logo, if there is one (PNG or JPEG)"
LOGO_HELP: Final = "Stands at the top of the PDF."
LOGO_OUT: Final = "Leave the logo out"
LOGO_APART: Final = "The file names a logo; drop the picture in beside it."
FIELDS: Final = {
    "name": ("Company", "Stands at the top of every page."),
    "number": ("Quote number", "Your own."),
    "customer": ("Customer", "For whom the quote is."),
    "valid_days": ("Valid for, days", "From the day of the quote."),
    "locale": ("Numbers and dates as in", "A locale such as en_IE, de or pt_BR."),
    "markup": ("Markup", "The markup of the money question: shown, or inside the prices."),
    "deposit": ("Deposit, %", "With the order; the rest at handing over unless stages say else."),
}
DAY: Final = "Day of the quote"
DAY_HELP: Final = "Due dates and the age of prices count from it."
MARKUPS: Final = {"line": "a line of its own", "spread": "inside the prices"}
APPENDIX: Final = "Add what speaks for each family, and what would change the answer"
APPENDIX_HELP: Final = "Pages for the PDF, the workbook and the JSON; worked out once, in seconds."
TAKE_CUSTOMER: Final = "For the customer"
TAKE_INSTALLER: Final = "For you alone: what each line leaves"
TAKE_BUILT: Final = "As built, to assess the bank by in later years"
PLAN: Final = "To be paid"
LATER: Final = "Bought again later, at today's prices"
NOTHING_LATER: Final = "Nothing within the years looked ahead."
MARGINS: Final = "Margins as"
FORMATS: Final = {".pdf": "PDF", ".xlsx": "XLSX", ".csv": "CSV", ".json": "JSON"}


def headings(currency: str) -> tuple[str, ...]:
    """Return the headings of priced lines."""
    return ("", "Quantity", "Each", f"Amount, {safe(currency)}")


def option_columns(site: Site) -> tuple[str, ...]:
    """Return the headings of the options."""
    years = "year" if site.horizon_years == 1 else f"{site.horizon_years} years"
    currency = safe(site.currency)
    return ("Option", f"To pay, {currency}", f"Over {years}, {currency}")


def due_columns(currency: str) -> tuple[str, ...]:
    """Return the headings of the payment plan."""
    return ("When", "Share", f"Amount, {safe(currency)}")


def later_columns(currency: str) -> tuple[str, ...]:
    """Return the headings of later purchases."""
    return ("When", "What", f"Sum, {safe(currency)}")


def hours_option(design: Design) -> str:
    """Return a point of the curve as it is picked by hand."""
    family = design.banks[0].battery.family
    return f"{design.hours} h, {family}, {design.upfront_cost:,.0f}"


def option_rows(quote: Quote, write: Writer) -> list[list[str]]:
    """Return the options, one a row."""
    return [
        [
            f"**{safe(option.option.name)}**",
            write.amount(option.pricing.total),
            write.number(exact(option.option.design.life_cycle_cost)),
        ]
        for option in quote.options
    ]


def equipment(option: PricedOption) -> str:
    """Return what an option is, and why it is among them."""
    bank = texts.bank(option)
    return (
        f"{safe(bank[:1].upper() + bank[1:])} behind {safe(texts.inverter_set(option))}: "
        f"{safe(option.option.why)}."
    )


def line_rows(total: Sum, option: PricedOption, write: Writer) -> list[list[str]]:
    """Return priced lines under their headings, then sum, markup, tax and total."""
    rows: list[list[str]] = []
    for heading, lines in total.by_heading():
        rows.append([f"**{heading}**", "", "", ""])
        rows += [
            [
                safe(line.item),
                f"{write.plain(line.quantity)} {line.unit}".strip(),
                write.price(line.price_each),
                write.amount(line.amount),
            ]
            for line in lines
        ]
    pricing = option.pricing
    rows.append(["**Sum of the lines**", "", "", write.amount(total.net)])
    if not pricing.markup_spread and total.markup:
        rows.append(
            [f"Markup {write.share(pricing.markup_rate)}", "", "", write.amount(total.markup)]
        )
    rows.append([f"Tax {write.share(pricing.tax_rate)}", "", "", write.amount(total.tax)])
    rows.append(["**Total**", "", "", f"**{write.amount(total.total)}**"])
    return rows


def due_rows(option: PricedOption, write: Writer) -> list[list[str]]:
    """Return the payment plan."""
    return [
        [safe(due.when), write.share(due.share), write.amount(due.amount)]
        for due in option.pricing.plan
    ]


def later_rows(quote: Quote, option: PricedOption, write: Writer) -> list[list[str]]:
    """Return later purchases."""
    return [
        [
            safe(texts.replacement_year(quote, one.year, write)),
            safe(one.item),
            write.amount(one.sum.total),
        ]
        for one in option.pricing.replacements
    ]


def warnings(option: PricedOption, write: Writer) -> list[str]:
    """Return warnings of old prices."""
    return [safe(texts.old_price(item, write.day(day))) for item, day in option.old_prices]


def opinion(option: PricedOption, write: Writer) -> str:
    """Return the second opinion on an option."""
    return safe(texts.second_opinion(option.option.verdict, write))


def not_included(lines: Sequence[str]) -> str:
    """Return what no line holds."""
    return f"Not included: {'; '.join(safe(line) for line in lines)}."


def valid(quote: Quote, write: Writer) -> str:
    """Return who leaves the quote, its number, day and validity."""
    number = quote.company.number
    parts = [
        safe(quote.company.name or ""),
        f"quote {safe(number)}" if number else "",
        f"of {write.day(quote.day)}",
        f"valid until {write.day(quote.valid_until)}",
    ]
    text = ", ".join(part for part in parts if part)
    return f"{text[:1].upper()}{text[1:]}."
