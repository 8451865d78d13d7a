"""What frames a quote in words: sender, customer, cover, terms, what is not included."""

from collections.abc import Sequence

from optimizer.quote import Company, Quote
from optimizer.report.words import commands
from optimizer.report.words.writer import Writer


def title(write: Writer, company: Company) -> str:
    """Return a quote's title, with its number where it has one."""
    if company.number is None:
        return write.say("Quote")
    if company.revision > 1:
        return write.say(
            "Quote {number}, revision {revision}", number=company.number, revision=company.revision
        )
    return write.say("Quote {number}", number=company.number)


def sender(write: Writer, company: Company) -> list[str]:
    """Return who makes the quote, line by line, the name first."""
    lines = [company.name, *company.address]
    if company.telephone is not None:
        lines.append(write.say("Telephone {number}", number=company.telephone))
    return [line for line in [*lines, *company.contact, company.registration] if line]


def customer(write: Writer, quote: Quote) -> list[str]:
    """Return for whom it is, line by line, the site last."""
    company, site = quote.company, quote.job.site.name
    if company.customer is None:
        return [write.say("For {site}", site=site)]
    lines = [company.customer, *company.customer_address]
    return [*lines, write.say("Site: {site}", site=site)]


def facts(write: Writer, quote: Quote) -> list[str]:
    """Return the quote's number, its day, until when it holds, when it is delivered."""
    company, lines = quote.company, []
    if company.number is not None:
        lines.append(write.say("Number: {number}", number=company.number))
    if company.revision > 1:
        lines.append(write.say("Revision: {revision}", revision=company.revision))
    lines.append(write.say("Date: {day:date}", day=quote.day))
    lines.append(write.say("Valid until: {day:date}", day=quote.valid_until))
    if company.delivery is not None:
        lines.append(write.say("Delivery: {delivery}", delivery=company.delivery))
    return lines


def cover(write: Writer, quote: Quote) -> list[str]:
    """Return the paragraphs that open the quote: the company's own, then what is offered."""
    return [*quote.company.cover, opening(write, quote)]


def opening(write: Writer, quote: Quote) -> str:
    """Return what is offered, in a few sentences."""
    site, low, high = quote.job.site, quote.options[0].pricing, quote.options[-1].pricing
    offered = write.say_number(
        "One option for riding through grid failures, {low:cents}, tax included.",
        "{n} options for riding through grid failures, {low:cents} to {high:cents}, tax included.",
        len(quote.options),
        low=low.total,
        high=high.total,
    )
    kept = write.say(
        "The loads that the survey lists as {tiers:list} stay on; the autonomy required is "
        "{hours:hours}. A bank carries its hours from the worst moment of the worst season, still "
        "in its last year.",
        tiers=[write.say("“{tier}”", tier=tier) for tier in site.tiers],
        hours=site.target_hours,
    )
    return f"{offered} {kept}"


def terms(write: Writer, quote: Quote) -> list[str]:
    """Return until when the quote holds, when it is delivered, and the company's own terms."""
    said = [validity(write, quote)]
    if quote.company.delivery is not None:
        said.append(write.say("Delivery: {delivery}", delivery=quote.company.delivery))
    return [*said, *quote.company.terms]


def not_included(write: Writer, quote: Quote) -> list[str]:
    """Return what is not included: the company's own list, then what holds for every quote."""
    litres = max(option.design.fuel_l for option in quote.options)
    fuel = write.say("Fuel for the generator, up to {litres:number.1} l to store", litres=litres)
    meter = write.say(
        "An energy meter behind the inverter and a battery monitor, where the inverter has none"
    )
    return [
        *quote.company.not_included,
        *([fuel] if litres else []),
        write.say("Anything that no line above names"),
        *([] if quote.company.monitor else [meter]),
        write.say("Replacements and running costs: shown, not sold"),
        write.say("Approvals, inspections and notices that the local code asks for"),
    ]


def validity(write: Writer, quote: Quote) -> str:
    """Return until when a quote holds."""
    return write.say("This quote holds until {day:date}.", day=quote.valid_until)


def what_hours_mean(write: Writer) -> str:
    """Return what stands behind the hours, and whom they are not enough for."""
    return write.say(
        "The hours hold for the loads as surveyed, with the margin stated there, from any hour of "
        "any day, in every year until the bank is due. More load, a colder room or an older bank "
        "than planned shorten them. They are a plan, not a guarantee of supply: whoever depends on "
        "power for life needs a second source."
    )


def written_files(write: Writer, names: Sequence[str]) -> list[str]:
    """Return which files have been written, or how to have some."""
    if not names:
        return [
            write.say("Nothing written; -o FILE makes the PDF, workbook, CSV or JSON to hand over.")
        ]
    return [commands.written(write, name) for name in names]
