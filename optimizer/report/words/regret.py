"""First purchases followed through drawn scenarios, in sentences."""

import math

from optimizer.comparison import scenarios
from optimizer.comparison.regrets import Record, Regret
from optimizer.report.words.design import models
from optimizer.report.words.writer import Writer


def verdict(write: Writer, found: Regret) -> list[str]:
    """Return what the drawn scenarios say of today's cheapest first purchase and of the safest."""
    today, safest = found.today, found.safest
    lines = [
        write.say(
            "Today's cheapest, {first}, is the cheapest in {share:share.0} of {n} drawn scenarios.",
            first=models(write, today.first),
            share=today.best_share,
            n=found.scenarios,
        ),
        _at_worst(write, today),
    ]
    if safest.first == today.first:
        lines.append(write.say("No other has a smaller largest regret."))
    else:
        lines += [_safer(write, safest), _at_worst(write, safest)]
    if any(one.stranded for one in found.records):
        lines.append(
            write.say(
                "Stranded: the batteries wear at another pace than planned, and no way to go on "
                "behind the same inverters carries the hours to the last year; the site lets no "
                "bank be replaced before {share:share} of its life.",
                share=found.job.site.min_service_share,
            )
        )
    return lines


def _safer(write: Writer, safest: Record) -> str:
    first = models(write, safest.first)
    if not math.isfinite(safest.over_today):
        return write.say(
            "Safest is {first}: in no scenario can both it and today's cheapest be continued.",
            first=first,
        )
    if safest.both_share < 1:
        return write.say(
            "Safest is {first}: on average {more:difference} than today's cheapest, over the "
            "{share:share.0} of the scenarios in which both can be continued.",
            first=first,
            more=safest.over_today,
            share=safest.both_share,
        )
    return write.say(
        "Safest is {first}: on average {more:difference} than today's cheapest.",
        first=first,
        more=safest.over_today,
    )


def _at_worst(write: Writer, record: Record) -> str:
    if not math.isfinite(record.largest_regret):
        return write.say(
            "In {share:share.0} of the scenarios it is stranded: it can no longer be continued.",
            share=record.stranded,
        )
    return write.say(
        "At worst it costs {amount:money} more than the best would have.",
        amount=record.largest_regret,
    )


def means(write: Writer) -> str:
    """Return over which scenarios means are taken where some purchases are stranded."""
    return write.say(
        "Mean regret and mean cost: over the scenarios in which a purchase can be continued, which "
        "differ. Against today's cheapest: over those in which both can."
    )


def distributions(write: Writer) -> list[str]:
    """Return how the scenarios are drawn, one sentence a number."""

    def triangle(ends: tuple[float, float, float]) -> dict[str, float]:
        return dict(zip(("low", "likeliest", "high"), ends, strict=True))

    return [
        write.say(
            "Service life of each family: {low:factor} to {high:factor}, likeliest "
            "{likeliest:factor} (triangle).",
            **triangle(scenarios.LIFE),
        ),
        write.say(
            "Price of each family today: {low:factor} to {high:factor}, likeliest "
            "{likeliest:factor} (triangle).",
            **triangle(scenarios.PRICE),
        ),
        write.say(
            "Drift of each family's price: ±{spread:share} a year (normal, standard deviation).",
            spread=scenarios.DRIFT_SPREAD,
        ),
        write.say(
            "Outages a year and tariff: around today's (lognormal, spread {outages:figure} and "
            "{tariff:figure}).",
            outages=scenarios.OUTAGES_SPREAD,
            tariff=scenarios.TARIFF_SPREAD,
        ),
        write.say(
            "Discount rate: from {below:share} below today's to {above:share} above (triangle).",
            below=scenarios.RATE_BELOW,
            above=scenarios.RATE_ABOVE,
        ),
    ]
