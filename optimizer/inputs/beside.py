"""What a site may have beside battery and inverter: a supply contract, peaks, a generator."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from optimizer.inputs.cells import DAY_H, CellError, windows
from optimizer.inputs.columns import columns_of
from optimizer.inputs.faults import shown
from optimizer.inputs.site_keys import SECTIONS
from optimizer.model.job import Contract, GeneratorRules, Peak

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.errors import Fault
    from optimizer.inputs.site import SiteFile
    from optimizer.model.job import Window

#: A month has so many minutes [min]: a twelfth of 8,760 hours.
MONTH_MIN: Final = 43_800.0
_LONGEST_PEAK_MIN: Final = 240.0
_MOST_PEAKS: Final = 3000.0
_STEP_FIELDS: Final = 2
_PEAK_FIELDS: Final = 3


def supply(site: SiteFile) -> dict[str, Any]:
    """Return what the section [supply] says, as `Site` takes it; without the section nothing."""
    values = site.values
    said = {"supply_voltage_v": values["voltage_v"]} if "voltage_v" in values else {}
    return said | {
        "contracts": tuple(Contract(*map(float, step)) for step in values.get("contracts", ())),
        "peaks": tuple(Peak(*map(float, peak)) for peak in values.get("peaks", ())),
    }


def supply_faults(site: SiteFile) -> Iterator[Fault]:
    """Yield what is wrong in [supply] beyond single values."""
    steps, peaks = site.values.get("contracts", ()), site.values.get("peaks", ())
    known = columns_of(SECTIONS["supply"])
    if not all(len(step) == _STEP_FIELDS and step[0] > 0 and step[1] >= 0 for step in steps) or any(
        before[0] >= after[0] or before[1] >= after[1] for before, after in pairwise(steps)
    ):
        yield site.fault("supply.contracts", shown(steps), known["contracts"].wanted)
    if peaks and "contracts" not in site.values:
        yield site.fault("supply.peaks", "it without contracts", "contracts with it, or neither")
    for peak in peaks:
        if not (
            len(peak) == _PEAK_FIELDS
            and peak[0] > 0
            and 0 < peak[1] <= _LONGEST_PEAK_MIN
            and 0 < peak[2] <= _MOST_PEAKS
        ):
            yield site.fault("supply.peaks", shown(peak), known["peaks"].wanted)
            return
    minutes = sum(peak[1] * peak[2] for peak in peaks)
    if minutes > MONTH_MIN:
        wanted = f"no more minutes than a month has, {MONTH_MIN:.0f}"
        yield site.fault("supply.peaks", f"{minutes:g} minutes of peaks a month", wanted)


def generator_rules(site: SiteFile) -> GeneratorRules | None:
    """Return what the section [generator] says, or None without it; free of faults."""
    if not site.generator:
        return None
    names = ("fuel_price", "max_stored_l", "start_after_h", "fuel_keeps_years")
    given = {name: site.values[name] for name in names if name in site.values}
    return GeneratorRules(quiet=_quiet(site), **given)


def _quiet(site: SiteFile) -> Window | None:
    """Return the quiet window; raise where it is not one of whole hours."""
    if "quiet" not in site.values:
        return None
    (window,) = windows(site.values["quiet"].strip())
    if any(not hour.is_integer() for hour in window):
        raise CellError
    return window


def generator_faults(site: SiteFile) -> Iterator[Fault]:
    """Yield what is wrong in [generator] beyond single values."""
    try:
        quiet = _quiet(site)
    except ValueError as problem:
        hint = f" ({problem})" if isinstance(problem, CellError) and str(problem) else ""
        wanted = columns_of(SECTIONS["generator"])["quiet"].wanted + hint
        yield site.fault("generator.quiet", shown(site.values["quiet"]), wanted)
        return
    quiet_h = 0.0 if quiet is None else quiet[1] - quiet[0]
    if quiet_h > DAY_H - 1:
        yield site.fault(
            "generator.quiet", shown(site.values["quiet"]), "at least one hour of the day not quiet"
        )
    start_h = site.values.get(
        "start_after_h", GeneratorRules.__dataclass_fields__["start_after_h"].default
    )
    if start_h + quiet_h < 1:
        wanted = "at least 1 where there is no quiet window: the bank carries until it runs"
        yield site.fault("generator.start_after_h", f"{start_h}", wanted)
