"""Pay now or pay later, in sentences."""

from optimizer.answers.curve import Point, TradeOff
from optimizer.report.words.design import chemistry
from optimizer.report.words.writer import Writer


def now_or_later(write: Writer, found: TradeOff) -> list[str]:
    """Return what each design that costs less upfront costs more in the end, one a sentence."""
    dearest, *others = found.points
    study = found.job.site.horizon_years
    if not others:
        return [
            write.say(
                "For {hours:hours} the design with the least life-cycle cost is also the cheapest "
                "upfront: there is nothing to weigh.",
                hours=found.hours,
            )
        ]
    return [_less(write, dearest, one, study) for one in others]


def _less(write: Writer, dearest: Point, other: Point, study: int) -> str:
    bank = other.banks[0]
    return write.say(
        "Pay {less:money} less upfront ({upfront:money}; {family}, {energy:number.1} kWh), and "
        "{more:money} more over {study:years}.",
        less=dearest.upfront_cost - other.upfront_cost,
        upfront=other.upfront_cost,
        family=chemistry(write, bank.battery.family),
        energy=bank.energy_wh / 1000,
        more=other.life_cycle_cost - dearest.life_cycle_cost,
        study=study,
    )
