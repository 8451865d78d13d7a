"""A bank told in a few words, such as "12 V 95 Ah agm": what is not said is assumed, and told."""

import re
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from optimizer.errors import Fault, InputError, nearest, wrong_option
from optimizer.inputs.chemistry import chemistry_called, load_chemistries, read_chemistries
from optimizer.inputs.columns import NAME_CHARACTERS, columns_of
from optimizer.inputs.decimals import bare_number
from optimizer.inputs.demo import FOLDER
from optimizer.inputs.design_file import DesignKeys, existing_of
from optimizer.inputs.faults import cut
from optimizer.inputs.load import load
from optimizer.inputs.rows import LoadRow
from optimizer.inputs.scaffold import TEMPLATE
from optimizer.inputs.toml_text import SectionFile
from optimizer.inputs.voltage import SYSTEM_VOLTAGES, voltage_class
from optimizer.model.existing import Existing
from optimizer.model.job import Battery, Inverter, Job, Load
from optimizer.model.phrase import Phrase

_OPTION: Final = "--battery"
_EXAMPLE: Final = "12 V 95 Ah agm"
_PART: Final = re.compile(
    r"(?P<count>\d+)\s*[x×*]\s*(?=\d)|(?P<number>\d[\d.,]*)\s*(?P<unit>kWh|Wh|Ah|V)(?![a-z])"
    r"|(?P<word>[a-z][\w.-]*)",
    re.IGNORECASE,
)
#: Hours of the rated discharge: a maker's sheet of a starter or leisure battery gives its capacity
#: at 20 h, one of a lithium battery at 5 h. Common practice.
_RATED_H: Final = {"lead": 20.0, "lithium": 5.0}
_USUAL_RATED_H: Final = 10.0
_PLAIN_TIER: Final = "plain"


class Taken(StrEnum):
    """What was not said, and was assumed."""

    RATED_HOURS = "rated_hours"
    PRICE = "price"
    MASS = "mass"
    DEPTH = "depth"
    FLOAT_LIFE = "float_life"
    INVERTER = "inverter"
    PLACE = "place"
    OUTAGES = "outages"
    LOAD = "load"


@dataclass(frozen=True, slots=True)
class Assumed:
    """A value that nobody gave: what it is of, its value, its unit, and what it was taken from.

    ``like`` names the chemistry, or the battery of the price list, that it was taken from.
    """

    what: Taken
    value: float | str
    unit: str = ""
    like: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """A bank told in a few words, with the job that it is assessed in."""

    job: Job
    existing: Existing
    assumed: tuple[Assumed, ...]


def told_bank(
    text: str,
    job: Job | None = None,
    *,
    load_w: float | None = None,
    age_years: float = 0.0,
) -> Told:
    """Return a bank told in a few words, such as ``2 x 12 V 100 Ah gel`` or ``48 V 5 kWh lfp``.

    Without a job it stands in a temperate house, with the demo's prices. ``load_w`` [W] runs all
    the time, in place of the site's loads. InputError where the words are no battery, or no
    inverter on the price list is of its voltage.
    """
    _check(job, load_w, age_years)
    assumed: list[Assumed] = []
    if job is None:
        job = load(TEMPLATE / "site.toml", FOLDER / "prices")
        site, outages = job.site, job.outages
        room = f"{site.min_degc:g} / {site.mean_degc:g} / {site.max_degc:g}"
        often = len(outages.log) / (outages.log_years or 1.0)
        assumed += [Assumed(Taken.PLACE, room, "°C"), Assumed(Taken.OUTAGES, often, "a year")]
    if load_w is not None:
        plain = Load(
            load=_PLAIN_TIER,
            tier=_PLAIN_TIER,
            count=1,
            running_w=load_w,
            power_factor=1.0,
            starting_w=load_w,
            windows=((0.0, 24.0),),
            duty=1.0,
            season_multipliers=dict.fromkeys((one.name for one in job.site.seasons), 1.0),
        )
        job = replace(job, loads=(plain,)).with_site(tiers=(_PLAIN_TIER,), tier_hours={})
        assumed.append(Assumed(Taken.LOAD, load_w, "W"))
    said = _read(text)
    family = load_chemistries()[said.chemistry].family or ""
    like = _like(job, said, family)
    share = said.capacity_ah * said.voltage_v / (like.capacity_ah * like.voltage_v)
    rated_h = _RATED_H.get(family, _USUAL_RATED_H)
    price, mass_kg = round(like.price * share, 2), round(like.mass_kg * share, 1)
    inverter, units = _inverter(job, said.system_v)
    content = {
        "inverter": inverter.inverter,
        "units": units,
        "strings": said.strings,
        "voltage": said.system_v,
        "age_years": float(age_years),
        "battery": {
            "chemistry": said.chemistry,
            "voltage_v": said.voltage_v,
            "capacity_ah": said.capacity_ah,
            "rate_h": rated_h,
            "price": price,
            "mass_kg": mass_kg,
        },
    }
    existing = existing_of(SectionFile(_OPTION, content, {}), job, read_chemistries(None, []))
    named = replace(existing.battery, battery=" ".join(text.split()))
    assumed += [
        Assumed(Taken.RATED_HOURS, rated_h, "h"),
        Assumed(Taken.DEPTH, named.max_dod, "", said.chemistry),
        Assumed(Taken.FLOAT_LIFE, named.float_life_years, "years", said.chemistry),
        Assumed(Taken.PRICE, price, "", like.battery),
        Assumed(Taken.MASS, mass_kg, "kg", like.battery),
        Assumed(Taken.INVERTER, inverter.inverter),
    ]
    return Told(job, replace(existing, battery=named), tuple(assumed))


def _check(job: Job | None, load_w: float | None, age_years: float) -> None:
    """Complain of numbers out of range, and where nothing says what runs."""
    watts, years = columns_of(LoadRow)["running_w"], columns_of(DesignKeys)["age_years"]
    faults = [
        Fault("options", None, option, f"{value:g}", column.wanted)
        for option, value, column in (("--load", load_w, watts), ("--age", age_years, years))
        if value is not None and not column.allows(value)
    ]
    if load_w is None and job is None:
        found = Phrase("neither a load nor a site")
        faults.insert(0, Fault("options", None, "--load", found, watts.wanted))
    if faults:
        raise InputError(faults)


@dataclass(frozen=True, slots=True)
class _Said:
    voltage_v: float
    capacity_ah: float
    chemistry: str
    system_v: int
    strings: int


def _read(text: str) -> _Said:
    """Return what the words say."""
    if len(text) > NAME_CHARACTERS:
        raise wrong_option(
            _OPTION, cut(text), Phrase("a few words, such as {example}", example=_EXAMPLE)
        )
    count, values, words = 1, {}, []
    for part in _PART.finditer(text):
        if part["count"]:
            count = int(part["count"])
        elif part["unit"]:
            values[part["unit"].lower()] = bare_number(part["number"]) or 0.0
        else:
            words.append(part["word"].lower())
    rest = _PART.sub("", text).strip(" ,;")
    voltage_v = values.get("v", 0.0)
    energy_wh = values.get("wh", values.get("kwh", 0.0) * 1000)
    capacity_ah = values.get("ah", energy_wh / voltage_v if voltage_v else 0.0)
    known = load_chemistries()
    chemistries = [name for name in map(chemistry_called, words) if name is not None]
    if rest or not (voltage_v and capacity_ah) or len(chemistries) != 1 or len(words) > 1:
        wanted = Phrase(
            "voltage, capacity and chemistry, such as {example}; chemistries: {names}",
            example=_EXAMPLE,
            names=", ".join(known),
        )
        close = nearest(words[0], known) if words and not chemistries else None
        if close:
            wanted = Phrase("{wanted}; nearest: {name}", wanted=wanted, name=close)
        raise wrong_option(_OPTION, text, wanted)
    class_v = voltage_class(voltage_v)
    reached = [v for v in SYSTEM_VOLTAGES if class_v is not None and v % class_v == 0]
    series = [(v, v // (class_v or 1)) for v in reached if count % (v // (class_v or 1)) == 0]
    if not series:
        wanted = Phrase("units that make up 12, 24 or 48 V in series, such as {example}",
                        example="4 x 6 V 225 Ah flooded")  # fmt: skip
        raise wrong_option(_OPTION, text, wanted)
    system_v, in_series = series[0]
    return _Said(voltage_v, capacity_ah, chemistries[0], system_v, count // in_series)


def _like(job: Job, said: _Said, family: str) -> Battery:
    """Return the battery of the price list that is most like it: chemistry, family, then energy."""
    energy_wh = said.voltage_v * said.capacity_ah
    return min(
        job.catalog.batteries,
        key=lambda one: (
            one.chemistry != said.chemistry,
            one.family != family,
            abs(one.voltage_v * one.capacity_ah - energy_wh),
        ),
    )


def _inverter(job: Job, system_v: int) -> tuple[Inverter, int]:
    """Return the cheapest inverter-chargers of a voltage that run all loads at once."""
    needed_w = sum(one.count * one.running_w for one in job.loads if one.tier in job.site.tiers)
    offered = [one for one in job.catalog.inverters if one.system_v == system_v]
    if not offered:
        found = Phrase("a bank of {volts} V", volts=str(system_v))
        wanted = Phrase("a price list with an inverter-charger of that voltage")
        raise wrong_option(_OPTION, found, wanted)
    sets = [(one, n) for one in offered for n in range(1, one.max_units + 1)]
    able = [(one, n) for one, n in sets if one.power_w_40c * n >= needed_w]
    if able:
        return min(able, key=lambda one: one[0].price * one[1])
    return max(sets, key=lambda one: one[0].power_w_40c * one[1])
