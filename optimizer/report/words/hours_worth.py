"""How many hours are worth buying, in sentences."""

from optimizer.comparison.hours_worth import HoursWorth
from optimizer.report.words.writer import Writer


def verdict(write: Writer, found: HoursWorth) -> list[str]:
    """Return what is worth buying, and what the next hours would cost and spare."""
    best, critical = found.best, found.job.critical_loads
    fields = {
        "value": found.value_of_lost_load,
        "study": found.job.site.horizon_years,
    }
    if best.design is None:
        said = write.say(
            "At {value:figure} {currency}/kWh nothing is worth buying: what the outages leave "
            "missing is worth {lost:money} over {study:years}, less than any design adds, with "
            "what it still misses.",
            lost=best.lost,
            **fields,
        )
    else:
        said = write.say(
            "At {value:figure} {currency}/kWh {hours:hours} are worth buying: equipment and what "
            "is still missed come to {all:money} over {study:years}, the least of all.",
            hours=best.hours,
            all=best.in_all,
            **fields,
        )
    told = [said]
    if critical:
        told.append(
            write.say(
                "That weighs money alone, which is no measure for {loads:list}: health or safety "
                "hangs on it.",
                loads=critical,
            )
        )
    longer = next((one for one in found if one.hours > best.hours), None)
    if longer is None:
        return [*told, write.say("It is the longest on the curve.")]
    more = write.say(
        "{hours:hours} would cost {more:money} more and spare {spared:money}.",
        hours=longer.hours,
        more=longer.life_cycle_cost - best.life_cycle_cost,
        spared=best.lost - longer.lost,
    )
    return [*told, more]
