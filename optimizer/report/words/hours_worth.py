"""How many hours are worth buying, in sentences."""

from optimizer.comparison.hours_worth import HoursWorth
from optimizer.report.words.writer import Writer


def verdict(write: Writer, found: HoursWorth) -> list[str]:
    """Return what is worth buying, and what the next hours would cost and spare."""
    best = found.best
    fields = {
        "value": found.value_of_lost_load,
        "all": best.in_all,
        "study": found.job.site.horizon_years,
    }
    if best.design is None:
        said = write.say(
            "At {value:figure} {currency}/kWh nothing is worth buying: what the outages leave "
            "missing is worth {all:money} over {study:years}, less than any design with what it "
            "still misses.",
            **fields,
        )
    else:
        said = write.say(
            "At {value:figure} {currency}/kWh {hours:hours} are worth buying: equipment and what "
            "is still missed come to {all:money} over {study:years}, the least of all.",
            hours=best.hours,
            **fields,
        )
    longer = next((one for one in found if one.hours > best.hours), None)
    if longer is None:
        return [said, write.say("It is the longest on the curve.")]
    more = write.say(
        "{hours:hours} would cost {more:money} more and spare {spared:money}.",
        hours=longer.hours,
        more=longer.life_cycle_cost - best.life_cycle_cost,
        spared=best.lost - longer.lost,
    )
    return [said, more]
