"""Fonts of the PDF: the shipped one, and others of this machine for letters that it lacks.

Letters that no font here has stop the work, and so do scripts whose letters join, turn or run from
right to left: setting them one by one would print them wrong.
"""

from collections.abc import Iterator
from functools import cache
from itertools import groupby
from pathlib import Path
from typing import Final
from unicodedata import normalize
from xml.sax.saxutils import escape

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfbase.ttfonts import TTFError, TTFont

from optimizer.errors import Fault, InputError
from optimizer.model.phrase import Phrase

#: Where the shipped font is.
FONTS: Final = Path(__file__).with_name("fonts")
REGULAR: Final = "KeeplitSans"
STRONG: Final = "KeeplitSans-Semibold"

_ENDINGS: Final = frozenset({".ttf", ".ttc"})
#: Blocks of scripts that need shaping or run from right to left (Unicode 15, from memory).
_SHAPED: Final = (
    (0x0590, 0x08FF),  # Hebrew, Arabic, Syriac, Thaana, N'Ko
    (0x0900, 0x109F),  # the scripts of India, Thai, Lao, Tibetan, Myanmar
    (0x1780, 0x18AF),  # Khmer, Mongolian
    (0x1A20, 0x1AAF),  # Tai Tham
    (0xFB1D, 0xFDFF),  # presentation forms of Hebrew and Arabic
    (0xFE70, 0xFEFC),
)


@cache
def set_up_fonts() -> frozenset[int]:
    """Make the shipped font known, once; return the letters it has."""
    regular = TTFont(REGULAR, FONTS / "KeeplitSans-Regular.ttf")
    pdfmetrics.registerFont(regular)
    pdfmetrics.registerFont(TTFont(STRONG, FONTS / "KeeplitSans-Semibold.ttf"))
    pdfmetrics.registerFontFamily(
        REGULAR, normal=REGULAR, bold=STRONG, italic=REGULAR, boldItalic=STRONG
    )
    return frozenset(regular.face.charToGlyph)


def printable(text: str) -> str:
    """Return a text as it is printed: letters composed, every one of them in some font here.

    Raises
    ------
    InputError
        A letter that no font here has, or a script that has to be shaped.
    """
    composed = normalize("NFC", text).replace("\N{NARROW NO-BREAK SPACE}", "\N{NO-BREAK SPACE}")
    for letter in composed:
        if ord(letter) not in set_up_fonts() and letter != "\n":
            is_shaped = any(low <= ord(letter) <= high for low, high in _SHAPED)
            if is_shaped or _font_of(letter) is None:
                raise _cannot(text, letter, is_shaped=is_shaped)
    return composed


def markup(text: str) -> str:
    """Return a text as a paragraph takes it; letters of another font are marked as such."""
    found = []
    for font, run in _runs(text):
        shown = escape(run).replace("\n", "<br/>")
        found.append(shown if font == REGULAR else f'<font name="{font}">{shown}</font>')
    return "".join(found)


def width_of(text: str, font: str, size: float) -> float:
    """Return how wide a text is [points] in a shipped font, or others where that one lacks it."""
    runs = [(run, font if other == REGULAR else other) for other, run in _runs(text)]
    return sum(float(stringWidth(run, name, size)) for run, name in runs)


def _runs(text: str) -> Iterator[tuple[str, str]]:
    """Yield fonts and what of a text is printed in them, one after the other."""
    for font, letters in groupby(printable(text), key=_font_of):
        yield font or REGULAR, "".join(letters)


def font_for(text: str) -> str:
    """Return the font in which a text is drawn that stands in one: the last it needs."""
    return [REGULAR, *(font for font, _ in _runs(text) if font != REGULAR)][-1]


def cut(text: str, room: float, size: float) -> str:
    """Return a text cut at a word where it is too long for its room [points]."""
    shown = printable(text)
    while shown and width_of(f"{shown}…", REGULAR, size) > room:
        shown = shown.rpartition(" ")[0] if " " in shown else shown[:-1]
    return shown if shown == printable(text) else f"{shown.rstrip(' ,:;')}…"


@cache
def _font_of(letter: str) -> str | None:
    """Return the font that a letter is printed in: the shipped one, else the first that has it."""
    if letter == "\n" or ord(letter) in set_up_fonts():
        return REGULAR
    for path in _fonts_here():
        if ord(letter) in _letters(path):
            return _known(path)
    return None


@cache
def _fonts_here() -> tuple[Path, ...]:
    """Return the fonts of this machine, plain sans ones first; the same order each time."""
    files = [path for folder in rl_config.TTFSearchPath for path in Path(folder).rglob("*")]
    found = {path for path in files if path.suffix.lower() in _ENDINGS}

    def place(path: Path) -> tuple[bool, bool, str]:
        name = path.stem.lower()
        fancy = any(word in name for word in ("bold", "italic", "oblique", "light", "cond", "mono"))
        return fancy, "sans" not in name, str(path)

    return tuple(sorted(found, key=place))


@cache
def _letters(path: Path) -> frozenset[int]:
    """Return the letters of a font file; none of one that a PDF cannot hold."""
    try:
        return frozenset(TTFont(f"try-{path.stem}", path).face.charToGlyph)
    except (TTFError, OSError, ValueError, KeyError):
        return frozenset()


@cache
def _known(path: Path) -> str:
    name = f"Other-{path.stem}"
    pdfmetrics.registerFont(TTFont(name, path))
    return name


def _cannot(text: str, letter: str, *, is_shaped: bool) -> InputError:
    found = Phrase(
        "{text}, with {letter} (U+{code}), which no font here has",
        text=text,
        letter=letter,
        code=f"{ord(letter):04X}",
    )
    wanted = Phrase(
        "a TrueType font with that letter on this machine, such as the free Droid Sans Fallback; "
        "or the workbook (.xlsx), which needs none"
    )
    if is_shaped:
        found = Phrase(
            "{text}, in a script whose letters join or run from right to left", text=text
        )
        wanted = Phrase("the same in Latin letters; or the workbook (.xlsx), which can hold it")
    return InputError([Fault("PDF", None, None, found, wanted)])
