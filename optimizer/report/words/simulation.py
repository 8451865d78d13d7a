"""What the independent simulation says, in words."""

from optimizer.answers.independent_simulation import AgeHours, AgeStage, IndependentSimulation
from optimizer.model.job import Job
from optimizer.report.words.writer import Writer
from optimizer.simulate import (
    DailyBalance,
    Estimate,
    GeneratorUse,
    Replay,
    Replayed,
    Shortfall,
    SimulatedYears,
    Verdict,
)

#: So many outages that were not carried are named one by one.
_NAMED = 5


def verdict(write: Writer, found: Verdict, design_margin: float) -> str:
    """Return whether the simulation confirms the hours, and where they are shortest."""
    if not found.holds:
        return falls_short(write, found)
    if found.generator is not None:
        whole = whole_outage(write, found, found.generator)
        return write.say("Holds: {whole}, without margin.", whole=whole)
    return write.say(
        "Holds: {required} h planned, {hours} h simulated in the hardest case, {where}. The "
        "program plans with a margin of {margin:share} and one discharge rate for the whole "
        "outage; the simulation follows the current of each hour, without margin.",
        required=found.claimed_hours,
        hours=up_to(write, found.hours, found.horizon_hours),
        where=_where(write, found),
        margin=design_margin,
    )


def in_a_line(write: Writer, found: Verdict) -> str:
    """Return what the simulation says of a design that holds, in a line."""
    if found.generator is not None:
        whole = whole_outage(write, found, found.generator)
        return write.say("The independent simulation carries {whole}.", whole=whole)
    return write.say(
        "The independent simulation carries {hours} h in the hardest case: {where}.",
        hours=up_to(write, found.hours, found.horizon_hours),
        where=_where(write, found),
    )


def whole_outage(write: Writer, found: Verdict, use: GeneratorUse) -> str:
    """Return the outage that is followed to its end beside a generator, and what that takes."""
    return write.say(
        "an outage of {hours:hours} hour by hour from every start, in which the generator runs "
        "{run:hours.1} at most and burns {used:number.1} of the {stored:number.1} l stored",
        hours=found.claimed_hours,
        run=use.running_hours,
        used=use.fuel_l,
        stored=use.stored_l,
    )


def _where(write: Writer, found: Verdict) -> str:
    return write.say(
        "an outage from {start:clock} in {season} of year {year}",
        start=found.start_hour,
        season=found.season,
        year=found.year + 1,
    )


def falls_short(write: Writer, found: Verdict) -> str:
    """Return everything that the simulation does not confirm."""
    return " ".join(_shortfall(write, one, found) for one in found.shortfalls)


def _shortfall(write: Writer, kind: Shortfall, found: Verdict) -> str:
    match kind:
        case Shortfall.HOURS:
            return write.say(
                "Falls short: {required} h required, only {hours} h simulated in the hardest case, "
                "{where}.",
                required=found.claimed_hours,
                hours=up_to(write, found.hours, found.horizon_hours),
                where=_where(write, found),
            )
        case Shortfall.CUTS:
            return write.say("Falls short: a scheduled cut begins before the bank is full again.")
    return write.say("Falls short: the bank is not full before a night without the generator.")


def generator(write: Writer, use: GeneratorUse) -> str:
    """Return what the longest outage asks of the generator."""
    runs = write.say(
        "It runs {hours:number.1} h and burns {fuel:number.1} l at most in the required outage; "
        "{stored:number.1} l are stored.",
        hours=use.running_hours,
        fuel=use.fuel_l,
        stored=use.stored_l,
    )
    return f"{runs} {fuel_made_up(write)}"


def fuel_made_up(write: Writer) -> str:
    """Return when fuel that was burnt is there again."""
    return write.say(
        "In log and simulated years what outages burn is made up only when the fuel is renewed, as "
        "its cost is counted: who refills at once misses less."
    )


def up_to(write: Writer, hours: float, horizon_hours: float) -> str:
    """Return simulated hours, never rounded up; at the simulation's end, that it is at least so."""
    if hours >= horizon_hours:
        return f"≥\N{NO-BREAK SPACE}{write.number(horizon_hours)}"
    return write.hours(hours, 1)


def age(write: Writer, one: AgeHours) -> str:
    """Return a bank at one point of its life."""
    battery, year = one.battery, one.year + 1
    match one.stage:
        case AgeStage.NEW:
            if one.year == 0:
                return write.say("{battery}, new", battery=battery)
            return write.say("{battery}, new, bought in year {year}", battery=battery, year=year)
        case AgeStage.MID_LIFE:
            return write.say("{battery}, mid-life, year {year}", battery=battery, year=year)
    return write.say("{battery}, last year of service, year {year}", battery=battery, year=year)


def start(write: Writer, season: str, hour: int) -> str:
    """Return when an outage begins."""
    return write.say("{season}, {hour:clock}", season=season, hour=hour)


def larger_loads(write: Writer, found: IndependentSimulation) -> str:
    """Return the hours with loads larger than surveyed."""
    each = [
        write.say(
            "{hours} h with loads {more:share} larger",
            more=one.factor - 1,
            hours=up_to(write, one.hours, found.horizon_hours),
        )
        for one in found.stressed
    ]
    return write.say("From the worst start, bank at its weakest: {each:list}.", each=each)


def bursts(write: Writer, hours: float, found: IndependentSimulation) -> str:
    """Return the hours where some loads work in bursts."""
    text = write.say(
        "{hours} h from the worst start where pumps, compressors and the like run at full power "
        "for part of each hour, all at once. A figure of its own: the hours above spread that use "
        "over the hour, and a battery gives less to a load that comes in bursts.",
        hours=up_to(write, hours, found.horizon_hours),
    )
    required = found.verdict.claimed_hours
    if hours < required <= found.verdict.hours:
        below = write.say("It is below the {required} h required.", required=required)
        return f"{text} {below}"
    return text


def replay(write: Writer, found: Replay) -> str:
    """Return how the site's own log would have gone."""
    missed = [outage for outage in found.outages if not outage.carried]
    with_bank = write.say("With the bank as it is in year {year}:", year=found.year + 1)
    if not missed:
        carried = write.say_number(
            "the one outage of {log:years} carried, no unserved energy.",
            "all {n} outages of {log:years} carried, no unserved energy.",
            len(found.outages),
            log=found.log_years,
        )
        return f"{with_bank} {carried}"
    each = write.first([missed_outage(write, outage) for outage in missed], _NAMED)
    some = write.say(
        "{carried} of {n} outages of {log:years} carried; unserved energy {kwh:number.1} kWh in "
        "all. Not carried: {each}.",
        carried=found.carried,
        n=len(found.outages),
        log=found.log_years,
        kwh=found.kwh_unserved_a_year * found.log_years,
        each="; ".join(each),
    )
    return f"{with_bank} {some}"


def missed_outage(write: Writer, outage: Replayed) -> str:
    """Return an outage that was not carried."""
    return write.say(
        "{start}, {hours:number.1} h, after {carried} h",
        start=f"{outage.start:%Y-%m-%d %H:%M}",
        hours=outage.hours,
        carried=write.hours(outage.hours_carried, 1),
    )


def simulated_years(write: Writer, found: SimulatedYears) -> str:
    """Return what many simulated years say."""
    head = write.say(
        "{n:number} years with {often:number.1} outages each:",
        n=found.years,
        often=found.outages_a_year,
    )
    if found.share_carried is None:
        none = write.say("no outage occurred.")
        return f"{head} {none}"
    unserved = write.say("no unserved energy")
    if found.hours_unserved.value > 0:
        unserved = write.say(
            "unserved {hours} h and {kwh} kWh a year",
            hours=estimate(write, found.hours_unserved),
            kwh=estimate(write, found.kwh_unserved),
        )
    carried = write.say(
        "{share} of the outages carried; {unserved}; every outage carried in {whole:share.0} of "
        "the years; the longest outage lasts {longest:number.1} h, the longest one carried "
        "{carried:number.1} h.",
        share=share(write, found.share_carried),
        unserved=unserved,
        whole=found.share_of_years_whole,
        longest=found.longest_hours,
        carried=found.longest_carried_hours,
    )
    return f"{head} {carried} {longest_known(write, found)} {method(write, found)}"


def longest_known(write: Writer, found: SimulatedYears) -> str:
    """Return what these years cannot hold."""
    if found.longest_known_hours is None:
        return write.say("Durations follow a distribution: outages longer than any seen come too.")
    return write.say(
        "These years hold nothing longer than {hours:number.1} h, the longest of the site's own "
        "outages; what has never happened they cannot tell.",
        hours=found.longest_known_hours,
    )


def method(write: Writer, found: SimulatedYears) -> str:
    """Return how the intervals are made."""
    return write.say(
        "In brackets: the {level:share} interval that the log leaves open, where there is a log, "
        "by resampling it (for a share the exact interval; where nothing was missed, the rule of "
        "three). After ±: the error of having simulated no more years. Seed {seed}: the same "
        "seed, the same figures.",
        level=0.95,
        seed=str(found.seed),
    )


def worth(write: Writer, found: SimulatedYears, value_of_lost_load: float) -> str:
    """Return what unserved energy costs, as the site values it."""
    return write.say(
        "At the site's value of lost load, unserved energy costs about {lost:cents} a year.",
        lost=value_of_lost_load * found.kwh_unserved.value,
    )


def share(write: Writer, found: Estimate) -> str:
    """Return a share with its error and what the log can know.

    >>> from optimizer.report.words.writer import Writer
    >>> from optimizer.simulate import Estimate, Interval
    >>> log = Interval(low=0.792, high=0.992)
    >>> share(Writer("EUR"), Estimate(value=0.956, monte_carlo=0.001, from_log=log))
    '95.6% ± 0.1% (79%–99%)'
    """
    text = f"{write.share(found.value, 1)} ± {write.share(found.monte_carlo, 1)}"
    if found.from_log is None:
        return text
    return f"{text} ({write.share(found.from_log.low, 0)}–{write.share(found.from_log.high, 0)})"


def estimate(write: Writer, found: Estimate) -> str:
    """Return a mean with its error and what the log can know.

    >>> from optimizer.report.words.writer import Writer
    >>> from optimizer.simulate import Estimate
    >>> estimate(Writer("EUR"), Estimate(value=2.23, monte_carlo=0.31, from_log=None))
    '2.23 ± 0.31'
    """
    text = f"{write.number(found.value, 2)} ± {write.number(found.monte_carlo, 2)}"
    if found.from_log is None:
        return text
    low, high = write.number(found.from_log.low, 2), write.number(found.from_log.high, 2)
    return f"{text} ({low}–{high})"


def scheduled_cuts(write: Writer, balance: DailyBalance) -> str:
    """Return whether each scheduled cut is made good in time, and the amperes missing."""
    takes = write.say(
        "hardest in {season} of year {year}, {off:hours} from {begins:clock}: it takes "
        "{drawn:number.1} kWh from the bank, {back:number.1} kWh have to come back",
        season=balance.season,
        year=balance.year + 1,
        off=balance.hours_off,
        begins=balance.cut[0],
        drawn=balance.kwh_drawn,
        back=balance.kwh_back,
    )
    if balance.hours_on <= 0:
        return write.say("{takes}, and the grid never does: it cannot be made good.", takes=takes)
    needs = write.say(
        "{takes} in the {on:hours} to the next ({power:number} W); that needs {needed:number.1} A, "
        "the charger gives {charger:number.1} A:",
        takes=takes,
        on=balance.hours_on,
        power=balance.watts_back,
        needed=balance.amps_needed,
        charger=balance.amps_charger,
    )
    if not balance.closes:
        end = write.say(
            "the bank is not full again in time. Missing: {missing:number.1} A of charger current.",
            missing=balance.amps_missing,
        )
    elif balance.cuts_carried:
        end = write.say("enough, every cut is carried.")
    else:
        end = write.say("enough, but not every cut is carried.")
    return f"{needs} {end}"


def rest(write: Writer, found: IndependentSimulation, job: Job) -> list[tuple[str, str]]:
    """Return what the simulation says beside verdict and hours: matter and sentence."""
    years, value = found.simulated_years, job.site.value_of_lost_load
    lines = [(write.say("Larger loads"), larger_loads(write, found))]
    if found.burst_hours is not None:
        lines.append((write.say("In bursts"), bursts(write, found.burst_hours, found)))
    if found.verdict.generator is not None:
        lines.append((write.say("Generator"), generator(write, found.verdict.generator)))
    if found.replay is not None:
        lines.append((write.say("The site's own log"), replay(write, found.replay)))
    if found.balance is not None:
        lines.append((write.say("Scheduled cuts"), scheduled_cuts(write, found.balance)))
    lines.append((write.say("Simulated years"), simulated_years(write, years)))
    if value is not None:
        lines.append((write.say("Cost of unserved energy"), worth(write, years, value)))
    return lines
