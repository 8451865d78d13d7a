"""The numbers a person might doubt: their names, and their values with units."""

from collections.abc import Mapping

from optimizer.comparison.parameters import Kind, Parameter, Unit
from optimizer.report.words.design import chemistry
from optimizer.report.words.writer import Sentence, Writer

#: A factor this close to 1 is "as today".
_AS_TODAY = 5e-4
#: Factors that read as dearer or cheaper.
_PRICES = frozenset({Kind.PRICE, Kind.CONTRACT_PRICE})


def name(write: Writer, parameter: Parameter) -> str:
    """Return what a parameter is called, as it reads inside a sentence."""
    return _named(write, parameter.kind, parameter.family)


def _named(write: Writer, kind: Kind, family: str | None) -> str:
    called = None if family is None else chemistry(write, family)
    return write.say(_NAMES[kind].english, family=called)


def value(write: Writer, parameter: Parameter, number: float) -> str:
    """Return a parameter's value with its unit, as it reads inside a sentence."""
    return _valued(write, parameter.kind, parameter.unit, number)


def what_if(write: Writer, *, kind: str, family: str, unit: str, now: float, value: float) -> str:
    """Return what was supposed instead of what the site says."""
    of, in_unit = Kind(kind), Unit(unit)
    then = _valued(write, of, in_unit, value)
    called = _named(write, of, family or None)
    if in_unit is Unit.FACTOR or not now:  # a site may say nothing
        return write.say(
            "Supposed, not what the site says: {name} {value}.", name=called, value=then
        )
    return write.say(
        "Supposed: {name} {value}, where the site says {now}.",
        name=called,
        value=then,
        now=_valued(write, of, in_unit, now),
    )


def _valued(write: Writer, kind: Kind, unit: Unit, number: float) -> str:
    return _factor(write, kind, number) if unit is Unit.FACTOR else _in_unit(write, unit, number)


def _factor(write: Writer, kind: Kind, factor: float) -> str:
    if abs(factor - 1) < _AS_TODAY:
        return write.say("as today")
    if kind not in _PRICES:
        return write.say("{factor:factor}", factor=factor)
    share = round(abs(factor - 1), 3)
    if factor > 1:
        return write.say("{share:share} dearer", share=share)
    return write.say("{share:share} cheaper", share=share)


def axis(write: Writer, parameter: Parameter) -> str:
    """Return the title of a parameter's axis; shares are drawn in per cent."""
    title = _AXES.get(parameter.unit, Sentence("{name:capital}"))
    return write.say(title.english, name=name(write, parameter))


def between(write: Writer, parameter: Parameter, low: float, high: float) -> str:
    """Return two values of a parameter; of prices, the change in per cent."""
    if parameter.kind in _PRICES:
        changes = (_in_unit(write, Unit.MORE_SHARE, round(one - 1, 3)) for one in (low, high))
        return write.say("{low} to {high}", low=next(changes), high=next(changes))
    return write.say(
        "{low} to {high}", low=value(write, parameter, low), high=value(write, parameter, high)
    )


def _in_unit(write: Writer, unit: Unit, number: float) -> str:
    if unit is Unit.MORE_SHARE and number > 0:
        return write.say("+{share:share}", share=number)
    return write.say(_UNITS[unit].english, number=number)


_UNITS: Mapping[Unit, Sentence] = {
    Unit.SHARE: Sentence("{number:share}"),
    Unit.MORE_SHARE: Sentence("{number:share}"),
    Unit.YEARS: Sentence("{number:years}"),
    Unit.DEGC: Sentence("{number:figure} °C"),
    Unit.MONEY_PER_KWH: Sentence("{number:figure} {currency}/kWh"),
    Unit.MONEY_PER_LITRE: Sentence("{number:figure} {currency}/l"),
    Unit.TIMES_A_YEAR: Sentence("{number:figure}"),
}

_AXES: Mapping[Unit, Sentence] = {
    Unit.SHARE: Sentence("{name:capital}, %"),
    Unit.MORE_SHARE: Sentence("{name:capital}, %"),
    Unit.YEARS: Sentence("{name:capital}, years"),
    Unit.DEGC: Sentence("{name:capital}, °C"),
    Unit.MONEY_PER_KWH: Sentence("{name:capital}, {currency}/kWh"),
    Unit.MONEY_PER_LITRE: Sentence("{name:capital}, {currency}/l"),
}

_NAMES: Mapping[Kind, Sentence] = {
    Kind.OUTAGES: Sentence("outages a year"),
    Kind.DISCOUNT_RATE: Sentence("discount rate"),
    Kind.STUDY_PERIOD: Sentence("study period"),
    Kind.PRICE: Sentence("price of {family} batteries"),
    Kind.PRICE_DRIFT: Sentence("additional drift of battery prices"),
    Kind.RESIDUAL_SHARE: Sentence("residual share"),
    Kind.TEMPERATURE: Sentence("mean room temperature"),
    Kind.DEPTH: Sentence("maximum depth of discharge of {family} batteries"),
    Kind.CYCLE_LIFE: Sentence("cycle life of {family} batteries"),
    Kind.FLOAT_LIFE: Sentence("float life of {family} batteries"),
    Kind.TARIFF: Sentence("tariff"),
    Kind.CHARGER: Sentence("charging current of all inverter-chargers"),
    Kind.CONTRACT_PRICE: Sentence("price of the supply contract"),
    Kind.FUEL_PRICE: Sentence("price of fuel"),
    Kind.LOAD: Sentence("all loads"),
    Kind.LOST_LOAD: Sentence("value of lost load"),
}
