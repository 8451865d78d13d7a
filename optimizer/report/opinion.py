"""The second opinion in words and tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.answers.age_stage import AgeStage
from optimizer.report.tables import new_table
from optimizer.report.words import hours_in_words, plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.table import Table

    from optimizer.answers.independent_simulation import AgeHours, IndependentSimulation
    from optimizer.model.job import Job
    from optimizer.simulate import (
        DailyBalance,
        Estimate,
        Replay,
        Replayed,
        SimulatedYears,
        TierHours,
        Verdict,
    )

#: So many outages that were not carried are named one by one.
_NAMED = 5


def clock(hour: int) -> str:
    """Return an hour of the day.

    >>> clock(4)
    '04:00'
    """
    return f"{hour:02d}:00"


def verdict_in_words(verdict: Verdict, design_margin: float) -> str:
    """Return whether the simulation confirms the hours, and where they are shortest."""
    shortest = hours_in_words(verdict.hours, verdict.horizon_hours)
    where = (
        f"in its hardest case, an outage from {clock(verdict.start_hour)} in "
        f"{plain(verdict.season)} of year {verdict.year + 1}"
    )
    margin = (
        f"The program plans with a margin of {design_margin:.0%} and one rate for the whole "
        "outage; the simulation goes by the current of each hour, without margin."
    )
    if verdict.holds:
        return (
            f"Holds. Asked of it are {verdict.claimed_hours} h; simulated, it lasts {shortest} h "
            f"{where}. {margin}"
        )
    return (
        f"Falls short. Asked of it are {verdict.claimed_hours} h; simulated, it lasts only "
        f"{shortest} h {where}."
    )


def ages_table(ages: Sequence[AgeHours], horizon_hours: float) -> Table:
    """Return the hours of each bank when new, at half its service and in its last year."""
    table = new_table(
        "Hours without the grid, simulated",
        ("Bank", False),
        ("From the worst start", True),
        ("which is", False),
        ("Mean", True),
        ("From the best start", True),
    )
    for age in ages:
        when = {
            AgeStage.NEW: "new" if age.year == 0 else f"new, bought in year {age.year + 1}",
            AgeStage.MID_LIFE: f"mid-life, year {age.year + 1}",
            AgeStage.LAST_YEAR: f"last year of service, year {age.year + 1}",
        }[age.stage]
        table.add_row(
            f"{plain(age.battery)}, {when}",
            hours_in_words(age.shortest_hours, horizon_hours),
            f"{plain(age.season)}, {clock(age.start_hour)}",
            hours_in_words(age.mean_hours, horizon_hours),
            hours_in_words(age.longest_hours, horizon_hours),
        )
    return table


def tiers_table(tiers: Sequence[TierHours], horizon_hours: float) -> Table:
    """Return what each tier of loads costs in hours."""
    table = new_table(
        "What each tier costs in hours, worst start",
        ("Tier", False),
        ("Carried today", False),
        ("With it", True),
        ("Without it", True),
        ("Costs", True),
    )
    for one in tiers:
        capped = one.hours_without >= horizon_hours
        table.add_row(
            plain(one.tier),
            "yes" if one.counted else "no",
            hours_in_words(one.hours_with, horizon_hours),
            hours_in_words(one.hours_without, horizon_hours),
            "≥ " * capped + hours_in_words(one.cost_hours),
        )
    return table


def opinion_in_words(opinion: IndependentSimulation, job: Job) -> list[tuple[str, str]]:
    """Return the rest of the second opinion: matter and sentence."""
    top = opinion.horizon_hours
    stress = "; ".join(
        f"{one.factor - 1:.0%} larger, {hours_in_words(one.hours, top)} h"
        for one in opinion.stressed
    )
    found = [("Larger loads", f"From the worst start, bank at its weakest: {stress}.")]
    if opinion.burst_hours is not None:
        found.append(("In minutes", _bursts_in_words(opinion)))
    if opinion.replay is not None:
        found.append(("The site's own log", replay_in_words(opinion.replay)))
    if opinion.balance is not None:
        found.append(("Scheduled cuts", balance_in_words(opinion.balance)))
    years = opinion.simulated_years
    found.append(("Simulated years", f"{drawn_in_words(years)} {method_in_words(years)}"))
    worth = job.site.value_of_lost_load
    if worth is not None:
        lost = worth * years.kwh_unserved.value
        sentence = (
            f"As the site values it, what is not served is worth {lost:,.2f} {job.site.currency} "
            "a year."
        )
        found.append(("What that is worth", sentence))
    return found


def _bursts_in_words(opinion: IndependentSimulation) -> str:
    hours = opinion.burst_hours or 0.0
    text = (
        f"{hours_in_words(hours, opinion.horizon_hours)} h from the worst start where pumps, "
        f"compressors and the like run at full power for part of each hour, all at once. A figure "
        f"of its own: the hours above spread that use over the hour, and a battery gives less to "
        f"a load that comes in bursts."
    )
    if hours < opinion.verdict.claimed_hours <= opinion.verdict.hours:
        text += f" It is below the {opinion.verdict.claimed_hours} h asked for."
    return text


def replay_in_words(replay: Replay) -> str:
    """Return how the site's own log would have gone."""
    total, unserved = len(replay.outages), replay.kwh_unserved_a_year * replay.log_years
    years = f"{replay.log_years:g} years" if replay.log_years != 1 else "one year"
    head = f"With the bank as it is in year {replay.year + 1}: "
    if replay.carried == total:
        every = "the one outage" if total == 1 else f"all {total} outages"
        return head + f"{every} of {years} carried, nothing left unserved."
    missed = [outage for outage in replay.outages if not outage.carried]
    named = [missed_in_words(outage) for outage in missed[:_NAMED]]
    if len(missed) > _NAMED:
        named.append(f"and {len(missed) - _NAMED} more")
    return head + (
        f"{replay.carried} of {total} outages of {years} carried; not served in all "
        f"{unserved:,.1f} kWh. Not carried: {'; '.join(named)}."
    )


def missed_in_words(outage: Replayed) -> str:
    """Return an outage that was not carried."""
    return (
        f"{outage.start:%Y-%m-%d %H:%M}, {outage.hours:.1f} h, after "
        f"{hours_in_words(outage.hours_carried)} h"
    )


def drawn_in_words(drawn: SimulatedYears) -> str:
    """Return what many simulated years say."""
    head = f"{drawn.years:,} years, {drawn.outages_a_year:,.1f} outages in each: "
    if drawn.share_carried is None:
        return head + "no outage was drawn."
    whole = f"{drawn.share_of_years_whole:.0%} of the years pass without a gap"
    longest = (
        f"the longest outage drawn lasts {drawn.longest_hours:.1f} h, the longest carried "
        f"{drawn.longest_carried_hours:.1f} h"
    )
    unserved = "nothing left unserved"
    if drawn.hours_unserved.value > 0:
        unserved = (
            f"not served a year {estimate_in_words(drawn.hours_unserved)} h and "
            f"{estimate_in_words(drawn.kwh_unserved)} kWh"
        )
    return head + (
        f"{share_in_words(drawn.share_carried)} of the outages carried; {unserved}; {whole}; "
        f"{longest}. {longest_known_in_words(drawn)}"
    )


def longest_known_in_words(drawn: SimulatedYears) -> str:
    """Return what these years cannot hold."""
    if drawn.longest_known_hours is None:
        return "Durations follow a distribution: outages longer than any seen come too."
    return (
        f"These years hold nothing longer than {drawn.longest_known_hours:.1f} h, the longest of "
        "the site's own outages; what has never happened they cannot tell."
    )


def method_in_words(drawn: SimulatedYears) -> str:
    """Return how the intervals are made."""
    return (
        "In brackets: the 95% interval that the log leaves open, where there is a log, by "
        "resampling it (for a share the exact interval; where nothing was missed, the rule of "
        "three). After ±: the error of having simulated no more years. "
        f"Seed {drawn.seed}: the same seed, the same figures."
    )


def share_in_words(share: Estimate) -> str:
    """Return a share with its interval.

    >>> from optimizer.simulate import Estimate, Interval
    >>> log = Interval(low=0.792, high=0.992)
    >>> share_in_words(Estimate(value=0.956, monte_carlo=0.001, from_log=log))
    '95.6% ± 0.1% (79–99%)'
    """
    text = f"{100 * share.value:.1f}% ± {100 * share.monte_carlo:.1f}%"
    if share.from_log is None:
        return text
    return f"{text} ({100 * share.from_log.low:.0f}–{100 * share.from_log.high:.0f}%)"


def estimate_in_words(estimate: Estimate) -> str:
    """Return a mean with its interval.

    >>> from optimizer.simulate import Estimate
    >>> estimate_in_words(Estimate(value=2.23, monte_carlo=0.31, from_log=None))
    '2.23 ± 0.31'
    """
    text = f"{estimate.value:,.2f} ± {estimate.monte_carlo:,.2f}"
    if estimate.from_log is None:
        return text
    return f"{text} ({estimate.from_log.low:,.2f}–{estimate.from_log.high:,.2f})"


def balance_in_words(balance: DailyBalance) -> str:
    """Return whether each scheduled cut is made good in time, and the amperes missing."""
    off, on = f"{balance.hours_off:g} h", f"{balance.hours_on:g} h"
    takes = (
        f"hardest in {plain(balance.season)} of year {balance.year + 1}, {off} from "
        f"{clock(int(balance.cut[0]))[:3]}{round(balance.cut[0] % 1 * 60):02d}: it takes "
        f"{balance.kwh_drawn:.1f} kWh from the bank, {balance.kwh_back:.1f} kWh have to come back"
    )
    if balance.hours_on <= 0:
        return f"{takes}, and the grid never does: it cannot be made good."
    needs = (
        f"{takes} in the {on} to the next ({balance.watts_back:,.0f} W); that needs "
        f"{balance.amps_needed:.1f} A"
    )
    if not balance.closes:
        return (
            f"{needs}, the charger gives {balance.amps_charger:.1f} A: the bank is not full "
            f"again in time. Missing: {balance.amps_missing:.1f} A of charger current."
        )
    cuts = "every cut is carried" if balance.cuts_carried else "but not every cut is carried"
    return f"{needs}, the charger gives {balance.amps_charger:.1f} A: enough, {cuts}."
