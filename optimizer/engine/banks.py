"""Banks as columns: which ones the site allows, and what each can give and take."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from optimizer.formulas.rate import fixed_time_share, uneven_load_factors
from optimizer.formulas.temperature import cold_share
from optimizer.formulas.tolerance import at_least
from optimizer.formulas.windows import Stretches
from optimizer.model.arrays import Bools, Floats, Ints
from optimizer.model.job import Battery, Job
from optimizer.model.requirement import Requirement

#: What rules a bank out, whatever stands beside it.
BANK_REQUIREMENTS = frozenset(
    {Requirement.STRINGS, Requirement.MASS, Requirement.COLD, Requirement.VENTED}
)


@dataclass(frozen=True)
class Banks:
    """Banks that the site allows, one array element each, in the price list's order.

    ``models`` are the battery models, each at each depth it may be drawn to; ``model`` tells
    which one a bank is of, ``cold`` what share of its capacity the coldest day leaves.
    """

    models: tuple[Battery, ...]
    model: Ints
    series: Ints
    strings: Ints
    voltage_v: Ints
    cold: Floats

    def __len__(self) -> int:
        return len(self.model)

    @cached_property
    def _columns(self) -> dict[str, Floats]:
        return {}

    def column(self, name: str) -> Floats:
        """Return a field of each bank's battery."""
        if name not in self._columns:
            every = np.array([getattr(one, name) for one in self.models], dtype=float)
            self._columns[name] = every[self.model]
        return self._columns[name]

    def battery(self, index: int) -> Battery:
        """Return the battery of a bank."""
        return self.models[int(self.model[index])]

    @cached_property
    def units(self) -> Ints:
        """Battery units in each bank."""
        return self.series * self.strings

    @cached_property
    def kinds(self) -> tuple[Ints, Ints]:
        """A bank of each model and number of units, and which of these each bank is like."""
        keys = self.model * (int(self.units.max(initial=0)) + 1) + self.units
        _, kinds, which = np.unique(keys, return_index=True, return_inverse=True)
        return kinds, which

    @cached_property
    def vented(self) -> Bools:
        """Which banks are vented."""
        return np.array([one.gas == "vented" for one in self.models], dtype=bool)[self.model]

    @cached_property
    def built_into(self) -> NDArray[np.str_]:
        """The inverter in the same box, empty where there is none."""
        return np.array([one.built_into or "" for one in self.models], dtype=np.str_)[self.model]

    @cached_property
    def capacity_ah(self) -> Floats:
        """Rated capacity of all strings [Ah]."""
        return np.asarray(self.strings * self.column("capacity_ah"))

    @cached_property
    def string_v(self) -> Floats:
        """Nominal voltage of a string, as the battery states it [V]."""
        return np.asarray(self.series * self.column("voltage_v"))

    @cached_property
    def charging_v(self) -> Floats:
        """Voltage of a string while it is charged [V]."""
        return np.asarray(self.series * self.column("charging_v"))

    @cached_property
    def stored_wh(self) -> Floats:
        """Rated energy [Wh]."""
        return np.asarray(self.string_v * self.capacity_ah)

    @cached_property
    def discharge_a(self) -> Floats:
        """Current that each bank gives throughout [A]."""
        return np.asarray(self.column("discharge_rate_max") * self.capacity_ah)

    @cached_property
    def start_a(self) -> Floats:
        """Current that each bank gives for the seconds of a start [A]."""
        return np.asarray(self.column("start_rate_max") * self.capacity_ah)

    @cached_property
    def accepts_a(self) -> Floats:
        """Charging current that each bank takes at most [A]."""
        return np.asarray(self.column("charge_rate_max") * self.capacity_ah)

    @cached_property
    def _energy_columns(self) -> bytes:
        columns = map(self.column, ("max_dod", "rate_h", "peukert"))
        return np.stack((self.stored_wh * self.cold, *columns)).tobytes()

    def usable_wh(self, stretches: Stretches, carried_hours: int) -> Floats:
        """Return the usable energy of every bank when new, peaks of the supply apart [Wh]."""
        return _usable_wh(self._energy_columns, stretches, carried_hours)


@lru_cache(maxsize=16)
def _distinct(peukert: bytes) -> tuple[Floats, Ints]:
    distinct, which = np.unique(np.frombuffer(peukert), return_inverse=True)
    return distinct, which


@lru_cache(maxsize=256)  # the curve's hours, and as many again: other prices change none of it
def _usable_wh(energy_columns: bytes, stretches: Stretches, carried_hours: int) -> Floats:
    cold_wh, max_dod, rate_h, peukert = np.frombuffer(energy_columns).reshape(4, -1)
    distinct, which = _distinct(peukert.tobytes())
    uneven = uneven_load_factors(stretches, distinct)[which]
    rate = fixed_time_share(carried_hours / max_dod, rate_h, peukert)
    return np.asarray(cold_wh * max_dod * rate / uneven)


def build_banks(job: Job, family: str | None, lifted: frozenset[Requirement]) -> Banks:
    """Return every bank that the site allows, of one family where one is named."""
    site = job.site
    models: list[Battery] = []
    rows: list[tuple[int, int, int, int, float]] = []
    for battery in job.catalog.batteries:
        cold = _capacity_share(job, battery, family, lifted)
        if cold is None:
            continue
        layouts = list(_layouts(job, battery, lifted))
        for one in battery.at_each_depth():
            rows += [(len(models), *layout, cold) for layout in layouts]
            models.append(one)
    model, series, voltage_v, most = (
        np.array([row[field] for row in rows], dtype=np.int64) for field in range(4)
    )
    every = np.repeat(np.arange(len(rows)), most)
    strings = np.arange(len(every)) - np.repeat(np.cumsum(most) - most, most) + 1
    mass_kg = np.array([one.mass_kg for one in models], dtype=float)
    if site.max_bank_kg is not None and Requirement.MASS not in lifted:
        light = at_least(site.max_bank_kg, series[every] * strings * mass_kg[model[every]])
        every, strings = every[light], strings[light]
    return Banks(
        models=tuple(models),
        model=model[every],
        series=series[every],
        strings=strings,
        voltage_v=voltage_v[every],
        cold=np.array([row[4] for row in rows], dtype=float)[every],
    )


def _layouts(
    job: Job, battery: Battery, lifted: frozenset[Requirement]
) -> Iterator[tuple[int, int, int]]:
    """Yield units in series, system voltage and most strings."""
    site, most = job.site, battery.max_parallel
    if site.max_parallel is not None and Requirement.STRINGS not in lifted:
        most = min(most, site.max_parallel)
    for voltage_v in sorted(set(site.voltages)):
        series, rest = divmod(voltage_v, battery.class_v)
        if not rest and 1 <= series <= battery.max_series:
            yield series, voltage_v, most


def _capacity_share(
    job: Job, battery: Battery, family: str | None, lifted: frozenset[Requirement]
) -> float | None:
    """Return the share of capacity left in the cold, None where the site rules the model out."""
    site = job.site
    ruled_out = (
        (family is not None and battery.family != family)
        or battery.battery in site.exclude
        or battery.chemistry in site.exclude
        or (
            battery.gas == "vented" and not site.vented_allowed and Requirement.VENTED not in lifted
        )
    )
    if ruled_out:
        return None
    share = cold_share(battery.cold_points, site.min_degc)
    if Requirement.COLD in lifted:
        return battery.cold_points[0][1] if share is None else share
    return share if site.min_degc >= battery.min_charge_degc else None
