"""Texts of the quote."""

from typing import Final

from optimizer.model.design import Design
from optimizer.report.words.design import chemistry
from optimizer.report.words.writer import Writer
from ui.language import say

LEAVE: Final = say("Make a quote")
LEAVE_HELP: Final = say(
    "Two or three options off the curve, priced line by line, with a paper for the household "
    "and one for the electrician."
)
MAKE: Final = say("Price the options")
MAKE_AGAIN: Final = say("Price them anew")
STALE: Final = say("The job has changed since the options were priced.")
WAIT: Final = say("Pricing the options")
WAIT_APPENDIX: Final = say("Comparing the families; this takes several seconds")
NOT_PRICED: Final = say("The quote cannot be made like this yet.")
FAILED: Final = say(
    "The quote could not be made this time; change something and it is tried again."
)
PICK: Final = say("Options")
PICKS: Final = {False: say("by rule"), True: say("by hand")}
PICK_HELP: Final = say(
    "By rule: the cheapest that meets the target, one that is at least a tenth cheaper, and more "
    "hours at the least cost for each."
)
HOURS: Final = say("Hours of the options")
SENDER: Final = say("Who makes it, and on which terms")
COMPANY_FILE: Final = say("Drop in the details of your company (TOML)")
COMPANY_HELP: Final = say(
    "It fills in the fields here, and brings what has none: address, terms, stages, discounts, "
    "extras, what the customer owns."
)
LOGO_FILE: Final = say("And a logo, if there is one (PNG or JPEG)")
LOGO_HELP: Final = say("Stands at the top of the PDF.")
LOGO_OUT: Final = say("Leave the logo out")
LOGO_APART: Final = say("The file names a logo; drop the picture in beside it.")
FIELDS: Final = {
    "name": (say("Company"), say("Stands at the top of every page.")),
    "number": (say("Quote number"), say("Your own.")),
    "customer": (say("Customer"), say("For whom the quote is.")),
    "valid_days": (say("Valid for"), say("From the day of the quote.")),
    "locale": (say("Numbers and dates as in"), say("A locale such as en_IE, de or pt_BR.")),
    "markup": (
        say("Markup"),
        say("The markup of the money question: shown, or inside the prices."),
    ),
    "deposit": (
        say("Deposit"),
        say("With the order; the rest at the handover unless stages say else."),
    ),
}
DAY: Final = say("Day of the quote")
DAY_HELP: Final = say("Due dates and the age of prices count from it.")
MARKUPS: Final = {"spread": say("inside the prices"), "line": say("shown to the customer")}
APPENDIX: Final = say("Add what speaks for each family, and what would change the answer")
APPENDIX_HELP: Final = say(
    "Pages for the PDF, the workbook and the JSON; worked out once, in seconds."
)
TAKE_CUSTOMER: Final = say("For the customer")
TAKE_ELECTRICIAN: Final = say("For the electrician: circuit, settings, record of tests")
TAKE_INSTALLER: Final = say("For you alone: what each line leaves")
TAKE_BUILT: Final = say("As built, to assess the bank by in later years")
CIRCUIT: Final = say("Circuit as")
MARGINS: Final = say("Margins as")


def hours_option(write: Writer, design: Design) -> str:
    """Return a point of the curve as it is picked by hand."""
    return write.say(
        "{hours} h, {family}, {cost:money}",
        hours=design.hours,
        family=chemistry(write, design.banks[0].battery.family),
        cost=design.upfront_cost,
    )
