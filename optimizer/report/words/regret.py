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
        return [*lines, write.say("No other has a smaller largest regret.")]
    safer = write.say(
        "Safest is {first}: on average {more:money} more than today's cheapest.",
        first=models(write, safest.first),
        more=safest.mean_cost - today.mean_cost,
    )
    return [*lines, safer, _at_worst(write, safest)]


def _at_worst(write: Writer, record: Record) -> str:
    if not math.isfinite(record.largest_regret):
        return write.say(
            "In {share:share.0} of the scenarios it can no longer be continued.",
            share=record.stranded,
        )
    return write.say(
        "At worst it costs {amount:money} more than the best would have.",
        amount=record.largest_regret,
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
