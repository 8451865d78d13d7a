"""What is said about a bank and inverter that stand already or were quoted."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from optimizer.answers.age_stage import AgeStage
from optimizer.answers.assessment import AssessmentVerdict
from optimizer.engine.check import CONDITIONS, CheckKind
from optimizer.report.words import design, simulation
from optimizer.report.words.checks import check_name, check_unit, requirement_name

if TYPE_CHECKING:
    from optimizer.answers.assessment import Assessment
    from optimizer.answers.installed import DeepestOutage
    from optimizer.engine.check import Check
    from optimizer.model.design import Design
    from optimizer.report.words.writer import Writer

#: Above this an outage counts as deep: cycle lives are given for it, and soon used up.
_DEEP = 0.7
_OFTEN_A_YEAR = 12
#: So many failing requirements are named in the verdict's sentence.
_NAMED = 2
#: Beyond so many years a figure says nothing more.
_AGES = 1000


def existing(write: Writer, found: Assessment) -> str:
    """Return what is assessed."""
    age = found.existing.age_years
    old = write.say("{age:years} old", age=age) if age else write.say("new")
    return write.say(
        "{bank} ({old}), behind {inverters}",
        bank=design.bank(write, found.design.banks[0], found.design.voltage_v),
        old=old,
        inverters=design.inverter_set(write, found.design),
    )


def verdict(write: Writer, found: Assessment) -> str:
    """Return the verdict and its reason."""
    required, end = found.design.hours, found.design.banks[0].end
    planned = write.say("as planned")
    if found.job.site.design_margin:
        planned = write.say(
            "with the margin of {margin:share}", margin=found.job.site.design_margin
        )
    if found.verdict is AssessmentVerdict.FAILS:
        return _misses(write, found, planned)
    if found.verdict is AssessmentVerdict.MEETS:
        until = write.say("to the end of its service life")
        if end == found.job.site.horizon_years:
            until = write.say("through the whole study period of {n:years}", n=end)
        return write.say(
            "Meets the {required} h required, {planned}, {until}.",
            required=required,
            planned=planned,
            until=until,
        )
    return write.say_number(
        "Meets the {required} h required, {planned}, for now: through {n} more year of {end}.",
        "Meets the {required} h required, {planned}, for now: through {n} more years of {end}.",
        found.carries_years,
        required=required,
        planned=planned,
        end=end,
    )


def _misses(write: Writer, found: Assessment, planned: str) -> str:
    required, now = found.design.hours, found.hours[1]
    others = [one for one in found.failed if one.kind not in _ENERGY]
    names = sorted({_short(write, one) for one in others})
    failing = write.say_number("{names:list} fails.", "{names:list} fail.", len(names), names=names)
    if len(others) == len(found.failed):
        return write.say(
            "Fails: energy suffices for the {required} h required, but {failing}",
            required=required,
            failing=failing,
        )
    shortest = simulation.up_to(write, now.simulated.shortest, now.simulated.horizon_hours)
    good = write.say("no whole hour")
    if now.planned_hours:
        good = write.say("{hours} h", hours=now.planned_hours)
    if now.planned_hours >= required:
        text = write.say(
            "Misses the {required} h required before the first year is out, {planned}; today, "
            "simulated without margin, it lasts {shortest} h from the worst start.",
            required=required,
            planned=planned,
            shortest=shortest,
        )
    else:
        text = write.say(
            "Misses the {required} h required: today it is good for {good} {planned}; simulated "
            "without margin, {shortest} h from the worst start.",
            required=required,
            good=good,
            planned=planned,
            shortest=shortest,
        )
    if len(names) > _NAMED:
        failing = write.say("{n} other requirements fail.", n=len(names))
    if not names:
        return text
    besides = write.say("Besides, {failing}", failing=failing)
    return f"{text} {besides}"


_ENERGY = frozenset({CheckKind.ENERGY, CheckKind.ENERGY_TODAY})


def _short(write: Writer, check: Check) -> str:
    """Return what a requirement is about, as it reads inside a sentence."""
    if check.requirement is not None:
        return requirement_name(write, check.requirement)
    return write.say("“{check}”", check=check_name(write, check))


def failures(write: Writer, found: Assessment) -> list[str]:
    """Return each requirement that is not met, with what it wants and what is there."""
    return [_failure(write, check) for check in found.failed]


def _failure(write: Writer, check: Check) -> str:
    name, unit = check_name(write, check), check_unit(write, check)
    if check.kind in CONDITIONS:
        return write.say("{check}: no", check=name)

    def of(value: float) -> str:
        return f"{write.figure(value)}\N{NO-BREAK SPACE}{unit}" if unit else write.figure(value)

    gap = of(abs(check.required - check.provided))
    required, provided = of(check.required), of(check.provided)
    if check.at_most:
        return write.say(
            "{check}: at most {required} allowed, {provided} there, {gap} over the limit",
            check=name,
            required=required,
            provided=provided,
            gap=gap,
        )
    return write.say(
        "{check}: at least {required} required, {provided} there, {gap} short",
        check=name,
        required=required,
        provided=provided,
        gap=gap,
    )


def one_age(write: Writer) -> str:
    """Return the rule about strings of several ages."""
    return write.say(
        "Rule: the strings of one bank are of one age. New lead-acid strings beside old ones age "
        "as the old ones do; a mixed bank is assessed by its oldest string."
    )


def life(write: Writer, found: Assessment) -> list[tuple[str, str]]:
    """Return service life with its two kinds of wear, recharge, money: matter and sentence."""
    lines = [(write.say("Service life here"), _service_life(write, found))]
    if found.life.deepest is not None:
        lines.append((write.say("Deepest outage"), _deepest(write, found, found.life.deepest)))
    lines.append((write.say("Recharge"), _recharge(write, found)))
    saved = [
        write.say(
            "{yearly:money} for {item} ({price:money} in {left:years})",
            yearly=one.yearly,
            item=one.item,
            price=one.price,
            left=one.years,
        )
        for one in found.set_aside
    ]
    set_aside = write.say(
        "{total:money} a year: {each:list}. Inverters are taken to be as old as the bank.",
        total=sum(one.yearly for one in found.set_aside),
        each=saved,
    )
    return [*lines, (write.say("To set aside"), set_aside)]


def _service_life(write: Writer, found: Assessment) -> str:
    one = found.life
    if one.cycle_years == math.inf:
        cycles = write.say("none wears it")
    elif one.cycle_years < _AGES:
        cycles = write.say("alone: {life:years}", life=one.cycle_years)
    else:
        cycles = write.say("alone: over {n:number} years", n=_AGES)
    wear = write.say(
        "{life:years.1}, {left:number.1} of them left. {calendar:share.0} of the wear comes with "
        "time (alone: {calendar_life:years.1}), {cycle:share.0} with outages ({cycles}).",
        life=one.years,
        left=one.left_years,
        calendar=one.calendar_share,
        calendar_life=one.calendar_years,
        cycle=one.cycle_share,
        cycles=cycles,
    )
    return f"{wear} {_warranty(write, found)}"


def _warranty(write: Writer, found: Assessment) -> str:
    warranty = found.life.warranty_years
    if warranty is None:
        return write.say("The maker's warranty is not known.")
    if warranty <= found.existing.age_years:
        return write.say("The maker's warranty of {n:years} is over.", n=warranty)
    return write.say("The maker's warranty: {n:years}.", n=warranty)


def _recharge(write: Writer, found: Assessment) -> str:
    one = found.recharge
    takes = write.say("Never: the charger gives no current")
    if one.hours < math.inf:
        takes = write.say(
            "From the lowest allowed state of charge {hours:number.1} h at {current:number.1} A",
            hours=one.hours,
            current=one.charger_a,
        )
    return write.say(
        "{takes}; the site requires {required:figure} h, which takes {needed:number.1} A.",
        takes=takes,
        required=one.required_hours,
        needed=one.needed_a,
    )


def _deepest(write: Writer, found: Assessment, outage: DeepestOutage) -> str:
    """Return the outage that takes most of the bank."""
    times, depth = outage.times_a_year, outage.depth
    if times < 1:
        often = write.say("once in {time:years}", time=1 / times)
    elif times == 1:
        often = write.say("once a year")
    else:
        often = write.say("{times:figure} times a year", times=times)
    most = found.existing.battery.max_dod
    takes = write.say("takes {depth:share.0} of a new bank's capacity", depth=depth)
    if depth >= most:
        takes = write.say(
            "takes all that may be used, {depth:share.0} of a new bank's capacity", depth=most
        )
    text = write.say(
        "{hours:figure} h, {often}, {takes}.", hours=outage.hours, often=often, takes=takes
    )
    if depth < _DEEP or times <= _OFTEN_A_YEAR:
        return text
    wears = write.say("So deep so often is what wears a bank out.")
    return f"{text} {wears}"


def distance(write: Writer, found: Assessment) -> list[tuple[str, str]]:
    """Return where it stands against what can be bought today: matter and sentence."""
    far, study = found.distance, found.job.site.horizon_years
    lines = [
        (write.say("This one"), _same(write, found)),
        (write.say("{hours} h today", hours=far.hours), _least(write, found)),
    ]
    upfront = write.say("{amount:money} upfront", amount=far.upfront_cost)
    lines.append((upfront, _buys(write, far.by_upfront)))
    if far.life_cycle_cost is not None:
        cost = write.say(
            "{amount:money} over {study:years}", amount=far.life_cycle_cost, study=study
        )
        lines.append((cost, _buys(write, far.by_life_cycle)))
    return lines


def _same(write: Writer, found: Assessment) -> str:
    far, study = found.distance, found.job.site.horizon_years
    price = write.say("{cost:money} upfront at the prices of today", cost=far.upfront_cost)
    if found.existing.paid is not None:
        price = write.say("{cost:money} paid", cost=far.upfront_cost)
    if not far.carried:
        return write.say(
            "Bought new it could be planned for no whole hour ({price}); the {hours} h required "
            "are compared instead.",
            price=price,
            hours=far.hours,
        )
    over = write.say("and a bank that lasts less than a year")
    if far.life_cycle_cost is not None:
        over = write.say(
            "{cost:money} net over {study:years}", cost=far.life_cycle_cost, study=study
        )
    return write.say(
        "Bought new, and replaced by its like when worn out, it would be planned for {hours} h in "
        "every year: {price}, {over}.",
        hours=far.hours,
        price=price,
        over=over,
    )


def _least(write: Writer, found: Assessment) -> str:
    far = found.distance
    if far.least is None:
        return write.say("Nothing on offer today carries {hours} h here.", hours=far.hours)
    least = far.least
    text = write.say(
        "Life-cycle cost {cost:money} over {study:years} at the least: {design} (autonomy "
        "{hours} h).",
        cost=least.life_cycle_cost,
        study=found.job.site.horizon_years,
        design=_in_short(write, least),
        hours=least.hours,
    )
    if not far.carried or far.life_cycle_cost is None:
        return text
    more = far.life_cycle_cost - least.life_cycle_cost
    if more <= 0:
        than = write.say("This one costs {less:money} less.", less=-more)
    elif least.life_cycle_cost > 0:
        share = more / least.life_cycle_cost
        than = write.say(
            "This one costs {more:money} ({share:share.0}) more.", more=more, share=share
        )
    else:
        than = write.say("This one costs {more:money} more.", more=more)
    return f"{text} {than}"


def _buys(write: Writer, bought: Design | None) -> str:
    if bought is None:
        return write.say("Buys nothing on offer.")
    return write.say(
        "Buys {hours} h: {design}.", hours=bought.hours, design=_in_short(write, bought)
    )


def _in_short(write: Writer, one: Design) -> str:
    return write.say(
        "{equipment}, {cost:money} upfront",
        equipment=design.equipment(write, one),
        cost=one.upfront_cost,
    )


def stage(write: Writer, at: AgeStage) -> str:
    """Return a point of a bank's life."""
    match at:
        case AgeStage.NEW:
            return write.say("new")
        case AgeStage.NOW:
            return write.say("now")
    return write.say("end of life")
