"""What a site may have beside battery and inverter: a supply contract, peaks, a generator."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any, Final

from optimizer.errors import Fault
from optimizer.inputs.cells import DAY_H, CellError, windows
from optimizer.inputs.columns import columns_of
from optimizer.inputs.faults import CONFLICT, hinted, shown
from optimizer.inputs.site_file import SiteFile
from optimizer.inputs.site_keys import GeneratorKeys
from optimizer.model.job import Contract, GeneratorRules, Peak
from optimizer.model.outages import Window
from optimizer.model.phrase import Phrase

#: A month has so many minutes [min]: a twelfth of 8,760 hours.
MONTH_MIN: Final = 43_800.0
_LONGEST_PEAK_MIN: Final = 240.0
_MOST_PEAKS: Final = 3000.0


def supply(site: SiteFile) -> dict[str, Any]:
    """Return what the section [supply] says, as `Site` takes it; without the section nothing."""
    values = site.values
    names = {"voltage_v": "supply_voltage_v", "service_fuse_a": "service_fuse_a"}
    said = {field: values[key] for key, field in names.items() if key in values}
    return said | {
        "contracts": tuple(
            Contract(power_w=float(power), cost_year=float(cost))
            for power, cost in values.get("contracts", ())
        ),
        "peaks": tuple(
            Peak(power_w=float(power), minutes=float(minutes), times_a_month=float(times))
            for power, minutes, times in values.get("peaks", ())
        ),
    }


def _is_step(step: list[float]) -> bool:
    match step:
        case [power_w, cost_year]:
            return power_w > 0 and cost_year >= 0
    return False


def _is_peak(peak: list[float]) -> bool:
    match peak:
        case [power_w, minutes, times]:
            return power_w > 0 and 0 < minutes <= _LONGEST_PEAK_MIN and 0 < times <= _MOST_PEAKS
    return False


def supply_faults(site: SiteFile) -> Iterator[Fault]:
    """Yield what is wrong in [supply] beyond single values."""
    steps, peaks = site.values.get("contracts", ()), site.values.get("peaks", ())
    rising = all(
        before[0] < after[0] and before[1] < after[1]
        for before, after in pairwise(steps if all(map(_is_step, steps)) else ())
    )
    if not (rising and all(map(_is_step, steps))):
        yield site.fault("supply.contracts", shown(steps))
    if peaks and "contracts" not in site.values:
        found, wanted = Phrase("it without contracts"), Phrase("contracts with it, or neither")
        yield site.fault("supply.peaks", found, wanted, CONFLICT)
    for peak in peaks:
        if not _is_peak(peak):
            yield site.fault("supply.peaks", shown(peak))
            return
    minutes = sum(peak[1] * peak[2] for peak in peaks)
    if minutes > MONTH_MIN:
        found = Phrase("{minutes} minutes of peaks a month", minutes=f"{minutes:g}")
        wanted = Phrase("no more minutes than a month has, {most}", most=f"{MONTH_MIN:.0f}")
        yield site.fault("supply.peaks", found, wanted)


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
    found = windows(site.values["quiet"].strip())
    if len(found) != 1 or any(not hour.is_integer() for hour in found[0]):
        raise CellError
    return found[0]


def generator_faults(site: SiteFile) -> Iterator[Fault]:
    """Yield what is wrong in [generator] beyond single values."""
    try:
        quiet = _quiet(site)
    except CellError as problem:
        wanted = hinted(columns_of(GeneratorKeys)["quiet"].wanted, problem.hint)
        yield site.fault("generator.quiet", shown(site.values["quiet"]), wanted)
        return
    quiet_h = 0.0 if quiet is None else quiet[1] - quiet[0]
    if quiet_h > DAY_H - 1:
        wanted = Phrase("at least one hour of the day not quiet")
        yield site.fault("generator.quiet", shown(site.values["quiet"]), wanted)
    start_h = site.value("generator.start_after_h")
    if start_h + quiet_h < 1:
        wanted = Phrase("at least 1 without a quiet window: the bank carries until it runs")
        yield site.fault("generator.start_after_h", str(start_h), wanted)
