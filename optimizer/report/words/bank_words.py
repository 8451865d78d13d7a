"""A bank told in a few words: how long it runs its load, and what was assumed."""

from collections.abc import Mapping

from optimizer.answers.assessment import Assessment, HoursAt
from optimizer.inputs.bank_words import Assumed, Taken
from optimizer.report.words import simulation
from optimizer.report.words.writer import Sentence, Writer


def runs(write: Writer, found: Assessment, load_w: float | None) -> str:
    """Return how long a bank runs: now, new and at the end, simulated without margin."""

    def hours(one: HoursAt) -> str:
        return simulation.up_to(write, one.simulated.shortest, one.simulated.horizon_hours)

    new, now, end = found.hours
    fields = {
        "battery": found.existing.battery.battery,
        "now": hours(now),
        "new": hours(new),
        "end": hours(end),
        "depth": found.existing.battery.max_dod,
    }
    if load_w is None:
        return write.say(
            "{battery} carries the loads for {now} h from the worst start, down to a depth of "
            "discharge of {depth:share.0}; {new} h when new, {end} h at the end of its life.",
            **fields,
        )
    return write.say(
        "{battery} runs {load:figure} W for {now} h, down to a depth of discharge of "
        "{depth:share.0}; {new} h when new, {end} h at the end of its life.",
        load=load_w,
        **fields,
    )


def what(write: Writer, one: Assumed) -> str:
    """Return what is assumed, and from what."""
    return write.say(_WHAT[one.what].english, like=one.like)


_WHAT: Mapping[Taken, Sentence] = {
    Taken.RATED_HOURS: Sentence("Capacity rated over (common practice)"),
    Taken.PRICE: Sentence("Price of one, by its energy as {like}"),
    Taken.MASS: Sentence("Mass of one, by its energy as {like}"),
    Taken.DEPTH: Sentence("Maximum depth of discharge, usual for {like}"),
    Taken.FLOAT_LIFE: Sentence("Life without outages, usual for {like}"),
    Taken.OUTAGES: Sentence("Outages, an invented log"),
    Taken.INVERTER: Sentence("The cheapest inverter-charger on the price list that runs the loads"),
    Taken.PLACE: Sentence("Coldest, mean and hottest of the room: a temperate house"),
    Taken.LOAD: Sentence("The load runs all the time, at a power factor of 1"),
}
