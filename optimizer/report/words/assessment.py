"""What is said about a bank and inverter that stand already or were quoted."""

import math

from optimizer.answers.assessment import Assessment, AssessmentVerdict
from optimizer.answers.independent_simulation import AgeStage
from optimizer.answers.installed import DeepestOutage
from optimizer.answers.planned_hours import CarriedLoad
from optimizer.engine.check import CONDITIONS, Check, CheckKind
from optimizer.report.words import design, simulation
from optimizer.report.words.checks import check_name, check_unit, requirement_name
from optimizer.report.words.writer import Writer

#: Above this an outage counts as deep: cycle lives are given for it, and soon used up.
_DEEP = 0.7
_OFTEN_A_YEAR = 12
#: So many failing requirements are named in the verdict's sentence.
_NAMED = 2
#: Beyond so many years a figure says nothing more.
_AGES = 1000
_KILO = 1000


def existing(write: Writer, found: Assessment) -> str:
    """Return what is assessed."""
    age = found.existing.age_years
    old = write.say("{age:years} old", age=age) if age else write.say("new")
    if found.existing.measured_ah is not None:
        old = write.say(
            "{measured:figure} Ah measured, as much as at {age:years.1}",
            measured=found.existing.measured_ah,
            age=found.life.age_years,
        )
    text = write.say(
        "{bank} ({old}), behind {inverters}",
        bank=design.bank(write, found.design.banks[0], found.design.voltage_v),
        old=old,
        inverters=design.inverter_set(write, found.design),
    )
    if found.design.contract is not None:
        text = write.say(
            "{bank}, supply contract of {power:figure} kW",
            bank=text,
            power=found.design.contract.power_w / _KILO,
        )
    if found.design.generator is not None:
        text = write.say(
            "{bank}, beside {generator} with {litres:number.1} l of fuel",
            bank=text,
            generator=found.design.generator.generator,
            litres=found.design.fuel_l,
        )
    if found.existing.charge_at_start == 1:
        return text
    return write.say(
        "{bank}; outages begin at a state of charge of {charge:share}",
        bank=text,
        charge=found.existing.charge_at_start,
    )


def wears_out_soon(write: Writer, found: Assessment) -> str:
    """Return the warning of a short or ended service life, empty where there is none."""
    years, age = found.life.years, found.life.age_years
    if age > years:
        return write.say(
            "This bank is past its service life here, {life:years.1}: it is taken for what it then "
            "still holds, and may fail without warning.",
            life=years,
        )
    if years < design.SHORT_LIFE_YEARS:
        return write.say("The outages here wear such a bank out in {life:years.1}.", life=years)
    return ""


def as_designed(write: Writer, found: Assessment) -> str:
    """Return whether it is what its quote planned; empty where it was built from none."""
    plan = found.existing.plan
    if plan is None:
        return ""
    quote = write.say("its quote")
    if plan.quote is not None:
        quote = write.say("quote {number}", number=plan.quote)
    if plan.day is not None:
        quote = write.say("{quote} of {day:date}", quote=quote, day=plan.day)
    if not plan.is_unchanged:
        return write.say(
            "Not as designed: the equipment is no longer that of {quote}.", quote=quote
        )
    if found.is_as_designed:
        return write.say(
            "As designed: the equipment of {quote}, and it carries the {hours:hours} planned "
            "through the {years:years} for which the plan keeps the bank.",
            quote=quote,
            hours=found.design.hours,
            years=plan.bank_years,
        )
    return write.say("The equipment is as designed in {quote}.", quote=quote)


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
        if found.life.age_years > found.life.years:
            until = write.say("today and through the coming year")
        elif end == found.job.site.horizon_years:
            until = write.say("through the whole study period of {n:years}", n=end)
        return write.say(
            "Meets the {required} h required, {planned}, {until}.",
            required=required,
            planned=planned,
            until=until,
        )
    if not found.carries_years:
        return write.say(
            "Meets the {required} h required today, {planned}, but no longer at the end of the "
            "coming year.",
            required=required,
            planned=planned,
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
    text = write.say(
        "Misses the {required} h required: today it is good for {good} {planned}; simulated "
        "without margin, {shortest} h from the worst start.",
        required=required,
        good=good,
        planned=planned,
        shortest=shortest,
    )
    if now.planned_hours >= required:
        text = write.say(
            "Carries the {required} h required today, {planned}, but no longer at the end of the "
            "coming year; simulated without margin, {shortest} h from the worst start.",
            required=required,
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
    if check.requirement is not None and check.kind not in CONDITIONS:
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
    if found.carried_load is not None:
        lines.append((write.say("Load it carries"), _carried(write, found.carried_load)))
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
        "{total:money} a year: {each:list}. All is taken to be as old as the bank.",
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
    least_a = found.limits.charge_least_a
    needed = {"takes": takes, "required": one.required_hours, "needed": one.needed_a}
    if least_a > one.needed_a:
        text = write.say(
            "{takes}; the site requires {required:figure} h, which takes {needed:number.1} A, but "
            "the battery asks for at least {least:number.1} A.",
            **needed,
            least=least_a,
        )
    else:
        text = write.say(
            "{takes}; the site requires {required:figure} h, which takes {needed:number.1} A.",
            **needed,
        )
    if one.hours == math.inf:
        return text
    last = write.say(
        "That is at constant current; the last {share:share.0} of the capacity is taken at a "
        "falling one, in about {last:number.1} h: {full:number.1} h in all (a rule of thumb).",
        share=one.last_share,
        last=one.last_hours,
        full=one.full_hours,
    )
    return f"{text} {last}"


def _carried(write: Writer, one: CarriedLoad) -> str:
    """Return the load that is carried for the hours required."""
    ends = write.say("the bank's energy ends it")
    if one.limited_by_inverter:
        ends = write.say("the inverter's power ends it")
    if one.limited_by_generator:
        ends = write.say("the generator's power or the fuel that may be stored ends it")
    return write.say(
        "{mean:number} W on average over {hours} h in the hardest stretch, {factor:figure} times "
        "the loads surveyed (as planned, today); {ends}.",
        hours=one.hours,
        mean=one.mean_w,
        factor=one.factor,
        ends=ends,
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


def stage(write: Writer, at: AgeStage) -> str:
    """Return a point of a bank's life."""
    match at:
        case AgeStage.NEW:
            return write.say("new")
        case AgeStage.NOW:
            return write.say("now")
    return write.say("end of life")
