"""Words beside numbers in suppliers' lists: units, and what needs an answer or says nothing.

English, German, French, Spanish, Portuguese, Italian, Dutch and Swedish. A word that is not here
needs an answer too: nothing in a cell of numbers goes unread.
"""

import unicodedata
from collections.abc import Iterable, Sequence
from enum import StrEnum
from functools import lru_cache
from typing import Final

from optimizer.suppliers.scanning import scan

Words = tuple[str, ...]


class Doubt(StrEnum):
    """Why a word beside a number needs an answer."""

    FROM = "from"
    PIECES = "pieces"
    TAX = "tax"
    CURRENCY = "currency"
    UNIT = "unit"
    UNKNOWN = "unknown"


#: The least price of a range.
_FROM: Final = (
    "from; starting at; as low as; ab; à partir de; dès; desde; a partir de; a partire da; da;"
    " vanaf; från; fr o m"
)
#: A price of more than one.
_PIECES: Final = (
    "pair; pairs; per pair; set; set of; pack; pack of; box of; dozen; paar; pro paar; je paar;"
    " er; er set; er pack; satz; ve; vpe; paire; la paire; lot de; jeu; par; el par; juego;"
    " juego de; pack de; o par; conjunto; coppia; la coppia; set da; confezione; per paar; stel;"
    " pak van; per par; paret; förpackning"
)
#: A price with tax in it.
_TAX: Final = (
    "incl vat; inc vat; vat incl; incl tax; tax included; vat included; including vat; inkl mwst;"
    " inkl ust; incl mwst; mwst inkl; brutto; gross; ttc; tva incluse; tva comprise; iva incluido;"
    " con iva; iva incl; iva incluído; com iva; iva inclusa; ivato; incl btw; inkl moms; ink moms;"
    " incl % vat; including % vat; inkl % mwst; inkl % ust; incl % mwst; % tva incluse;"
    " % iva incluido; con % iva; % iva incluído; com % iva; % iva inclusa; incl % btw; inkl % moms"
)
#: Words that leave a net price of one piece, or a plain figure, what it is.
_SILENT: Final = (
    "net; netto; ex vat; excl vat; plus vat; each; ea; per piece; piece; pc; pcs; per unit; unit;"
    " exkl mwst; excl mwst; zzgl mwst; ohne mwst; stk; st; stck; stück; pro stück; je stück;"
    " ht; hors taxe; pièce; la pièce; par pièce; par unité; l unité;"
    " sin iva; ud; uds; por unidad; unidad;"
    " sem iva; por unidade; unidade; iva esclusa; cad; cadauno; pezzo;"
    " excl btw; per stuk; stuk; exkl moms; per styck; dc; vdc"
)
#: Headings of a column that holds the currency of each row.
CURRENCY_HEADINGS: Final = frozenset(
    ["currency", "währung", "devise", "monnaie", "moneda", "moeda", "valuta"]
)
#: How units are written, in small letters, and what the library of units calls them.
_UNITS: Final = {
    "kg": "kg kgs kilo kilos",
    "g": "g gr",
    "lb": "lb lbs pound pounds libras libbre",
    "oz": "oz ounce ounces",
    "mm": "mm",
    "cm": "cm",
    "m": "m",
    "in": 'in inch inches zoll " ″ ” pouce pouces pulgada pulgadas polegada polegadas pollici tum',
    "ft": "ft foot feet",
    "V": "v volt volts vdc",
    "Ah": "ah amph",
    "kWh": "kwh",
    "Wh": "wh",
    "W": "w watt watts",
    "kW": "kw",
    "VA": "va",
    "kVA": "kva",
    "A": "a amp amps ampere amperes",
    "kA": "ka",
    "h": "h hr hrs hour hours std stunden heures horas ore uur timmar",
    "ms": "ms",
    "s": "s sec",
    "min": "min mins minutes minuten",
    "years": "year years yr yrs jahr jahre ans año años anni anos jaar år",
    "months": "month months monat monate mois mes meses mesi maanden månader",
    "%": "%",
    "°C": "°c",
    "°F": "°f",
    "l": "l litre liter litres liters",
    "mm²": "mm² mm2 qmm",
    "AWG": "awg",
}
#: Units that headings have other words like: they count behind a bracket or a comma only.
_SHORT: Final = frozenset(["a", "an", "g", "h", "in", "l", "m", "min", "ore", "s", "v", "w"])
_SPELLED: Final = {
    spelling: unit for unit, spellings in _UNITS.items() for spelling in spellings.split()
}


def folded(word: str) -> str:
    """Return a word as words are compared: small letters, points left out.

    >>> folded("MwSt.")
    'mwst'
    """
    return word.casefold().strip(".")


def split(phrase: str) -> Words:
    """Return the words of a phrase as they are compared.

    >>> split("l'unité"), split("inkl. MwSt.")
    (('l', 'unité'), ('inkl', 'mwst'))
    """
    return tuple(map(folded, scan(phrase).words))


def _phrases(kind: Doubt | None, text: str) -> dict[Words, Doubt | None]:
    return {split(phrase): kind for phrase in text.split(";")}


_KNOWN: Final = {
    **_phrases(Doubt.FROM, _FROM),
    **_phrases(Doubt.PIECES, _PIECES),
    **_phrases(Doubt.TAX, _TAX),
    **_phrases(None, _SILENT),
}
_LONGEST: Final = max(map(len, _KNOWN))


def phrases_in(
    words: Sequence[str], own: Iterable[Words]
) -> tuple[list[Words], list[tuple[Words, Doubt]], list[str]]:
    """Part a cell's words into phrases that the mapping knows, that are in doubt, and the rest.

    The mapping's ``own`` phrases, split, go before those known here.

    >>> phrases_in(["ab", "€", "inkl", "MwSt"], [("ab",)])
    ([('ab',)], [(('inkl', 'mwst'), <Doubt.TAX: 'tax'>)], ['€'])
    """
    mine = set(own)
    longest = max([_LONGEST, *map(len, mine)])
    plain = list(map(folded, words))
    meant: list[Words] = []
    doubts: list[tuple[Words, Doubt]] = []
    rest: list[str] = []
    place = 0
    while place < len(plain):
        for length in range(min(longest, len(plain) - place), 0, -1):
            phrase = tuple(plain[place : place + length])
            if phrase in mine:
                meant.append(phrase)
            elif phrase in _KNOWN:
                kind = _KNOWN[phrase]
                if kind is not None:
                    doubts.append((phrase, kind))
            else:
                continue
            place += length
            break
        else:
            rest.append(words[place])
            place += 1
    return meant, doubts, rest


def unit_of(word: str) -> str | None:
    """Return the unit that a word stands for, as the library of units calls it.

    >>> unit_of("Zoll"), unit_of("KG"), unit_of("Paar")
    ('in', 'kg', None)
    """
    return _SPELLED.get(folded(word))


@lru_cache
def units_in_heading(heading: str) -> tuple[str, ...]:
    """Return the units that a heading names: in brackets, behind a comma, or at its end.

    >>> units_in_heading("Weight (lb)"), units_in_heading("Kapazität in kWh")
    (('lb',), ('kWh',))
    >>> units_in_heading("Length, in"), units_in_heading("Charge min")
    (('in',), ())
    """
    found: list[str] = []
    text = heading.replace("]", ")").replace("[", "(")
    plain, *apart = text.split("(")
    head, *behind = plain.split(",")
    for piece in [*(one.partition(")")[0] for one in apart), *behind]:
        found += filter(None, (unit_of(word) for word in piece.replace("/", " ").split()))
    tails = [head, *(one.partition(")")[2] for one in apart)]
    for tail in tails:
        last = tail.split()[-1:] or [""]
        if (unit := unit_of(last[0])) and last[0].casefold() not in _SHORT:
            found.append(unit)
    return tuple(dict.fromkeys(found))


@lru_cache
def signs_of(currency: str) -> frozenset[str]:
    """Return how a currency is written: its code, its signs and its names of one word.

    >>> "euros" in signs_of("EUR"), "us$" in signs_of("USD"), "kr" in signs_of("SEK")
    (True, True, True)
    """
    from babel import Locale, UnknownLocaleError  # noqa: PLC0415 - start-up time
    from babel.languages import get_official_languages  # noqa: PLC0415 - start-up time

    found = {currency}
    # the first two letters of a code are its country's, but for currencies of several
    spoken = get_official_languages(currency[:2], de_facto=True)[:3]
    for language in ("en", *(f"{one}_{currency[:2]}" for one in spoken)):
        try:
            locale = Locale.parse(language)
        except (UnknownLocaleError, ValueError):
            continue
        found |= {
            name
            for name in (locale.currency_symbols.get(currency), locale.currencies.get(currency))
            if name and " " not in name
        }
    signs = {name[-1] for name in found if is_sign(name)}
    found |= signs | {currency[:2] + sign for sign in signs if sign == "$"}
    names = {folded(name) for name in found}
    return frozenset(names | {f"{name}s" for name in names if name.isalpha()})


def is_sign(word: str) -> bool:
    """Tell whether a word ends in a currency's sign.

    >>> is_sign("US$"), is_sign("kg")
    (True, False)
    """
    return word != "" and unicodedata.category(word[-1]) == "Sc"


@lru_cache
def codes() -> frozenset[str]:
    """Return the codes of all currencies."""
    from babel import Locale  # noqa: PLC0415 - start-up time

    return frozenset(Locale("en").currencies)
