"""The as-built file: what was put in place, for assessing it in later years."""

import re
from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from optimizer.answers.installed import existing_of
from optimizer.inputs.as_built_keys import model_columns, sign_of
from optimizer.inputs.toml_text import toml_value
from optimizer.model.design import Design
from optimizer.model.job import Battery, Generator, Inverter, Job
from optimizer.quote.company import Company
from optimizer.quote.handover import first_life_years


def as_built(job: Job, design: Design, paid: Decimal, company: Company, day: date) -> str:
    """Return the design file (TOML) of what is put in place at the start, and was paid for it.

    Battery, inverter and generator are written out column by column: the price list of a later
    year may not have them any more.
    """
    bank, existing = design.banks[0], existing_of(design)
    contract = [f"contract_w = {toml_value(design.contract.power_w)}"] if design.contract else []
    fuel = [f"fuel_l = {toml_value(design.fuel_l)}"] if design.generator else []
    lines = [
        f"# As built: {_comment(job.site.name)}, quoted on {day.isoformat()}.",
        "# Read a year later with: keeplit assess SITE THIS_FILE, age_years set to 1.",
        f"units = {design.inverter_units}",
        f"strings = {bank.strings}",
        f"voltage = {design.voltage_v}",
        "age_years = 0",
        f"paid = {paid}",
        *contract,
        *fuel,
        "",
        "[as_built]",
        *(f"{key} = {toml_value(value)}" for key, value in _plan(job, design, company, day)),
        "# The serial numbers, one for each unit, as they stand on the type plates:",
        f"inverter_serials = {toml_value([''] * design.inverter_units)}",
        f"battery_serials = {toml_value([''] * bank.units)}",
        "# Leave this as it is: it tells whether what stands there is what was planned.",
        f"design = {toml_value(sign_of(existing))}",
    ]
    models: dict[str, Inverter | Battery | Generator] = {
        "inverter": design.inverter,
        "battery": bank.battery,
    }
    if design.generator is not None:
        models["generator"] = design.generator
    for name, model in models.items():
        columns = [f"{key} = {toml_value(value)}" for key, value in model_columns(model)]
        lines += ["", f"[{name}]", *columns]
    return "\n".join(lines) + "\n"


def _plan(job: Job, design: Design, company: Company, day: date) -> Iterator[tuple[str, object]]:
    """Yield the quote, the hours and the wiring."""
    if company.number is not None:
        yield "quote", company.number
    if company.revision > 1:
        yield "revision", company.revision
    yield "day", day
    yield "site", job.site.name
    yield "planned_hours", design.hours
    yield "bank_years", first_life_years(design)
    if design.wiring is not None:
        yield "fuse_a", design.wiring.fuse.rating_a
        yield "cable_mm2", design.wiring.cable.section_mm2
        yield "cable_pairs", design.wiring.runs
        yield "cable_m", job.site.battery_cable_m


def file_name(design: Design, company: Company, site: str) -> str:
    """Return a name that no other site and no other quote has.

    >>> from types import SimpleNamespace as made
    >>> file_name(made(hours=18), made(number="Q-7", revision=2), "Gull Row 14, Varrowmouth")
    'as-built-Gull-Row-14-Varrowmouth-Q-7-r2-18h.toml'
    """
    parts = ["as-built", _plain(site)]
    if company.number is not None:
        parts.append(_plain(company.number))
    if company.revision > 1:
        parts.append(f"r{company.revision}")
    return "-".join([*parts, f"{design.hours}h"]) + ".toml"


def _plain(text: str) -> str:
    return re.sub(r"\W+", "-", text).strip("-")


def _comment(text: str) -> str:
    return "".join(letter if letter.isprintable() else " " for letter in text)
