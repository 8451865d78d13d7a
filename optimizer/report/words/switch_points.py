"""Where another side wins, in sentences."""

from collections.abc import Sequence
from itertools import zip_longest
from typing import Final

from optimizer.comparison.break_even_line import BreakEvenLine
from optimizer.comparison.parameters import Parameter, Unit
from optimizer.comparison.switch_points import Kind, SwitchPoint, SwitchPoints
from optimizer.report.words import parameters
from optimizer.report.words.comparison import side
from optimizer.report.words.writer import Sentence, Writer

#: That a side wins whatever the price, within the range.
ALWAYS: Final = Sentence("{side} at any price looked at")


def regions(write: Writer, found: SwitchPoints) -> str:
    """Return who wins where along a parameter, from low to high."""
    if not found.points:
        return write.say("{side} throughout", side=side(write, found.winner))
    pieces = []
    for point in found.points:
        # a region of whole numbers ends with the last that is in it
        end = point.below.value if point.kind is Kind.WHOLE else point.value
        fields = {
            "side": side(write, point.below.winner),
            "end": parameters.value(write, found.parameter, end),
        }
        jumps = point.kind is Kind.JUMP
        pieces.append(
            write.say("{side} up to {end}, a jump", **fields)
            if jumps
            else write.say("{side} up to {end}", **fields)
        )
    last = found.points[-1].above.winner
    return "; ".join([*pieces, write.say("then {side}", side=side(write, last))])


def kind(write: Writer, point: SwitchPoint) -> str:
    """Return what happens at a switch point."""
    if point.kind is Kind.CROSSING:
        return write.say("costs cross")
    if point.kind is Kind.WHOLE:
        return write.say("whole numbers")
    return write.say(
        "{what:list}",
        what=[
            write.say("{side} jumps up", side=side(write, jump.side))
            if jump.upward
            else write.say("{side} jumps down", side=side(write, jump.side))
            for jump in point.jumps
        ],
    )


def turning(write: Writer, found: Sequence[SwitchPoints]) -> list[str]:
    """Return what alone would make another side win, one sentence a side."""
    phrases: dict[str | None, list[str]] = {}
    for one in found:
        for winner, phrase in _nearest(write, one):
            phrases.setdefault(winner, []).append(phrase)
    if not phrases:
        return [write.say("Nothing changes that alone, in any of the ranges looked through.")]
    return [
        write.say("Nothing would fit with one of: {changes}.", changes="; ".join(changes))
        if winner is None
        else write.say(
            "With one of these {side} would win: {changes}.",
            side=side(write, winner),
            changes="; ".join(changes),
        )
        for winner, changes in phrases.items()
    ]


def _nearest(write: Writer, found: SwitchPoints) -> list[tuple[str | None, str]]:
    """Return where each other side wins nearest to the base, below it and above, and who does."""
    base, points = found.parameter.base, found.points
    below = [one for one in points if one.above.value <= base]
    above = [one for one in points if one.below.value >= base]
    told = []
    for outward, upward in ((below[::-1], False), (above, True)):
        known = {found.winner}
        for near, next_one in zip_longest(outward, outward[1:]):
            winner = (near.above if upward else near.below).winner
            if winner not in known:
                known.add(winner)
                far = None if next_one is None else _edge(next_one, upward=not upward)
                where = _where(write, found.parameter, _edge(near, upward=upward), far)
                told.append((winner, where))
    return told


def _edge(point: SwitchPoint, *, upward: bool) -> float:
    """Return the value at a switch point; of whole numbers the first one beyond it."""
    if point.kind is not Kind.WHOLE:
        return point.value
    return point.above.value if upward else point.below.value


def _where(write: Writer, parameter: Parameter, near: float, far: float | None) -> str:
    """Return the values from the nearest switch point to the one beyond it, or to the end."""
    name = parameters.name(write, parameter)
    shown = [parameters.value(write, parameter, one) for one in (near, far) if one is not None]
    if far is not None and len(set(shown)) > 1:  # both ends may round to the same
        low, high = sorted((near, far))
        return write.say(
            "{name} {values}", name=name, values=parameters.between(write, parameter, low, high)
        )
    fields = {
        "name": name,
        "value": parameters.value(write, parameter, near),
        "now": parameters.value(write, parameter, parameter.base),
    }
    if parameter.unit is Unit.FACTOR or far is not None:
        return write.say("{name} {value}", **fields)
    if near > parameter.base:
        return write.say("{name} {value} or more (now {now})", **fields)
    return write.say("{name} {value} or less (now {now})", **fields)


def proof(write: Writer, found: SwitchPoints) -> str:
    """Return whether there can be other switch points than those found."""
    if found.proven:
        return write.say("all values")
    return write.say_number("{n} value", "{n} values", found.values_tried)


def break_even(
    write: Writer, line: BreakEvenLine, values: Sequence[float] | None = None
) -> list[str]:
    """Return the break-even line at some values of its first number, one sentence each.

    At its low, base and high where no values are named.
    """
    across = line.across
    picked = (across.low, across.base, across.high) if values is None else values
    said = []
    for point in line.points:
        if point.value not in picked:
            continue
        text = write.say(ALWAYS.english, side=side(write, point.always))
        if point.factor is not None:
            text = write.say(
                "{side} wins until its batteries are {price}",
                side=side(write, line.priced),
                price=parameters.value(write, line.price, point.factor),
            )
        name = parameters.name(write, line.across)
        value = parameters.value(write, line.across, point.value)
        said.append(write.say("With {name} at {value}: {text}.", name=name, value=value, text=text))
    return said
