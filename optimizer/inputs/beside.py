"""What a site may have beside battery and inverter: a supply contract, peaks, a generator."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any, Final

from optimizer.errors import Fault
from optimizer.inputs.cells import DAY_H, windows
from optimizer.inputs.columns import columns_of
from optimizer.inputs.faults import CONFLICT, shown
from optimizer.inputs.site_file import SiteFile
from optimizer.inputs.site_keys import GeneratorKeys
from optimizer.model.job import Contract, GeneratorRules, Peak
from optimizer.model.outages import Window
from optimizer.model.phrase import Phrase

#: A month has so many minutes [min]: a twelfth of 8,760 hours.
MONTH_MIN: Final = 43_800.0


def supply(site: SiteFile) -> dict[str, Any]:
    """Return what the section [supply] says in other words than `Site`."""
    values = site.values
    return {
        "supply_voltage_v": site.value("supply.voltage_v"),
        "contracts": tuple(
            Contract(power_w=float(power), cost_year=float(cost))
            for power, cost in values.get("contracts", ())
        ),
        "peaks": tuple(
            Peak(power_w=float(power), minutes=float(minutes), times_a_month=float(times))
            for power, minutes, times in values.get("peaks", ())
        ),
    }


def supply_faults(site: SiteFile) -> Iterator[Fault]:
    """Yield what is wrong in [supply] beyond single values."""
    steps, peaks = site.values.get("contracts", ()), site.values.get("peaks", ())
    if any(not (low[0] < high[0] and low[1] < high[1]) for low, high in pairwise(steps)):
        yield site.fault("supply.contracts", shown(steps))
    if peaks and "contracts" not in site.source.content["supply"]:
        found, wanted = Phrase("it without contracts"), Phrase("contracts with it, or neither")
        yield site.fault("supply.peaks", found, wanted, CONFLICT)
    minutes = sum(peak[1] * peak[2] for peak in peaks)
    if minutes > MONTH_MIN:
        found = Phrase("{minutes} minutes of peaks a month", minutes=f"{minutes:g}")
        wanted = Phrase("no more minutes than a month has, {most}", most=f"{MONTH_MIN:.0f}")
        yield site.fault("supply.peaks", found, wanted)


def generator_rules(site: SiteFile) -> GeneratorRules | None:
    """Return what the section [generator] says, or None without it; free of faults."""
    if not site.generator:
        return None
    given = {key: site.values[key] for key in columns_of(GeneratorKeys) if key in site.values}
    return GeneratorRules(**given | {"quiet": _quiet(site)})


def _quiet(site: SiteFile) -> Window | None:
    text = site.values.get("quiet")
    return None if text is None else windows(text.strip())[0]


def generator_faults(site: SiteFile) -> Iterator[Fault]:
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
