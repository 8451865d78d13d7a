"""The site file: TOML → its keys, checked; and from them the `Site`."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import fields
from itertools import chain, pairwise
from pathlib import Path
from typing import Any, Final

from optimizer.errors import Fault, InputError
from optimizer.files.place import Place
from optimizer.inputs.cells import DAY_H, windows
from optimizer.inputs.columns import columns_of
from optimizer.inputs.faults import CONFLICT, MISSING, TWICE, at_least, at_most, cut, shown
from optimizer.inputs.sections import check_sections
from optimizer.inputs.site_file import SiteFile
from optimizer.inputs.site_keys import OPTIONAL_SECTIONS, SECTIONS, GeneratorKeys
from optimizer.inputs.toml_text import SectionFile, read_toml
from optimizer.model.job import Contract, GeneratorRules, Peak, Season, Site
from optimizer.model.outages import Window
from optimizer.model.phrase import Phrase

MONTHS: Final = tuple(range(1, 13))
_ROOM: Final = ("min_degc", "mean_degc", "max_degc")
_TOLERANCE: Final = 1e-9
#: A month has so many minutes [min]: a twelfth of 8,760 hours.
_MONTH_MIN: Final = 43_800.0
_EXAMPLE: Final = 'name = "text", target_hours = 24, tiers = ["a", "b"]'
_SEASONS: Final = Phrase("lists of months 1…12 such as winter = [10, 11, 12, 1, 2, 3]")


def read_site(path: Path, faults: list[Fault]) -> SiteFile | None:
    """Return what the site file says, or None with the faults that make it unreadable."""
    try:
        source = read_toml(path, Phrase("a site file"), example=_EXAMPLE)
    except InputError as error:
        faults += error.faults
        return None
    return site_from(source, path.parent, faults)


def site_from(source: SectionFile, folder: Place, faults: list[Fault]) -> SiteFile:
    """Return the checked keys of a site file's content."""
    own: list[Fault] = []
    seasons = _read_seasons(source, own)
    sections = check_sections(
        source, SECTIONS, own, free=frozenset({"seasons"}), optional=OPTIONAL_SECTIONS
    )
    values = {key: value for section in sections.values() for key, value in section.items()}
    site = SiteFile(source, folder, values, seasons)
    own.extend(chain(_across(site), _supply_faults(site), _generator_faults(site)))
    last = max(source.lines.values(), default=0) + 1
    faults.extend(sorted(own, key=lambda fault: fault.row or last))
    return site


def make_site(site: SiteFile) -> Site:
    """Return the site; to be called only when no fault was found."""
    beside: dict[str, Any] = {
        "supply_voltage_v": site.value("supply.voltage_v"),
        "contracts": tuple(
            Contract(power_w=float(power), cost_year=float(cost))
            for power, cost in site.values.get("contracts", ())
        ),
        "peaks": tuple(
            Peak(power_w=float(power), minutes=float(minutes), times_a_month=float(times))
            for power, minutes, times in site.values.get("peaks", ())
        ),
        "generator": _generator_rules(site),
    }
    known = {field.name for field in fields(Site)} - set(beside)
    given: dict[str, Any] = {
        name: tuple(value) if isinstance(value, list) else value
        for name, value in site.values.items()
        if name in known
    }
    if "voltages" in given:  # 24.0 equals 24 and is let through
        given["voltages"] = tuple(int(volts) for volts in given["voltages"])
    return Site(seasons=site.seasons or (), **given, **beside)


def _read_seasons(source: SectionFile, faults: list[Fault]) -> tuple[Season, ...] | None:
    """Return the seasons, the whole year without the section, or None with faults."""
    content = source.content.get("seasons")
    if content is None:
        return (Season("year", MONTHS),)
    if not isinstance(content, dict) or not content:
        found = Phrase("no season") if content == {} else shown(content)
        faults.append(source.fault("seasons", found, _SEASONS))
        return None
    before = len(faults)
    home: dict[int, str] = {}
    for name, months in content.items():
        key = f"seasons.{name}"
        if (
            not isinstance(months, list)
            or not months
            or any(type(month) is not int or month not in MONTHS for month in months)
        ):
            wanted = Phrase("{lists}, at least one month", lists=_SEASONS)
            faults.append(source.fault(key, shown(months), wanted))
            continue
        for month in months:
            if month in home:
                found = Phrase(
                    "month {month}, already in {season}", month=str(month), season=home[month]
                )
                faults.append(source.fault(key, found, Phrase("each month once"), TWICE))
            home.setdefault(month, name)
    missing = [str(month) for month in MONTHS if month not in home]
    if missing and len(faults) == before:
        found = Phrase("no season for month {months}", months=", ".join(missing))
        faults.append(source.fault("seasons", found, Phrase("all twelve months"), MISSING))
    if len(faults) > before:
        return None
    return tuple(Season(name, tuple(months)) for name, months in content.items())


def _across(site: SiteFile) -> Iterator[Fault]:
    """Yield the rules between keys that the file breaks."""
    values = site.values
    longest = site.value("resilience.max_hours")
    target = values.get("target_hours")
    if target is not None and target > longest:
        wanted = at_most("max_hours", longest, "h")
        yield site.fault("resilience.target_hours", str(target), wanted, CONFLICT)
    there = [name for name in _ROOM if name in values]
    for low, high in pairwise(there):
        if values[low] > values[high]:
            wanted = at_least(low, values[low], "°C")
            yield site.fault(f"battery_room.{high}", f"{values[high]:g}", wanted, CONFLICT)
    if "monthly_degc" in values and len(there) == len(_ROOM):
        yield from _monthly_faults(site)
    for section, key in (("resilience", "tiers"), ("limits", "voltages"), ("limits", "exclude")):
        counted = Counter(map(str, values.get(key, ())))
        doubled = sorted(name for name, count in counted.items() if count > 1)
        if doubled:
            found = Phrase("{names} twice", names=cut(", ".join(doubled)))
            yield site.fault(f"{section}.{key}", found, Phrase("each once"), TWICE)


def _monthly_faults(site: SiteFile) -> Iterator[Fault]:
    low, mean, high = (site.values[name] for name in _ROOM)
    monthly = site.values["monthly_degc"]
    own_mean = sum(monthly) / len(monthly)
    if min(monthly) < low or max(monthly) > high:
        found = Phrase("{low} to {high} °C", low=f"{min(monthly):g}", high=f"{max(monthly):g}")
    elif abs(own_mean - mean) > 1 + _TOLERANCE:
        found = Phrase("a mean of {degc} °C", degc=f"{own_mean:.1f}")
    else:
        return
    yield site.fault("battery_room.monthly_degc", found, kind=CONFLICT)


def _supply_faults(site: SiteFile) -> Iterator[Fault]:
    """Yield what is wrong in [supply] beyond single values."""
    steps, peaks = site.values.get("contracts", ()), site.values.get("peaks", ())
    if any(not (low[0] < high[0] and low[1] < high[1]) for low, high in pairwise(steps)):
        yield site.fault("supply.contracts", shown(steps))
    if peaks and "contracts" not in site.source.content["supply"]:
        found, wanted = Phrase("it without contracts"), Phrase("contracts with it, or neither")
        yield site.fault("supply.peaks", found, wanted, CONFLICT)
    minutes = sum(peak[1] * peak[2] for peak in peaks)
    if minutes > _MONTH_MIN:
        found = Phrase("{minutes} minutes of peaks a month", minutes=f"{minutes:g}")
        wanted = Phrase("no more minutes than a month has, {most}", most=f"{_MONTH_MIN:.0f}")
        yield site.fault("supply.peaks", found, wanted)


def _generator_rules(site: SiteFile) -> GeneratorRules | None:
    """Return what the section [generator] says, or None without it; free of faults."""
    if not site.generator:
        return None
    given = {key: site.values[key] for key in columns_of(GeneratorKeys) if key in site.values}
    return GeneratorRules(**given | {"quiet": _quiet(site)})


def _quiet(site: SiteFile) -> Window | None:
    text = site.values.get("quiet")
    return None if text is None else windows(text.strip())[0]


def _generator_faults(site: SiteFile) -> Iterator[Fault]:
    """Yield what is wrong in [generator] beyond single values."""
    quiet = _quiet(site)
    quiet_h = 0.0 if quiet is None else quiet[1] - quiet[0]
    if quiet_h > DAY_H - 1:
        wanted = Phrase("at least one hour of the day not quiet")
        yield site.fault("generator.quiet", shown(site.values["quiet"]), wanted)
    start_h = site.value("generator.start_after_h")
    if start_h + quiet_h < 1:
        wanted = Phrase("at least 1 without a quiet window: the bank carries until it runs")
        yield site.fault("generator.start_after_h", str(start_h), wanted)
