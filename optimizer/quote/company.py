"""Who makes the quote and on which terms: a small TOML file, checked whole."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum, auto
from pathlib import Path
from typing import Any, Final, Literal

from optimizer.errors import Fault, InputError
from optimizer.files.limits import LOGO_BYTES, LOGO_PIXELS, megabytes
from optimizer.files.pictures import wrong_with
from optimizer.files.place import Held
from optimizer.files.reading import read_bytes
from optimizer.formulas.rounding import exact
from optimizer.inputs.company_keys import SECTIONS, SHARES_TOLERANCE, ExtraKeys
from optimizer.inputs.faults import shown as quoted
from optimizer.inputs.sections import check_keys, check_sections
from optimizer.inputs.toml_text import SectionFile, read_toml
from optimizer.model.phrase import Phrase
from optimizer.model.shown import shown

LOGO_WANTED: Final = Phrase(
    "a PNG or JPEG picture of at most {size} and {pixels} million pixels",
    size=megabytes(LOGO_BYTES),
    pixels=f"{LOGO_PIXELS / 1e6:g}",
)


#: What of a company a quote shows to programs.
SHOWN: Final = ("quote", "revision", "company", "customer", "terms", "not_included")


class StageKind(StrEnum):
    """When a payment is due."""

    WITH_ORDER = auto()
    AT_HANDOVER = auto()
    NAMED = auto()


@dataclass(frozen=True, slots=True)
class Stage:
    """One payment: when it is due, by the company's own name for it, its share of the total."""

    kind: StageKind
    name: str
    share: Decimal


@dataclass(frozen=True, slots=True)
class Share:
    """A share of a sum under the company's own name for it."""

    name: str
    share: Decimal


@dataclass(frozen=True, slots=True)
class Extra:
    """A line of the company's own: how much of it, by which unit, at which price for one.

    ``unit`` is "piece", "hour" or "metre"; ``tax`` its own rate, None for that of its heading.
    """

    item: str
    quantity: Decimal
    unit: str
    price: Decimal
    heading: str | None = None
    tax: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Company:
    """The sender of a quote, its terms, and how it writes.

    ``markup`` tells whether the markup stands inside the prices or on lines of its own;
    ``box_or_ventilation`` and ``protective_devices`` are works of the price list moved under
    another heading; ``owned`` are models the customer has already, with their number;
    ``monitor`` tells whether a battery monitor and an energy meter are sold, which the yearly
    check then reads; ``markup_goods`` to ``tax_labour`` are shares in the place of the site's.
    """

    name: str | None = field(default=None, metadata=shown("company"))
    address: tuple[str, ...] = ()
    telephone: str | None = None
    contact: tuple[str, ...] = ()
    registration: str | None = None
    logo: bytes | None = None
    number: str | None = field(default=None, metadata=shown("quote"))
    revision: int = 1
    customer: str | None = None
    customer_address: tuple[str, ...] = ()
    cover: tuple[str, ...] = ()
    delivery: str | None = None
    valid_days: int = 30
    locale: str = "en"
    markup: Literal["line", "spread"] = "spread"
    markup_goods: float | None = None
    markup_labour: float | None = None
    tax_goods: float | None = None
    tax_labour: float | None = None
    discounts: tuple[Share, ...] = ()
    extras: tuple[Extra, ...] = ()
    owned: tuple[tuple[str, int], ...] = ()
    terms: tuple[str, ...] = ()
    not_included: tuple[str, ...] = ()
    monitor: bool = False
    stages: tuple[Stage, ...] = ()
    box_or_ventilation: tuple[str, ...] = ()
    protective_devices: tuple[str, ...] = ()
    file: str = ""


def read_company(path: str | Path) -> Company:
    """Read the company file, TOML; only the company's name is required.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    return _made(read_toml(Path(path), "a company file"), Path(path).parent)


def company_from(
    content: dict[str, Any], file: str = "company", lines: Mapping[str, int] | None = None
) -> Company:
    """Return a company from the content of such a file, as a page gathers it; raise likewise."""
    return _made(SectionFile(file, content, lines or {}), Path())


def _made(source: SectionFile, folder: Path) -> Company:
    faults: list[Fault] = []
    values = check_sections(source, SECTIONS, faults, free=frozenset({"owned", "extra"}))
    logo = _logo(source, folder, values["company"].pop("logo", None), faults)
    stages = _stages(source, values["payment"], faults)
    discounts = _discounts(source, values["prices"].pop("discounts", {}), faults)
    extras, owned = _extras(source, faults), _owned(source, faults)
    locale = values["quote"].get("locale")
    if locale is not None and not known_locale(locale):
        wanted = Phrase("a locale that is known, such as en_IE, de or pt_BR")
        faults.append(source.fault("quote.locale", quoted(locale), wanted))
    if faults:
        raise InputError(sorted(faults, key=lambda fault: (fault.row is None, fault.row or 0)))
    sections = ("company", "quote", "prices", "headings")
    given: dict[str, Any] = {key: one for name in sections for key, one in values[name].items()}
    plain: dict[str, Any] = {
        key: tuple(value) if isinstance(value, list) else value for key, value in given.items()
    }
    return Company(
        **plain,
        logo=logo,
        stages=stages,
        discounts=discounts,
        extras=extras,
        owned=owned,
        file=source.file,
    )


def _discounts(
    source: SectionFile, found: Mapping[str, float], faults: list[Fault]
) -> tuple[Share, ...]:
    if any(not 0 < one < 1 for one in found.values()) or sum(found.values()) >= 1:
        wanted = Phrase("shares above 0 and together below 1, e.g. 0.05 for 5%")
        faults.append(source.fault("prices.discounts", quoted(found), wanted))
    return tuple(Share(name, exact(one)) for name, one in found.items())


def _extras(source: SectionFile, faults: list[Fault]) -> tuple[Extra, ...]:
    content = source.content.get("extra", [])
    if not isinstance(content, list) or not all(isinstance(one, dict) for one in content):
        wanted = Phrase('tables [[extra]], each with item, quantity, unit ("piece"), price')
        faults.append(source.fault("extra", quoted(content), wanted))
        return ()
    known = len(faults)
    rows = [check_keys(source, "extra", one, ExtraKeys, faults) for one in content]
    if len(faults) > known:
        return ()
    numbers = ("quantity", "price", "tax")
    plain: list[dict[str, Any]] = [
        {key: exact(one) if key in numbers else one for key, one in row.items()} for row in rows
    ]
    return tuple(Extra(**row) for row in plain)


def _owned(source: SectionFile, faults: list[Fault]) -> tuple[tuple[str, int], ...]:
    content = source.content.get("owned", {})
    right = isinstance(content, dict) and all(
        isinstance(one, int) and not isinstance(one, bool) and one > 0 for one in content.values()
    )
    if not right:
        wanted = Phrase('models of the price list and how many of each, such as "Gable" = 1')
        faults.append(source.fault("owned", quoted(content), wanted))
        return ()
    return tuple(content.items())


def _logo(source: SectionFile, folder: Path, name: str | None, faults: list[Fault]) -> bytes | None:
    if name is None:
        return None
    wrong: str | None
    try:
        raw = read_bytes(folder / name, LOGO_WANTED, LOGO_BYTES)
        wrong = wrong_with(raw)
    except InputError as error:
        wrong = error.faults[0].found
    if wrong is None:
        return raw
    said = Phrase("{name}, {wrong}", name=quoted(name), wrong=wrong)
    faults.append(source.fault("company.logo", said, LOGO_WANTED))
    return None


def check_logo(name: str, raw: bytes) -> None:
    """Raise InputError for a logo that is no PNG or JPEG, is damaged, or has too many pixels."""
    wrong = wrong_with(read_bytes(Held({name: raw}, name), LOGO_WANTED, LOGO_BYTES))
    if wrong is not None:
        raise InputError([Fault(name, None, None, wrong, LOGO_WANTED)])


def _stages(
    source: SectionFile, values: Mapping[str, Any], faults: list[Fault]
) -> tuple[Stage, ...]:
    deposit, stages = values.get("deposit"), values.get("stages")
    if deposit is None and stages is None:
        return ()
    shares = [(StageKind.WITH_ORDER, "", deposit)] if deposit else []
    shares += [(StageKind.NAMED, name, share) for name, share in (stages or {}).items()]
    bad = [(name, share) for _, name, share in shares if not 0 < share <= 1]
    if bad:
        name, share = bad[0]
        found = Phrase("{share} for {name}", share=f"{share:g}", name=quoted(name))
        wanted = Phrase("shares above 0 and at most 1, e.g. 0.3 for 30%")
        faults.append(source.fault("payment.stages", found, wanted))
        return ()
    total = sum(share for *_, share in shares)
    if stages is None and total < 1:
        shares.append((StageKind.AT_HANDOVER, "", float(1 - exact(total))))
    elif abs(total - 1) > SHARES_TOLERANCE:
        found = Phrase("{total} in all", total=f"{total:g}")
        wanted = Phrase("deposit and stages that make up 1 together")
        faults.append(source.fault("payment.stages", found, wanted))
    return tuple(Stage(kind, name, exact(share)) for kind, name, share in shares)


def known_locale(name: str) -> bool:
    """Tell whether a locale is known.

    >>> known_locale("pt_BR"), known_locale("xx_YY")
    (True, False)
    """
    from babel import Locale, UnknownLocaleError  # noqa: PLC0415 - start-up time

    try:
        Locale.parse(name, sep="-" if "-" in name else "_")
    except (UnknownLocaleError, ValueError, TypeError):
        return False
    return True
