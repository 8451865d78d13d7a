"""The site file: TOML → its keys, checked; and from them the `Site`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from optimizer.errors import Fault, nearest
from optimizer.inputs.beside import generator_faults, generator_rules, supply, supply_faults
from optimizer.inputs.columns import Record, columns_of
from optimizer.inputs.faults import nearest_known, shown
from optimizer.inputs.place import Place
from optimizer.inputs.sections import valid_values
from optimizer.inputs.site_keys import OPTIONAL_SECTIONS, SECTIONS
from optimizer.inputs.toml_text import SectionFile, read_toml
from optimizer.model.job import Season, Site

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


_ROOM: Final = ("min_degc", "mean_degc", "max_degc")
MONTHS: Final = tuple(range(1, 13))
_TOLERANCE: Final = 1e-9
_EXAMPLE: Final = 'name = "text", target_hours = 24, tiers = ["a", "b"]'


@dataclass(frozen=True, slots=True)
class SiteFile:
    """The site file's keys that are as they must be, and where each stands."""

    file: str
    folder: Place
    values: Mapping[str, Any]
    seasons: tuple[Season, ...] | None
    lines: Mapping[str, int]
    generator: bool = False

    def fault(self, key: str, found: str, wanted: str) -> Fault:
        """Return a fault at a dotted key."""
        return Fault(self.file, self.lines.get(key), key, found, wanted)


def read_site(path: Path, faults: list[Fault]) -> SiteFile | None:
    """Return what the site file says, or None with the faults that make it unreadable.

    Parameters
    ----------
    path : Path
        A TOML file.
    faults : list of Fault
        Takes what is wrong, in the order of the lines.
    """
    source = read_toml(path, "a site file", faults, example=_EXAMPLE)
    if source is None:
        return None
    return site_from_data(source.file, path.parent, source.content, faults, lines=source.lines)


def site_from_data(
    file: str,
    folder: Place,
    data: dict[str, Any],
    faults: list[Fault],
    *,
    lines: Mapping[str, int] | None = None,
) -> SiteFile:
    """Return the checked keys of a site file's content.

    Parameters
    ----------
    file : str
        The file's name for messages.
    folder : Place
        Where the paths of the site start.
    data : dict
        The sections, as TOML gives them.
    faults : list of Fault
        Takes what is wrong, in the order of the lines.
    lines : mapping of str to int, optional
        The line of each dotted key.
    """
    own: list[Fault] = []
    lines = lines or {}
    sections = dict(data)
    seasons = _read_seasons(file, sections.pop("seasons", None), lines, own)
    values = _read_sections(file, sections, lines, own)
    generator = isinstance(data.get("generator"), dict)
    site = SiteFile(file, folder, values, seasons, lines, generator)
    own.extend(_across(site))
    own.extend(supply_faults(site))
    own.extend(generator_faults(site))
    last = max(lines.values(), default=0) + 1
    faults.extend(sorted(own, key=lambda fault: fault.row or last))
    return site


def make_site(site: SiteFile) -> Site:
    """Return the site; to be called only when no fault was found.

    Parameters
    ----------
    site : SiteFile
        The checked keys.
    """
    known = {field.name for field in fields(Site)}
    given: dict[str, Any] = {
        name: tuple(value) if isinstance(value, list) else value
        for name, value in site.values.items()
        if name in known and name not in {"contracts", "peaks"}
    }
    if "voltages" in given:  # 24.0 equals 24 and is let through
        given["voltages"] = tuple(int(volts) for volts in given["voltages"])
    return Site(
        seasons=site.seasons or (), generator=generator_rules(site), **given, **supply(site)
    )


def _read_sections(
    file: str, data: dict[str, Any], lines: Mapping[str, int], faults: list[Fault]
) -> dict[str, Any]:
    values: dict[str, Any] = {}
    source = SectionFile(file, data, lines)
    for name, content in data.items():
        if name in SECTIONS and not isinstance(content, dict):
            faults.append(Fault(file, lines.get(name), name, shown(content), f"a section [{name}]"))
        elif name not in SECTIONS:
            found = "an unknown section" if isinstance(content, dict) else "a key in no section"
            home = _home(name) if not isinstance(content, dict) else None
            wanted = home or f"a section; {nearest_known(name, [*SECTIONS, 'seasons'])}"
            faults.append(Fault(file, lines.get(name), name, found, wanted))
    for name, model in SECTIONS.items():
        content = data.get(name, {})
        if isinstance(content, dict) and (name in data or name not in OPTIONAL_SECTIONS):
            values.update(_read_section(source, name, content, model, faults))
    return values


def _home(key: str) -> str | None:
    """Return the section that a key belongs to, in words."""
    for section, model in SECTIONS.items():
        if key in model.model_fields:
            return f"it in its section: nearest known: [{section}] {key}"
    return None


def _read_section(
    source: SectionFile,
    section: str,
    content: dict[str, Any],
    model: type[Record],
    faults: list[Fault],
) -> dict[str, Any]:
    columns = columns_of(model)
    for key in content:
        if key not in columns:
            near = nearest(key, [known for known in columns if known not in content])
            elsewhere = None if near else _home(key)
            wanted = elsewhere or f"a key of [{section}]; {nearest_known(key, columns)}"
            faults.append(source.fault(f"{section}.{key}", "an unknown key", wanted))
    given = {key: value for key, value in content.items() if key in columns}
    return valid_values(source, f"{section}.", given, model, faults)


def _read_seasons(
    file: str, content: object, lines: Mapping[str, int], faults: list[Fault]
) -> tuple[Season, ...] | None:
    """Return the seasons, the whole year without the section, or None with faults."""
    if content is None:
        return (Season("year", MONTHS),)
    wanted = "lists of months 1…12 such as winter = [10, 11, 12, 1, 2, 3]"
    if not isinstance(content, dict) or not content:
        found = "no season" if content == {} else shown(content)
        faults.append(Fault(file, lines.get("seasons"), "seasons", found, wanted))
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
            found = shown(months)
            faults.append(Fault(file, lines.get(key), key, found, f"{wanted}, at least one month"))
            continue
        for month in months:
            if month in home:
                found = f"month {month}, already in {home[month]}"
                faults.append(Fault(file, lines.get(key), key, found, "each month once"))
            home.setdefault(month, name)
    missing = [month for month in MONTHS if month not in home]
    if missing and len(faults) == before:
        found = "no season for month " + ", ".join(map(str, missing))
        faults.append(Fault(file, lines.get("seasons"), "seasons", found, "all twelve months"))
    if len(faults) > before:
        return None
    return tuple(Season(name, tuple(months)) for name, months in content.items())


def _across(site: SiteFile) -> list[Fault]:
    """Return the rules between keys that the file breaks."""
    found = []
    values = site.values
    longest = values.get("max_hours", Site.__dataclass_fields__["max_hours"].default)
    target = values.get("target_hours")
    if target is not None and target > longest:
        wanted = f"at most max_hours ({longest} h)"
        found.append(site.fault("resilience.target_hours", str(target), wanted))
    order = [name for name in _ROOM if name in values]
    for low, high in pairwise(order):
        if values[low] > values[high]:
            wanted = f"at least {low} ({values[low]:g} °C)"
            found.append(site.fault(f"battery_room.{high}", f"{values[high]:g}", wanted))
    monthly = values.get("monthly_degc")
    if monthly and len(order) == len(_ROOM):
        found.extend(_monthly_faults(site, monthly))
    for section, key in (
        ("resilience", "tiers"),
        ("limits", "voltages"),
        ("limits", "exclude"),
    ):
        doubled = sorted({str(v) for v in values.get(key, ()) if values[key].count(v) > 1})
        if doubled:
            found.append(site.fault(f"{section}.{key}", f"{', '.join(doubled)} twice", "each once"))
    return found


def _monthly_faults(site: SiteFile, monthly: list[float]) -> Iterator[Fault]:
    low, mean, high = (site.values[name] for name in _ROOM)
    wanted = columns_of(SECTIONS["battery_room"])["monthly_degc"].wanted
    own_mean = sum(monthly) / len(monthly)
    if min(monthly) < low or max(monthly) > high:
        found = f"{min(monthly):g} to {max(monthly):g} °C"
    elif abs(own_mean - mean) > 1 + _TOLERANCE:
        found = f"a mean of {own_mean:.1f} °C"
    else:
        return
    yield site.fault("battery_room.monthly_degc", found, wanted)
