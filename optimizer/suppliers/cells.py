"""One cell of a supplier's list → a number and what is said beside it; nothing goes unread."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Final

from optimizer.inputs.cells import CellError, WrittenNumber
from optimizer.inputs.columns import MONEY, Column
from optimizer.inputs.decimals import bare_number
from optimizer.inputs.toml_text import toml_value
from optimizer.model.phrase import Phrase
from optimizer.suppliers.mapping import ColumnMapping, Meaning, SupplierMapping
from optimizer.suppliers.scanning import Scan, decimals_of, scan, value_of
from optimizer.suppliers.templates import PLACES, taken
from optimizer.suppliers.units import converts, per_length
from optimizer.suppliers.vocabulary import (
    Doubt,
    Words,
    codes,
    folded,
    is_sign,
    phrases_in,
    signs_of,
    split,
    unit_of,
    units_in_heading,
)

_ONE_NUMBER: Final = Phrase(
    "one number, or in the mapping which is meant, such as piece = {example}",
    example='"first" or "# x * x *"',
)
_NO_RATE: Final = Phrase(
    "its hours too, such as (C20) or 20 h; [exclude] leaves rows without them out, and a second "
    "mapping in the same run takes those at the hours you know, such as {line}",
    line="rate_h = { value = 20 }",
)
_MIXED: Final = Phrase("a number that shows its decimals, such as 1234 or 1.234,00")


class Question(Exception):
    """A word that only the mapping can answer for: which, why, and whether the heading says it."""

    def __init__(self, word: str, doubt: Doubt, *, in_heading: bool = False) -> None:
        self.word, self.doubt, self.in_heading = word, doubt, in_heading
        super().__init__(word, doubt)


class LeftOut(Exception):
    """A row that the mapping leaves out for a word in it."""


@dataclass(frozen=True, slots=True)
class Said:
    """A number of a cell, its unit where one is named, and what words beside it mean."""

    value: Decimal
    unit: str | None
    meanings: Mapping[str, Meaning] = field(default_factory=dict)


def is_money(column: Column) -> bool:
    """Tell whether a column of ours holds money."""
    return MONEY in column.unit


class Reader:
    """Reads the cells of one list by its mapping; ``comma`` tells how it writes decimals."""

    def __init__(self, mapping: SupplierMapping, *, comma: bool) -> None:
        self.mapping, self.comma = mapping, comma
        self._own = {split(word): (word, one) for word, one in mapping.words.items()}
        self._skips = any(one.skip for one in mapping.words.values())

    def number(self, text: str, column: Column, one: ColumnMapping, heading: str) -> Said:
        """Return what a cell says; CellError where it holds no number, Question, LeftOut.

        A workbook's own numbers have a point.
        """
        if self._skips:
            self._leave_out(phrases_in(scan(text).words, self._own)[0])
        is_written = isinstance(text, WrittenNumber)
        if column.name == "rate_h" and one.piece is None:
            rates = set(scan(text).rates)
            if len(rates) == 1:  # 70 Ah (C20): at 20 hours
                return Said(value_of(rates.pop(), comma=False), column.unit)
            is_shared = one.column == self.mapping.columns["capacity_ah"].column
            if is_shared and not hours_in(text):  # its number is no hours
                raise CellError(_NO_RATE)
        per, text = per_length(text, column)
        number, words = self._chosen(text, column, one)
        meanings, rest = self._understood(words)
        if is_money(column):
            self._currency(rest)
            heading_per, heading = per_length(heading, column)
            unit = per or one.unit or heading_per
            more, doubts, others = phrases_in(scan(heading).words, self._own)
            if doubts:
                raise Question(" ".join(doubts[0][0]), doubts[0][1], in_heading=True)
            meanings |= dict(self._own[phrase] for phrase in more)
            if not rest:
                self._heading_currency(others, meanings)
        else:
            unit = per or self._unit(rest, column) or self._meant_unit(meanings) or one.unit
            unit = unit or self._heading_unit(heading, column)
        if unit is not None and not converts(unit, column):
            raise Question(unit, Doubt.UNIT)
        value = value_of(number, comma=not is_written and self._comma(number))
        return Said(value, unit, {w: m for w, m in meanings.items() if m != Meaning()})

    def name(self, text: str) -> dict[str, Meaning]:
        """Return what words in a row's name say of its price."""
        words = scan(text).words
        meant, doubts, _ = phrases_in(words, self._own)
        for phrase, _ in doubts:
            if phrase in _SEVERAL_IN_NAMES:
                raise Question(" ".join(phrase), Doubt.PIECES)
        found = dict(self._own[phrase] for phrase in meant)
        self._leave_out(meant)
        return found

    def currency_cell(self, text: str) -> dict[str, Meaning]:
        """Return what a cell in a column of currencies says of the row's price."""
        own = self._own.get(split(text))
        if own is not None:
            return dict([own])
        if folded(text) in signs_of(self.mapping.currency) or not text:
            return {}
        raise Question(text, Doubt.CURRENCY)

    def _chosen(self, text: str, column: Column, one: ColumnMapping) -> tuple[str, tuple[str, ...]]:
        """Return the number that is meant, and the words that must be understood."""
        found = scan(text)
        if found.words and not found.numbers:  # on request
            wanted = Phrase(
                '{wanted}; under [words] of the mapping {word} = "skip" leaves the row out',
                wanted=column.wanted,
                word=toml_value(text),
            )
            raise CellError(wanted)
        if one.piece is not None:
            return _piece(text, found, one.piece, money=is_money(column))
        if len(found.numbers) == 1:
            return found.numbers[0], found.words
        if column.unit == "mm²" and found.numbers[1:] == ("0",):  # 2/0: a gauge thicker than 0
            return str(1 - int(found.numbers[0])), found.words
        fitting = [
            place
            for place, words in enumerate(found.after)
            if words and converts(unit_of(words[0]) or words[0], column)
        ]
        if is_money(column) or len(fitting) != 1:
            raise CellError(_ONE_NUMBER if len(found.numbers) > 1 else "")
        return found.numbers[fitting[0]], found.after[fitting[0]]

    def _comma(self, number: str) -> bool:
        """Tell whether a number's decimals have a comma; CellError where it alone could tell."""
        if self.mapping.decimals != "mixed":
            return self.comma
        shows = decimals_of(number)
        if shows == "either":
            raise CellError(_MIXED)
        return shows == "comma"

    def _leave_out(self, meant: Iterable[Words]) -> None:
        """Raise LeftOut for a phrase that the mapping skips, whatever is asked of the cell."""
        if any(self._own[phrase][1].skip for phrase in meant):
            raise LeftOut

    def _understood(self, words: Sequence[str]) -> tuple[dict[str, Meaning], list[str]]:
        meant, doubts, rest = phrases_in(words, self._own)
        found = dict(self._own[phrase] for phrase in meant)
        if doubts:
            phrase, doubt = doubts[0]
            raise Question(_as_written(words, phrase), doubt)
        return found, rest

    def _currency(self, rest: Sequence[str]) -> None:
        """Check the words beside a price: the list's currency, or none."""
        for word in rest:
            if folded(word) not in signs_of(self.mapping.currency):
                is_other = is_sign(word) or word in codes()
                raise Question(word, Doubt.CURRENCY if is_other else Doubt.UNKNOWN)

    def _heading_currency(self, words: Sequence[str], meanings: Mapping[str, Meaning]) -> None:
        """Check that a heading names no other currency."""
        if any(one.exchange for one in meanings.values()):
            return
        for word in words:
            is_other = is_sign(word) or word in codes()
            if is_other and folded(word) not in signs_of(self.mapping.currency):
                raise Question(word, Doubt.CURRENCY, in_heading=True)

    @staticmethod
    def _unit(rest: Sequence[str], column: Column) -> str | None:
        if not rest:
            return None
        joined = "/".join(rest)
        for unit in (joined, unit_of(rest[0]) or rest[0]):
            if converts(unit, column):
                others = () if unit == joined else rest[1:]
                break
        else:
            known = unit_of(rest[0]) is not None
            raise Question(rest[0], Doubt.UNIT if known else Doubt.UNKNOWN)
        for word in others:
            if (unit_of(word) or word) != unit:
                raise Question(word, Doubt.UNIT if unit_of(word) else Doubt.UNKNOWN)
        return unit

    @staticmethod
    def _meant_unit(meanings: Mapping[str, Meaning]) -> str | None:
        return next((one.unit for one in meanings.values() if one.unit), None)

    def _heading_unit(self, heading: str, column: Column) -> str | None:
        """Return the unit that a heading names for its column."""
        if (per := per_length(heading, column)[0]) is not None:
            return per
        meant, _, _ = phrases_in(scan(heading).words, self._own)
        mine = dict(self._own[phrase] for phrase in meant)
        named = [unit for unit in units_in_heading(heading) if split(unit) not in self._own]
        fitting = [unit for unit in named if converts(unit, column)]
        if (own := self._meant_unit(mine)) is not None:
            return own
        if column.unit in fitting:
            return column.unit
        if len(fitting) == 1:
            return fitting[0]
        if named and column.unit and not is_count(column):
            raise Question(named[0], Doubt.UNIT, in_heading=True)
        return None


#: Words in a name that tell of several sold as one.
_SEVERAL_IN_NAMES: Final = frozenset(
    split(phrase)
    for phrase in (
        *("pair", "pairs", "paar", "paire", "coppia", "er set", "er pack", "set of", "pack of"),
        *("box of", "lot de", "juego de", "pack de", "set da", "pak van"),
    )
)


def hours_in(text: str) -> frozenset[float]:
    """Return the hours that a cell tells its capacity for.

    >>> sorted(hours_in("70 Ah (C20)") | hours_in("60 Ah / 10 h")), hours_in("5,12 kWh")
    ([10.0, 20.0], frozenset())
    """
    found = scan(text)
    timed = [
        number
        for number, words in zip(found.numbers, found.after, strict=True)
        if words and unit_of(words[0]) == "h"
    ]
    hours = map(bare_number, (*found.rates, *timed))
    return frozenset(one for one in hours if one is not None)


def is_count(column: Column) -> bool:
    """Tell whether a column of ours counts things, whatever they are called."""
    return column.unit in {"units", "strings", "phases", "pieces"}


def _piece(text: str, found: Scan, piece: str, *, money: bool) -> tuple[str, tuple[str, ...]]:
    """Return the number that a mapping's piece means; beside a price all words count."""
    if piece in PLACES:
        place = PLACES[piece]
        if place >= len(found.numbers):
            raise CellError(Phrase("a cell with so many numbers: piece = {piece}", piece=piece))
        number, words = found.numbers[place], found.after[place][:1]
        known = tuple(word for word in words if unit_of(word))
        return number, found.words if money else known
    number = taken(text, piece, numeric=True) or ""
    if not number:
        raise CellError(Phrase("text that fits {piece}", piece=piece))
    at = next((place for place, one in enumerate(found.numbers) if one == number), None)
    words = () if at is None else found.after[at][:1]
    return number, found.words if money else tuple(word for word in words if unit_of(word))


def _as_written(words: Sequence[str], phrase: tuple[str, ...]) -> str:
    """Return the words of a phrase as the cell writes them."""
    plain = tuple(map(folded, words))
    for place in range(len(plain)):
        if plain[place : place + len(phrase)] == phrase:
            return " ".join(words[place : place + len(phrase)])
    return " ".join(phrase)
