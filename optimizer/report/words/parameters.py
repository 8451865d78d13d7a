"""A parameter of the comparison in words: its name, its values, its range."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.report.words.charts import family

if TYPE_CHECKING:
    from optimizer.comparison.parameters import Parameter
    from optimizer.report.words.writer import Writer

#: A factor this close to 1 is "as today".
_AS_TODAY: Final = 5e-4


def name(write: Writer, parameter: Parameter) -> str:
    """Return what a parameter is called."""
    kind, _, of = parameter.key.partition(":")
    match kind:
        case "price":
            return write.say("price of {family} batteries", family=family(write, of))
        case "depth":
            return write.say("maximum depth of discharge of {family}", family=family(write, of))
    return {
        "outages": write.say("outages a year"),
        "rate": write.say("discount rate"),
        "horizon": write.say("study period"),
        "drift": write.say("additional drift of battery prices"),
        "warmth": write.say("mean room temperature"),
        "tariff": write.say("tariff"),
        "load": write.say("all loads"),
    }[kind]


def axis(write: Writer, parameter: Parameter) -> str:
    """Return the title of a parameter's axis."""
    called = name(write, parameter)
    called = called[:1].upper() + called[1:]
    if parameter.unit in {"", "×"}:
        return called
    unit = write.say("years") if parameter.unit == "years" else parameter.unit
    return write.say("{name}, {unit}", name=called, unit=unit)


def value(write: Writer, parameter: Parameter, amount: float) -> str:
    """Return a parameter's value as a person says it."""
    if parameter.unit == "×":
        return _factor(write, parameter, amount)
    if parameter.key == "drift" and amount > 0:
        return write.say("+{amount:share}", amount=round(amount, 3))
    if parameter.unit == "%":
        return write.say("{amount:share}", amount=amount)
    if parameter.unit == "years":
        return write.say("{amount:years}", amount=round(amount))
    if not parameter.unit:
        return write.say("{amount:figure}", amount=amount)
    return write.say("{amount:figure} {unit}", amount=amount, unit=parameter.unit)


def _factor(write: Writer, parameter: Parameter, amount: float) -> str:
    """Return a factor: of a price as dearer or cheaper, of anything else as it stands."""
    if abs(amount - 1) < _AS_TODAY:
        return write.say("as today")
    if not parameter.key.startswith("price:"):
        return write.say("{amount:factor}", amount=amount)
    change = round(abs(amount - 1), 3)
    if amount > 1:
        return write.say("{change:share} dearer", change=change)
    return write.say("{change:share} cheaper", change=change)


def between(write: Writer, parameter: Parameter, low: float, high: float) -> str:
    """Return a range of a parameter."""
    return write.say(
        "{low} to {high}",
        low=value(write, parameter, low),
        high=value(write, parameter, high),
    )
