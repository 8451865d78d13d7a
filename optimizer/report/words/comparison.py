"""Lead-acid or lithium, in sentences: who wins and why, and when the dearer one has caught up."""

from collections.abc import Iterator, Mapping

from optimizer.comparison.side_by_side import Alternative, Comparison, Outcome, Part, outcome_of
from optimizer.comparison.study import MIXED
from optimizer.model.design import Design
from optimizer.report.words.design import bank, chemistry, inverter_set
from optimizer.report.words.writer import Sentence, Writer, plain

#: A part below this share of all differences is not worth a word.
_WORTH_A_WORD = 0.04


def side(write: Writer, key: str | None) -> str:
    """Return a side of a comparison, or that there is none."""
    if key is None:
        return write.say("nothing fits")
    return write.say("a mixed chain") if key == MIXED else chemistry(write, key)


def verdict(write: Writer, comparison: Comparison) -> str:
    """Return who wins and by how much."""
    winner, runner_up = comparison.winner, comparison.runner_up
    fields = {
        "hours": comparison.hours,
        "one": side(write, winner.name),
        "cost": winner.life_cycle_cost,
        "study": comparison.job.site.horizon_years,
    }
    if runner_up is None:
        return write.say(
            "For {hours:hours} only {one} is left within the limits: {cost:money} over "
            "{study:years}.",
            **fields,
        )
    fields |= {
        "other": side(write, runner_up.name),
        "more": runner_up.life_cycle_cost,
        "margin": comparison.cheaper_by,
    }
    match comparison.outcome:
        case Outcome.TIE:
            return write.say(
                "For {hours:hours} {one} and {other} cost the same: {cost:money} over "
                "{study:years}.",
                **fields,
            )
        case Outcome.LEVEL:
            return write.say(
                "For {hours:hours} {one} and {other} are level: {cost:money} and {more:money} over "
                "{study:years}. {margin:money} between them is less than prices and lives are "
                "known to.",
                **fields,
            )
    return write.say(
        "For {hours:hours} {one} is {margin:money} cheaper, net over {study:years}: {cost:money} "
        "against {more:money} for {other}.",
        **fields,
    )


def standing(write: Writer, comparison: Comparison, design: Design) -> Iterator[str]:
    """Yield what a design costs upfront beside the best other side, then whom money keeps out."""
    own, *others = comparison.beside(design)
    upfront, study = design.upfront_cost, comparison.job.site.horizon_years
    rival = next((one for one in others if one not in comparison.beyond_budget), None)
    if rival is None:
        yield write.say("{upfront:money} upfront.", upfront=upfront)
    else:
        margin = rival.life_cycle_cost - own.life_cycle_cost
        other = side(write, rival.name)
        fields = {"upfront": upfront, "study": study, "more": -margin, "other": other}
        if outcome_of(comparison.job, own.life_cycle_cost, margin) is not Outcome.CHEAPER:
            yield write.say(
                "{upfront:money} upfront; level with {other} over {study:years}.", **fields
            )
        else:
            yield write.say(
                "{upfront:money} upfront; {more:difference} than {other} over {study:years}.",
                **fields,
            )
    for one in comparison.beyond_budget:
        yield write.say(
            "{other:capital} is beyond the budget: {upfront:money} more upfront, "
            "{more:difference} over {study:years}.",
            other=side(write, one.name),
            upfront=one.design.upfront_cost - own.design.upfront_cost,
            more=one.life_cycle_cost - own.life_cycle_cost,
            study=study,
        )


def reasons(write: Writer, comparison: Comparison) -> list[str]:
    """Return what speaks for the cheaper one and what against it, the weightiest first."""
    differences = comparison.differences
    size = sum(abs(amount) for amount in differences.values())
    told = sorted(
        (one for one in differences.items() if abs(one[1]) > _WORTH_A_WORD * size),
        key=lambda one: -abs(one[1]),
    )
    speak_for = [_part(write, part, amount) for part, amount in told if amount > 0]
    against = [_part(write, part, amount) for part, amount in told if amount < 0]
    rest = sum(differences.values()) - sum(amount for _, amount in told)
    if round(rest):  # so that the parts add up to what is told above
        smaller = write.say("{more:difference} for all the rest", more=-rest)
        (speak_for if rest > 0 else against).append(smaller)
    one = side(write, comparison.winner.name)
    lines = []
    if speak_for:
        lines.append(
            write.say("For {one}, in present value: {parts:list}.", one=one, parts=speak_for)
        )
    if against:
        lines.append(write.say("Against it: {parts:list}.", parts=against))
    return lines


def _part(write: Writer, part: Part, saving: float) -> str:
    more = saving if part is Part.RESIDUAL_VALUE else -saving
    return write.say(_PARTS[part].english, more=more)


_PARTS: Mapping[Part, Sentence] = {
    Part.INVERTER: Sentence("{more:difference} for inverter set and cable"),
    Part.FIRST_BANK: Sentence("{more:difference} for the first bank"),
    Part.LATER_BANKS: Sentence("{more:difference} for later banks"),
    Part.WORKS: Sentence("{more:difference} for labour and fittings"),
    Part.RUNNING: Sentence("{more:difference} to run"),
    Part.RESIDUAL_VALUE: Sentence("{more:difference} residual value"),
}


def catch_up(write: Writer, comparison: Comparison) -> str:
    """Return when the one with the higher upfront cost has caught up."""
    dearer, runner_up = comparison.dearer_upfront, comparison.runner_up
    if runner_up is None:
        return ""
    if dearer is None:
        return write.say("Both have the same upfront cost.")
    other = runner_up if dearer is comparison.winner else comparison.winner
    fields = {
        "one": side(write, dearer.name),
        "gap": dearer.design.upfront_cost - other.design.upfront_cost,
        "study": comparison.job.site.horizon_years,
        "after": comparison.caught_up_after,
    }
    if comparison.caught_up_after is not None:
        return write.say(
            "Upfront {one} costs {gap:money} more; it has caught up after {after:years}.", **fields
        )
    if dearer is comparison.winner:
        return write.say(
            "Upfront {one} costs {gap:money} more; within {study:years} only its residual value "
            "makes up for that.",
            **fields,
        )
    return write.say(
        "Upfront {one} costs {gap:money} more; it does not catch up within {study:years}.",
        **fields,
    )


def missing(write: Writer, comparison: Comparison) -> str:
    """Return which families and chemistries carry these hours with nothing within the limits."""
    return write.say(
        "Not to be had within the limits for these hours: {names:list}.",
        names=[side(write, name) for name in comparison.missing],
    )


def equipment(write: Writer, design: Design) -> str:
    """Return the first bank, the inverter set and what stands beside, short enough for a table."""
    beside = [] if design.generator is None else [plain(design.generator.generator)]
    return "; ".join([bank_and_set(write, design), *beside])


def bank_and_set(write: Writer, design: Design) -> str:
    """Return the first bank and the inverter set, short enough for a table."""
    first = bank(write, design.banks[0], design.voltage_v)
    return "; ".join([first, inverter_set(write, design)])


def next_replacement(write: Writer, alternative: Alternative) -> str:
    """Return when equipment is first bought again, and for how much."""
    found = next((one for one in alternative.later_purchases if one.items), None)
    if found is None:
        return write.say("none")
    return write.say("year {year}, {amount:money}", year=found.year + 1, amount=found.amount)


def floor(write: Writer, alternative: Alternative) -> str:
    """Return the floor that the bank covers."""
    if alternative.floor_m2 is None:
        return write.say("unknown")
    return write.say("{floor:number.2} m²", floor=alternative.floor_m2)
