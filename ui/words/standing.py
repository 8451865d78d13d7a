"""Texts of the part that assesses a bank that stands already."""

from typing import Final

from optimizer.report.words.writer import Writer
from ui.language import say

HEADING: Final = say("I have a battery already")
BANK: Final = say("The battery")
BANK_EXAMPLE: Final = say("12 V 95 Ah agm")
LOAD: Final = say("What it runs")
LOADS_OF_SITE: Final = say("the loads listed here")
AGE: Final = say("Its age")
LIFE: Final = say("How long it lasts, why it ages, what to set aside, what it carries")
DISTANCE: Final = say("Against what can be bought today")


def help_of(write: Writer, site: str) -> str:
    """Return what the part answers."""
    return write.say(
        "How long does it run, now and at the end of its life, and what load does it carry for the "
        "hours required? Voltage, capacity and chemistry as printed on it; place, outages and "
        "prices are those of {site}.",
        site=site,
    )
