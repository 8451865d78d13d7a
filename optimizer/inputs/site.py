"""The site file: TOML → its keys, checked; and from them the `Site`."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import fields
from itertools import chain, pairwise
from pathlib import Path
from typing import Any, Final

from optimizer.errors import Fault, InputError
from optimizer.files.place import Place
from optimizer.inputs.beside import generator_faults, generator_rules, supply, supply_faults
from optimizer.inputs.faults import CONFLICT, MISSING, TWICE, at_least, at_most, cut, shown
from optimizer.inputs.sections import check_sections
from optimizer.inputs.site_file import SiteFile
from optimizer.inputs.site_keys import OPTIONAL_SECTIONS, SECTIONS
from optimizer.inputs.toml_text import SectionFile, read_toml
from optimizer.model.job import Season, Site
from optimizer.model.phrase import Phrase

MONTHS: Final = tuple(range(1, 13))
_ROOM: Final = ("min_degc", "mean_degc", "max_degc")
_TOLERANCE: Final = 1e-9
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
    own.extend(chain(_across(site), supply_faults(site), generator_faults(site)))
    last = max(source.lines.values(), default=0) + 1
    faults.extend(sorted(own, key=lambda fault: fault.row or last))
    return site


def make_site(site: SiteFile) -> Site:
    """Return the site; to be called only when no fault was found."""
    beside = {"generator": generator_rules(site), **supply(site)}
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
