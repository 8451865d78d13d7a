"""What a bank and inverter are against what can be bought today."""

from optimizer.answers.assessment import Assessment
from optimizer.comparison.first_purchases import first_purchase
from optimizer.model.design import Design
from optimizer.report.words import design
from optimizer.report.words.writer import Writer


def distance(write: Writer, found: Assessment) -> list[tuple[str, str]]:
    """Return where it stands against what can be bought today: matter and sentence."""
    far, study = found.distance, found.job.site.horizon_years
    lines = [
        (write.say("This one"), _same(write, found)),
        (write.say("{hours} h today", hours=far.hours), _least(write, found)),
    ]
    upfront = write.say("{amount:money} upfront", amount=far.upfront_cost)
    lines.append((upfront, _buys(write, far.by_upfront)))
    cost = write.say("{amount:money} over {study:years}", amount=far.life_cycle_cost, study=study)
    return [*lines, (cost, _buys(write, far.by_life_cycle))]


def _same(write: Writer, found: Assessment) -> str:
    far, study = found.distance, found.job.site.horizon_years
    price = write.say("{cost:money} upfront at the prices of today", cost=far.upfront_cost)
    if found.existing.paid is not None:
        price = write.say("{cost:money} paid", cost=far.upfront_cost)
    if not far.carried:
        return write.say(
            "Bought new it would hold no whole hour in every year up to its end of life, with the "
            "margin ({price}); the {hours} h required are compared instead.",
            price=price,
            hours=far.hours,
        )
    over = write.say("{cost:money} net over {study:years}", cost=far.life_cycle_cost, study=study)
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
    if not far.carried:
        return text
    more, plan = far.life_cycle_cost - least.life_cycle_cost, found.existing.plan
    if _begins_alike(found, least):
        than = write.say("It begins with this very equipment: as designed.")
        if len({bank.battery.battery for bank in least.banks}) > 1:
            than = write.say(
                "It begins with this very equipment, as designed; that later banks are of another "
                "model makes the difference."
            )
    elif found.is_as_designed and plan is not None and plan.planned_hours != far.hours:
        than = write.say(
            "As designed, this one is planned for {planned} h: its plan replaces the bank after "
            "{years:years}, before it is worn out.",
            planned=plan.planned_hours,
            years=plan.bank_years or 0,
        )
    elif round(more) == 0:  # as money is written here
        than = write.say("This one costs the same.")
    elif more > 0 and least.life_cycle_cost > 0:
        share = more / least.life_cycle_cost
        than = write.say(
            "This one costs {more:money} ({share:share.0}) more.", more=more, share=share
        )
    else:
        than = write.say("This one costs {more:difference}.", more=more)
    return f"{text} {than}"


def _begins_alike(found: Assessment, least: Design) -> bool:
    """Tell whether a design begins with what was quoted and stands there unchanged."""
    plan = found.existing.plan
    unchanged = plan is not None and plan.is_unchanged
    return unchanged and first_purchase(found.design) == first_purchase(least)


def _buys(write: Writer, bought: Design | None) -> str:
    if bought is None:
        return write.say("Buys nothing on offer.")
    return write.say(
        "Buys {hours} h: {design}.", hours=bought.hours, design=_in_short(write, bought)
    )


def _in_short(write: Writer, one: Design) -> str:
    named = design.equipment(write, one)
    return write.say("{equipment}, {cost:money} upfront", equipment=named, cost=one.upfront_cost)
