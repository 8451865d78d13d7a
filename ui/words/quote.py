"""Texts of the quote."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from optimizer.model.design import Design

LEAVE: Final = "Make a quote"
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
MARGINS: Final = "Margins as"
FORMATS: Final = {".pdf": "PDF", ".xlsx": "XLSX", ".csv": "CSV", ".json": "JSON"}


def hours_option(design: Design) -> str:
    """Return a point of the curve as it is picked by hand."""
    family = design.banks[0].battery.family
    return f"{design.hours} h, {family}, {design.upfront_cost:,.0f}"
