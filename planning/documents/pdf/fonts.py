"""The typeface of every printed paper, and what it cannot print.

Source Sans Pro (SIL Open Font License) comes with the package font-source-sans-pro and is embedded in every
file. It holds Latin with accents, Greek, Cyrillic, fractions and arrows; its figures are all equally wide.
"""

import unicodedata
from functools import cache
from importlib.resources import files

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

TEXT = "Kit-Text"
STRONG = "Kit-Strong"
MISSING = "?"  # stands for a character the typeface lacks; an empty frame or a blank would be overlooked

FILES = {TEXT: "SourceSansPro-Regular.ttf", STRONG: "SourceSansPro-Semibold.ttf"}
SPELLED_AS = {
    "\N{HYPHEN}": "-",
    "\N{NON-BREAKING HYPHEN}": "-",
    "\N{NARROW NO-BREAK SPACE}": "\N{NO-BREAK SPACE}",
}


@cache
def load_fonts() -> tuple[TTFont, ...]:
    """Read the typeface from its package, once, and return its weights."""
    folder = files("font_source_sans_pro") / "files"
    fonts = tuple(TTFont(name, str(folder / file)) for name, file in FILES.items())
    for font in fonts:
        pdfmetrics.registerFont(font)
    return fonts


def text_width(text: str, font: str, size: float) -> float:
    """Return how wide a text runs, in points."""
    load_fonts()
    return pdfmetrics.stringWidth(text, font, size)


def unprintable(text: str) -> set[str]:
    """Return the characters of a text that no paper can show, as those of scripts the typeface lacks."""
    if text.isascii():  # most of a large roster
        return set()
    whole = composed(text)
    if whole.translate(PRINTED).count(MISSING) == whole.count(MISSING):  # quickly told
        return set()
    return {one for one in whole if one != MISSING and PRINTED[ord(one)] == MISSING}


def printable(text: str) -> str:
    """Return a text as papers print it: accents joined to letters, each missing character a question mark."""
    if text.isascii() and text.isprintable():
        return text
    return composed(text).translate(PRINTED)


def composed(text: str) -> str:
    """Join accents to their letters, as far as such letters exist."""
    return text if text.isascii() else unicodedata.normalize("NFC", text)


class _Printed(dict[int, str]):
    """What becomes of each character, by its number; worked out when it is first met."""

    def __missing__(self, code: int) -> str:
        self[code] = printed(chr(code))
        return self[code]


PRINTED = _Printed()


def printed(character: str) -> str:
    """Return what stands for one character: itself, a plainer spelling, nothing, or MISSING."""
    character = SPELLED_AS.get(character, character)
    if unicodedata.category(character) in ("Cc", "Zl", "Zp"):
        return " "
    if unicodedata.category(character) == "Cf":  # joiners and direction marks; soft hyphens
        return ""
    return character if ord(character) in glyphs() else MISSING


@cache
def glyphs() -> frozenset[int]:
    """Return the numbers of the characters that every weight of the typeface holds."""
    return frozenset.intersection(*(frozenset(font.face.charToGlyph) for font in load_fonts()))
