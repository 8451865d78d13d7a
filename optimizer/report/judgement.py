"""What is said about a bank and inverter that stand already or were quoted: words and tables."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from optimizer.answers.age_stage import AgeStage
from optimizer.answers.assessment import AssessmentVerdict
from optimizer.engine.check import CONDITIONS
from optimizer.report.opinion import clock
from optimizer.report.tables import figure, new_table
from optimizer.report.words import bank_in_words, hours_in_words, money, plain, set_in_words
from optimizer.report.words.checks import check_name, check_short
from optimizer.report.words.writer import Writer

if TYPE_CHECKING:
    from rich.table import Table

    from optimizer.answers.assessment import Assessment
    from optimizer.model.design import Design

ONE_AGE = (
    "Rule: the strings of one bank are of one age. New lead-acid strings beside old ones age as "
    "the old ones do; a mixed bank is judged by its oldest string."
)
#: Above this an outage counts as deep: cycle lives are given for it, and soon used up.
_DEEP = 0.7
_OFTEN_A_YEAR = 12
#: So many failing requirements are named in the verdict's sentence.
_NAMED = 2
#: Beyond so many years a figure says nothing more.
_AGES = 1000


_STAGES = {
    AgeStage.NEW: "new",
    AgeStage.NOW: "now",
    AgeStage.END_OF_LIFE: "end of life",
}


def verdict_in_words(judgement: Assessment) -> str:
    """Return the verdict word and its reason."""
    asked, now = judgement.design.hours, judgement.hours[1]
    margin, end = judgement.job.site.design_margin, judgement.design.banks[0].end
    planned = f"with the margin of {margin:.0%}" if margin else "as planned"
    if judgement.verdict is AssessmentVerdict.MEETS:
        whole = end == judgement.job.site.horizon_years
        until = f"through all {end} years looked at" if whole else "to the end of its service life"
        return f"Meets the {asked} h asked for, {planned}, {until}."
    if judgement.verdict is AssessmentVerdict.MEETS_FOR_NOW:
        years = judgement.carries_years
        until = f"through {years} more years" if years > 1 else "through one more year"
        return f"Meets the {asked} h asked for, {planned}, for now: {until} of {end}."
    shortest = hours_in_words(now.simulated.shortest, now.simulated.horizon_hours)
    write = Writer(judgement.job.site.currency)
    energy_fails = any(check.unit == "kWh" for check in judgement.failed)
    if not energy_fails:
        short = {check_short(write, check) for check in judgement.failed}
        names = " and ".join(sorted(short))
        return (
            f"Misses, though the bank holds enough for the {asked} h asked for: {names} "
            f"{'fails' if len(judgement.failed) == 1 else 'fail'}."
        )
    good = f"{now.planned_hours} h" if now.planned_hours else "no whole hour"
    text = (
        f"Misses the {asked} h asked for: today it is good for {good} {planned}; "
        f"simulated without margin, {shortest} h from the worst start."
    )
    others = sorted(
        {check_short(write, check) for check in judgement.failed if check.unit != "kWh"}
    )
    if len(others) > _NAMED:
        text += f" Besides, {len(others)} other requirements fail."
    elif others:
        text += f" Besides, {' and '.join(others)} {'fails' if len(others) == 1 else 'fail'}."
    return text


def failures_in_words(judgement: Assessment) -> list[str]:
    """Return each requirement that is not met, with what it wants and what is there."""
    lines = []
    write = Writer(judgement.job.site.currency)
    for check in judgement.failed:
        name = check_name(write, check)
        if check.kind in CONDITIONS:
            lines.append(f"{name}: no")
            continue
        most = "at most" if check.at_most else "at least"
        unit = f" {check.unit}" if check.unit else ""
        gap = abs(check.required - check.provided)
        lines.append(
            f"{name}: {most} {figure(check.required)}{unit} wanted, "
            f"{figure(check.provided)}{unit} there, {figure(gap)}{unit} "
            f"{'too many' if check.at_most and not unit else 'too much' if check.at_most else 'short'}"  # noqa: E501
        )
    return lines


def existing_in_words(judgement: Assessment) -> str:
    """Return what was judged."""
    design, age = judgement.design, judgement.existing.age_years
    old = "new" if age == 0 else f"{age:g} years old" if age != 1 else "one year old"
    bank = plain(bank_in_words(design.banks[0], design.voltage_v))
    return f"{bank} ({old}), behind {plain(set_in_words(design))}"


def hours_table(judgement: Assessment) -> Table:
    """Return the hours when new, now and at the end of life."""
    margin = judgement.job.site.design_margin
    table = new_table(
        "Hours without the grid, with the loads of today",
        ("", False),
        ("Age, years", True),
        ("Capacity left", True),
        (f"Planned, margin {margin:.0%}", True),
        ("Simulated, worst start", True),
        ("which is", False),
        ("Mean", True),
        ("Best start", True),
    )
    for stage in judgement.hours:
        ride = stage.simulated
        top = ride.horizon_hours
        table.add_row(
            _STAGES[stage.stage],
            f"{stage.age_years:.1f}",
            f"{stage.health:.0%}",
            str(stage.planned_hours),
            hours_in_words(ride.shortest, top),
            f"{plain(ride.worst.season)}, {clock(ride.worst.start_hour)}",
            hours_in_words(ride.mean, top),
            hours_in_words(ride.longest, top),
        )
    return table


def requirements_table(judgement: Assessment) -> Table:
    """Return every requirement, met or not."""
    table = new_table(
        "What it must meet",
        ("Requirement", False),
        ("Required", True),
        ("Provided", True),
        ("Unit", False),
        ("To spare", True),
        ("", False),
    )
    write = Writer(judgement.job.site.currency)
    for check in judgement.checks:
        # a share of degrees means nothing
        spare = "" if check.margin == math.inf or check.unit == "°C" else f"{check.margin:.0%}"
        sign = "≤" if check.at_most else "≥"
        required = f"{sign} {figure(check.required)}"
        provided = figure(check.provided)
        if check.kind in CONDITIONS:
            required, spare, provided = "yes", "", "yes" if check.provided else "no"
        met = "met" if check.met else "NOT MET"
        table.add_row(check_name(write, check), required, provided, check.unit, spare, met)
    return table


def life_in_words(judgement: Assessment) -> list[tuple[str, str]]:
    """Return service life with its two kinds of wear, refill, and money: matter and sentence."""
    life, refill = judgement.life, judgement.recharge
    currency = judgement.job.site.currency
    alone = "none wears it"
    if life.cycle_years < math.inf:
        years = f"{life.cycle_years:,.1f}" if life.cycle_years < _AGES else f"over {_AGES:,}"
        alone = f"alone: {years} years"
    found = [
        (
            "Service life here",
            f"{life.years:.1f} years, {life.left_years:.1f} of them left. "
            f"{life.calendar_share:.0%} of the wear comes with time (alone: "
            f"{life.calendar_years:.1f} years), {life.cycle_share:.0%} with outages ({alone}). "
            f"{_warranty(judgement)}",
        )
    ]
    if life.deepest is not None:
        found.append(
            (
                "Deepest outage",
                _deepest(
                    judgement, life.deepest.hours, life.deepest.times_a_year, life.deepest.depth
                ),
            )
        )
    asked = f"the site asks for {refill.required_hours:g} h, which takes {refill.needed_a:.1f} A"
    refilled = f"From the lowest allowed charge {refill.hours:.1f} h at {refill.charger_a:.1f} A"
    if refill.hours == math.inf:
        refilled = "Never: the charger gives no current"
    found.append(("Refill", f"{refilled}; {asked}."))
    saved = [
        f"{money(one.yearly, currency)} for {plain(one.item)} ({money(one.price, currency)} in "
        f"{one.years} {'year' if one.years == 1 else 'years'})"
        for one in judgement.set_aside
    ]
    total = money(sum(one.yearly for one in judgement.set_aside), currency)
    sentence = (
        f"{total} a year: {' and '.join(saved)}. Inverters are taken to be as old as the bank."
    )
    return [*found, ("To set aside", sentence)]


def _deepest(judgement: Assessment, hours: float, times: float, depth: float) -> str:
    """Return the outage that takes most of the bank."""
    if times < 1:
        often = f"once in {1 / times:.3g} years"
    else:
        often = "once a year" if times == 1 else f"{times:.3g} times a year"
    most = judgement.existing.battery.max_dod
    takes = f"takes {depth:.0%} of a new bank's capacity"
    if depth >= most:
        takes = f"takes all that may be used, {most:.0%} of a new bank's capacity"
    text = f"{hours:.3g} h, {often}, {takes}."
    if depth >= _DEEP and times > _OFTEN_A_YEAR:
        text += " So deep so often is what wears a bank out."
    return text


def _warranty(judgement: Assessment) -> str:
    warranty = judgement.life.warranty_years
    if warranty is None:
        return "The maker's warranty is not known."
    left = warranty - judgement.existing.age_years
    years = f"{warranty:g} years" if warranty != 1 else "one year"
    if left <= 0:
        return f"The maker's warranty of {years} is over."
    return f"The maker's warranty: {years}."


def distance_in_words(judgement: Assessment) -> list[tuple[str, str]]:
    """Return where it stands against what can be bought today: matter and sentence."""
    found, site = judgement.distance, judgement.job.site
    currency, horizon = site.currency, site.horizon_in_words
    paid = judgement.existing.paid is not None
    price = f"{money(found.upfront_cost, currency)} {'paid' if paid else 'at the prices of today'}"
    if found.carried:
        over = "and a bank that lasts less than a year"
        if found.life_cycle_cost is not None:
            over = f"{money(found.life_cycle_cost, currency)} over {horizon}"
        same = (
            f"Bought new, and replaced by its like when worn out, it would be planned for "
            f"{found.hours} h in every year: {price}, {over}."
        )
    else:
        same = (
            f"Bought new it could be planned for no whole hour ({price}); the {found.hours} h "
            f"asked for are compared instead."
        )
    lines = [("This one", same), (f"{found.hours} h today", _least_in_words(judgement))]
    for what, amount, buys in (
        ("at the start", found.upfront_cost, found.by_upfront),
        (f"over {horizon}", found.life_cycle_cost, found.by_life_cycle),
    ):
        if amount is not None:
            bought = "nothing on offer"
            if buys is not None:
                bought = f"{buys.hours} h: {_in_short(buys, currency)}"
            lines.append((f"{money(amount, currency)} {what}", f"Buys {bought}."))
    return lines


def _least_in_words(judgement: Assessment) -> str:
    found, currency = judgement.distance, judgement.job.site.currency
    least = found.least
    if least is None:
        return f"Nothing on offer today carries {found.hours} h here."
    text = (
        f"Cost {money(least.life_cycle_cost, currency)} over {judgement.job.site.horizon_years} "
        "years at the least: "
        f"{_in_short(least, currency)}"
    )
    if least.hours > found.hours:
        text += f", which carries {least.hours} h"
    if found.carried and found.life_cycle_cost is not None:
        more = found.life_cycle_cost - least.life_cycle_cost
        if more > 0:
            share = f" ({more / least.life_cycle_cost:.0%})" if least.life_cycle_cost > 0 else ""
            text += f". This one costs {money(more, currency)}{share} more"
        else:
            text += f". This one costs {money(-more, currency)} less"
    return text + "."


def _in_short(design: Design, currency: str) -> str:
    bank = plain(bank_in_words(design.banks[0], design.voltage_v))
    return (
        f"{bank}, behind {plain(set_in_words(design))}, {money(design.upfront_cost, currency)} "
        "at the start"
    )
