"""Who makes the quote and on which terms: a small TOML file, checked whole."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum, auto
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal

from optimizer.errors import Fault, InputError
from optimizer.files.limits import LOGO_BYTES, LOGO_PIXELS, megabytes
from optimizer.files.pictures import wrong_with
from optimizer.files.place import Held
from optimizer.files.reading import read_bytes
from optimizer.formulas.rounding import exact
from optimizer.inputs.company_keys import SECTIONS, SHARES_TOLERANCE
from optimizer.inputs.faults import shown
from optimizer.inputs.sections import SectionFile, check_sections, read_toml
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from collections.abc import Mapping

LOGO_WANTED: Final = Phrase(
    "a PNG or JPEG picture of at most {size} and {pixels} million pixels",
    size=megabytes(LOGO_BYTES),
    pixels=f"{LOGO_PIXELS / 1e6:g}",
)


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
class Company:
    """The sender of a quote, its terms, and how it writes.

    ``markup`` tells whether the markup stands on a line of its own or inside the prices;
    ``headings`` holds works of the price list moved under another heading; ``ac_voltage_v`` is
    the supply between line and neutral [V].
    """

    name: str | None = None
    address: tuple[str, ...] = ()
    contact: tuple[str, ...] = ()
    registration: str | None = None
    logo: bytes | None = None
    number: str | None = None
    customer: str | None = None
    valid_days: int = 30
    locale: str = "en"
    markup: Literal["line", "spread"] = "line"
    terms: tuple[str, ...] = ()
    not_included: tuple[str, ...] = ()
    ac_voltage_v: float = 230.0
    stages: tuple[Stage, ...] = ()
    box_or_ventilation: tuple[str, ...] = ()
    protective_devices: tuple[str, ...] = ()
    file: str = ""


def read_company(path: str | Path) -> Company:
    """Read the company file.

    Parameters
    ----------
    path : str or Path
        TOML with the sections [company], [quote], [payment] and [headings]; only the company's
        name is required.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    faults: list[Fault] = []
    source = read_toml(Path(path), "a company file", faults)
    if source is None:
        raise InputError(faults)
    return _made(source, Path(path).parent, faults)


def company_from(content: dict[str, Any], folder: str | Path = ".") -> Company:
    """Return a company from the content of such a file, as a page gathers it.

    Parameters
    ----------
    content : dict
        Sections and keys.
    folder : str or Path
        Where a logo's path starts.

    Raises
    ------
    InputError
        With every fault.
    """
    return _made(SectionFile("company", content, {}), Path(folder), [])


def _made(source: SectionFile, folder: Path, faults: list[Fault]) -> Company:
    values = check_sections(source, SECTIONS, faults)
    logo = _logo(source, folder, values["company"].pop("logo", None), faults)
    stages = _stages(source, values["payment"], faults)
    locale = values["quote"].get("locale")
    if locale is not None and not known_locale(locale):
        wanted = "a locale that is known, such as en_IE, de or pt_BR"
        faults.append(source.fault("quote.locale", shown(locale), wanted))
    if faults:
        raise InputError(sorted(faults, key=lambda fault: (fault.row is None, fault.row or 0)))
    given: dict[str, Any] = values["company"] | values["quote"] | values["headings"]
    plain: dict[str, Any] = {
        key: tuple(value) if isinstance(value, list) else value for key, value in given.items()
    }
    return Company(**plain, logo=logo, stages=stages, file=source.file)


def _logo(source: SectionFile, folder: Path, name: str | None, faults: list[Fault]) -> bytes | None:
    if name is None:
        return None
    found: list[Fault] = []
    raw = read_bytes(folder / name, found, LOGO_WANTED, LOGO_BYTES)
    wrong = found[0].found if raw is None else wrong_with(raw)
    if wrong is None:
        return raw
    said = Phrase("{name}, {wrong}", name=shown(name), wrong=wrong)
    faults.append(source.fault("company.logo", said, LOGO_WANTED))
    return None


def check_logo(name: str, raw: bytes) -> None:
    """Refuse a logo that cannot be drawn.

    Raises
    ------
    InputError
        It is no PNG or JPEG, is damaged, or has too many pixels.
    """
    faults: list[Fault] = []
    held = read_bytes(Held({name: raw}, name), faults, LOGO_WANTED, LOGO_BYTES)
    wrong = None if held is None else wrong_with(held)
    if wrong is not None:
        faults.append(Fault(name, None, None, wrong, LOGO_WANTED))
    if faults:
        raise InputError(faults)


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
        found = f"{share:g} for {shown(name)}"
        wanted = "shares above 0 and at most 1, e.g. 0.3 for 30%"
        faults.append(source.fault("payment.stages", found, wanted))
        return ()
    total = sum(share for *_, share in shares)
    if stages is None and total < 1:
        shares.append((StageKind.AT_HANDOVER, "", float(1 - exact(total))))
    elif abs(total - 1) > SHARES_TOLERANCE:
        wanted = "deposit and stages that make up 1 together"
        faults.append(source.fault("payment.stages", f"{total:g} in all", wanted))
    return tuple(Stage(kind, name, exact(share)) for kind, name, share in shares)


def known_locale(name: str) -> bool:
    """Tell whether a locale is known.

    >>> known_locale("pt_BR"), known_locale("xx_YY")
    (True, False)
    """
    from babel import Locale, UnknownLocaleError  # noqa: PLC0415

    try:
        Locale.parse(name, sep="-" if "-" in name else "_")
    except (UnknownLocaleError, ValueError, TypeError):
        return False
    return True
