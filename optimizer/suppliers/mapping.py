"""The mapping file of a supplier's list: read, checked, written again."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import date
from pathlib import Path
from typing import Any, Final, Literal

from optimizer.errors import Fault, InputError
from optimizer.files.place import Place
from optimizer.inputs.columns import columns_of
from optimizer.inputs.faults import MISSING, NO_KEY, one_of, shown
from optimizer.inputs.mapping_keys import IGNORE, SKIP, ColumnKeys, ListKeys, WordKeys
from optimizer.inputs.price_tables import TABLES
from optimizer.inputs.sections import check_keys, check_sections
from optimizer.inputs.toml_text import SectionFile, read_toml, toml_sections
from optimizer.model.phrase import Phrase
from optimizer.suppliers.templates import PLACES, is_template
from optimizer.suppliers.units import converts
from optimizer.suppliers.vocabulary import split

_FREE: Final = frozenset({"columns", "filter", "exclude", "words"})
#: Columns of ours that say whose price a row holds; [list] may say it for all rows.
ORIGIN: Final = ("supplier", "price_date")


@dataclass(frozen=True, slots=True)
class ColumnMapping:
    """Where one of our columns comes from: theirs with its conversions, or one value for all."""

    column: str | None = None
    value: str | None = None
    unit: str | None = None
    factor: float = 1.0
    values: Mapping[str, str] = field(default_factory=dict)
    piece: str | None = None
    dates: str | None = None


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a word beside a number means; nothing at all where all is as it is here.

    ``skip`` leaves the row out; ``pieces`` are sold at that price; ``tax`` is in it; ``exchange``
    turns it into our currency; ``unit`` is what the word stands for.
    """

    skip: bool = False
    pieces: float = 1.0
    tax: float = 0.0
    exchange: float | None = None
    unit: str | None = None


@dataclass(frozen=True, slots=True)
class SupplierMapping:
    """How a supplier's list becomes one of our tables."""

    table: str
    currency: str
    columns: Mapping[str, ColumnMapping]
    into: str
    supplier: str | None = None
    price_date: date | None = None
    exchange: float = 1.0
    factor: float = 1.0
    sheet: str | None = None
    heading_row: int | None = None
    heading_rows: int = 1
    decimals: Literal["comma", "point", "mixed"] | None = None
    filter: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    exclude: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    words: Mapping[str, Meaning] = field(default_factory=dict)
    file: str = "mapping"


def read_mapping(path: str | Place) -> SupplierMapping:
    """Return what a mapping file says; InputError with every fault of the file."""
    place = Path(path) if isinstance(path, str) else path
    return _made(read_toml(place, Phrase("a mapping file")))


def mapping_from(content: dict[str, Any]) -> SupplierMapping:
    """Return a mapping from content that a page gathers; InputError with every fault."""
    return _made(SectionFile("mapping", content, {}))


def _made(source: SectionFile) -> SupplierMapping:
    faults: list[Fault] = []
    head = check_sections(source, {"list": ListKeys}, faults, free=_FREE)
    values = head["list"]
    table = values.get("table")
    into = str(values.get("into", values.get("currency")))
    if values.get("currency") != into and "exchange" not in values:
        wanted = Phrase("{into} for one {theirs}", into=into, theirs=str(values.get("currency")))
        faults.append(source.fault("list.exchange", NO_KEY, wanted, MISSING))
    columns = _columns(source, table, values, faults)
    taken, unwanted = (_filters(source, name, faults) for name in ("filter", "exclude"))
    words = _words(source, faults)
    if faults:
        raise InputError(sorted(faults, key=lambda fault: (fault.row is None, fault.row or 0)))
    plain = {key: value for key, value in values.items() if key != "into"}
    return SupplierMapping(
        into=into,
        columns=columns,
        filter=taken,
        exclude=unwanted,
        words=words,
        file=source.file,
        **plain,
    )


def _columns(
    source: SectionFile, table: str | None, head: Mapping[str, Any], faults: list[Fault]
) -> dict[str, ColumnMapping]:
    content = source.content.get("columns")
    if not isinstance(content, dict) or not content:
        wanted = Phrase('a section [columns] with lines such as battery = "Article"')
        faults.append(source.fault("columns", Phrase("none"), wanted, MISSING))
        return {}
    known = TABLES[table].columns if table in TABLES else None
    said = {*head, *source.content.get("list", {})}
    found: dict[str, ColumnMapping] = {}
    for name, given in content.items():
        key = f"columns.{name}"
        if known is not None and name not in known:
            wanted = one_of(Phrase("a column of {table}", table=str(table)), name, known)
            faults.append(source.fault(key, Phrase("an unknown column"), wanted))
            continue
        written = {"column": given} if isinstance(given, str) else given
        if not isinstance(written, dict):
            wanted = Phrase('a column of theirs, or {{column = "…", unit = "…"}}, or {{value = …}}')
            faults.append(source.fault(key, shown(given), wanted))
            continue
        before = len(faults)
        if "pattern" in written:  # of an earlier version: a text could stop the reading for hours
            wanted = Phrase('piece = "# Ah*" in its place: # marks what is taken, * is any text')
            faults.append(source.fault(f"{key}.pattern", shown(written["pattern"]), wanted))
            continue
        values = check_keys(source, key, written, ColumnKeys, faults)
        if len(faults) == before:
            _check_column(source, key, name, values, faults)
        if len(faults) == before:
            fixed = values.pop("value", None)
            text = None if fixed is None else fixed if isinstance(fixed, str) else f"{fixed}"
            found[name] = ColumnMapping(value=text, **values)
    for name, column in (known or {}).items():
        if column.required and name not in content:
            wanted = Phrase("where {name} comes from", name=name)
            faults.append(source.fault(f"columns.{name}", NO_KEY, wanted, MISSING))
        elif name in ORIGIN and name not in content and name not in said:
            wanted = Phrase(
                "{value}, here or as a column of theirs in [columns]: each price tells whose it is "
                "and since when",
                value=columns_of(ListKeys)[name].wanted,
            )
            faults.append(source.fault(f"list.{name}", NO_KEY, wanted, MISSING))
    return found


def _check_column(
    source: SectionFile, key: str, name: str, values: dict[str, Any], faults: list[Fault]
) -> None:
    if ("column" in values) == ("value" in values):
        found, wanted = Phrase("both or neither"), Phrase("either column or value")
        faults.append(source.fault(key, found, wanted))
    table = source.content.get("list", {}).get("table")
    if isinstance(values.get("value"), dict | list):
        faults.append(
            source.fault(f"{key}.value", shown(values["value"]), Phrase("one number or one text"))
        )
    unit = values.get("unit")
    if unit is not None and table in TABLES:
        column = TABLES[table].columns[name]
        if not converts(unit, column):
            wanted = Phrase("a unit for {name}, which is in {unit}", name=name, unit=column.unit)
            faults.append(source.fault(key, shown(unit), wanted))
    piece = values.get("piece")
    if piece is not None and piece not in PLACES and not is_template(piece):
        wanted = columns_of(ColumnKeys)["piece"].wanted
        faults.append(source.fault(key, shown(piece), wanted))


def _filters(source: SectionFile, section: str, faults: list[Fault]) -> dict[str, tuple[str, ...]]:
    content = source.content.get(section, {})
    wanted = Phrase('lines such as "Group" = ["Batteries", "*demo*"]: what the cell says')
    if not isinstance(content, dict):
        faults.append(source.fault(section, shown(content), wanted))
        return {}
    found = {}
    for name, words in content.items():
        listed = [words] if isinstance(words, str) else words
        if not isinstance(listed, list) or not all(isinstance(word, str) for word in listed):
            faults.append(source.fault(f"{section}.{name}", shown(words), wanted))
            continue
        found[name] = tuple(listed)
    return found


def _words(source: SectionFile, faults: list[Fault]) -> dict[str, Meaning]:
    content = source.content.get("words", {})
    wanted = Phrase(
        '"ignore", "skip", or one of {{pieces = 2}}, {{tax = 0.2}}, {{exchange = 0.9}}, '
        '{{unit = "kg"}}'
    )
    if not isinstance(content, dict):
        faults.append(source.fault("words", shown(content), wanted))
        return {}
    found = {}
    for word, given in content.items():
        key = f"words.{word}"
        if not split(word):
            faults.append(source.fault(key, shown(word), Phrase("a word or a sign")))
        elif given in (IGNORE, SKIP):
            found[word] = Meaning(skip=given == SKIP)
        elif isinstance(given, dict) and given:
            found[word] = Meaning(**check_keys(source, key, given, WordKeys, faults))
        else:
            faults.append(source.fault(key, shown(given), wanted))
    return found


def content_of(mapping: SupplierMapping) -> dict[str, Any]:
    """Return a mapping as the content of its file, every column written out."""
    usual = SupplierMapping("", "", {}, "")
    head = {
        name: value
        for name in columns_of(ListKeys)
        if (value := getattr(mapping, name)) != getattr(usual, name)
    }
    if mapping.into == mapping.currency:
        head.pop("into", None)
        head.pop("exchange", None)
    columns = {name: _changed(one, ColumnMapping()) for name, one in mapping.columns.items()}
    content = {"list": head, "columns": columns}
    for name in ("filter", "exclude"):
        if listed := getattr(mapping, name):
            content[name] = {theirs: list(words) for theirs, words in listed.items()}
    if mapping.words:
        content["words"] = {
            word: SKIP if one.skip else _changed(one, Meaning()) or IGNORE
            for word, one in mapping.words.items()
        }
    return content


def _changed(one: ColumnMapping | Meaning, usual: ColumnMapping | Meaning) -> dict[str, Any]:
    held = asdict(usual)
    return {key: value for key, value in asdict(one).items() if value != held[key]}


def mapping_toml(mapping: SupplierMapping) -> str:
    """Return a mapping as its file, to be used again for the next list."""
    content = content_of(mapping)
    content["columns"] = {
        name: one["column"] if set(one) == {"column"} else one
        for name, one in content["columns"].items()
    }
    return toml_sections(content)
