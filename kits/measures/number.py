"""Numbers as people type them, read exactly, and exact numbers as text. Shared by every measure beside it."""

import re
import unicodedata
from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import pairwise
from typing import ClassVar

MAX_TEXT = 200  # longer text is no measure, and keeps int() far from Python's own limit on digits
MAX_PLACES = 30  # decimals longer than this are printed as fractions

_SPELLINGS = str.maketrans(
    {
        **dict.fromkeys("‐‑‒–—−", "-"),
        **dict.fromkeys("″”", '"'),
        **dict.fromkeys("′’", "'"),
        **dict.fromkeys("⁄∕", "/"),
        **dict.fromkeys("\ufeff\u200b", None),  # invisible marks that come along when pasting
    }
)
_NUMBER = re.compile(
    r"(?:(?P<whole>[0-9][0-9,]*)(?:-\ ?|\ ))?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)|(?P<decimal>[0-9.,]*[0-9])"
)
_UNIT = re.compile(r" ?([^\W\d_]+\.?|''|[\"']) ?")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?")
_DECIMAL_COMMA = re.compile(r"[0-9]+,[0-9]+")
_PLAIN = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+")


class UnreadableError(ValueError):
    """Why a text cannot be read, without the text itself; each measure turns it into its own MeasureError."""


class MeasureError(ValueError):
    """A text is not the measure it should be.

    read: the text. why: what is wrong with it. allowed: what would be right. str() says all three.
    """

    what: ClassVar[str] = "a measure"
    allowed: ClassVar[str] = ""

    def __init__(self, read: str, why: str) -> None:
        super().__init__(read, why)
        self.read = read
        self.why = why

    def __str__(self) -> str:
        shown = self.read if len(self.read) <= 60 else self.read[:60] + "…"
        return f"{shown!r} is not {self.what}: {self.why}. {self.allowed}"


def tidy(text: str) -> str:
    """Return the text in one spelling: plain spaces, hyphens, primes, slashes; `¼` as ` 1/4`; lower case."""
    if len(text) > MAX_TEXT:
        raise UnreadableError(f"it is longer than {MAX_TEXT} characters")
    opened = text if text.isascii() else "".join(map(_open_fraction, text))
    return " ".join(opened.translate(_SPELLINGS).split()).casefold()


def _open_fraction(char: str) -> str:
    kind, *codes = unicodedata.decomposition(char).split() or [""]
    return " " + "".join(chr(int(code, 16)) for code in codes) if kind == "<fraction>" else char


def plain_digits(digits: str) -> str:
    """Return digits with thousands commas or a decimal comma as plain digits with a decimal point.

    `1,250` could be either; a comma before exactly three digits is a thousands comma. `0,125` and `1250,500`
    cannot be thousands, so there it is a decimal comma.
    """
    if _THOUSANDS.fullmatch(digits):
        digits = digits.replace(",", "")
    elif _DECIMAL_COMMA.fullmatch(digits):
        digits = digits.replace(",", ".")
    if not _PLAIN.fullmatch(digits):
        raise UnreadableError(f"{digits!r} is not a number")
    return digits


def take_number(text: str) -> tuple[Fraction, str]:
    """Split tidied text into the number it begins with (`9 1/4`, `9-1/4`, `5/4`, `1,250.5`) and the rest."""
    match = _NUMBER.match(text)
    if match is None:
        raise UnreadableError(_no_number(text))
    rest = text[match.end() :]
    if match["decimal"]:
        return Fraction(plain_digits(match["decimal"])), rest
    return _mixed(match["whole"], int(match["top"]), int(match["bottom"])), rest


def _no_number(text: str) -> str:
    if not text:
        return "it is empty"
    if text.startswith("-"):
        return f"a minus sign stands before {text[1:].strip()!r}"
    return f"there is no number where {text!r} stands"


def _mixed(whole: str | None, top: int, bottom: int) -> Fraction:
    if bottom == 0:
        raise UnreadableError(f"{top}/{bottom} divides by nothing")
    if whole is None:
        return Fraction(top, bottom)
    if top >= bottom:
        raise UnreadableError(f"{top}/{bottom} after a whole number must be less than one")
    before = Fraction(plain_digits(whole))
    if before.denominator != 1:
        raise UnreadableError(f"the fraction {top}/{bottom} may only follow a whole number")
    return before + Fraction(top, bottom)


def read_measure(text: str, sizes: Mapping[str, Fraction | int], bare: Fraction | int | None) -> Fraction:
    """Read a number with its unit, or several from the larger unit to the smaller (`1 ft 6 in`).

    sizes: size of the unit behind every spelling. bare: size of the unit of a number alone; None refuses one.
    """
    terms = list(_terms(tidy(text)))
    if len(terms) == 1 and not terms[0][1]:
        return terms[0][0] * _bare_size(bare)
    measured = [(number, _size(unit, sizes)) for number, unit in terms]
    for (_, larger), (number, smaller) in pairwise(measured):
        if smaller >= larger or number * smaller >= larger:
            raise UnreadableError("each part must be smaller than one of the unit before it")
    return Fraction(sum(number * size for number, size in measured))


def _terms(text: str) -> Iterator[tuple[Fraction, str]]:
    while True:
        number, text = take_number(text)
        unit, text = _take_unit(text)
        yield number, unit
        if not text:
            return


def _take_unit(text: str) -> tuple[str, str]:
    match = _UNIT.match(text)
    return (match[1].rstrip("."), text[match.end() :]) if match else ("", text.lstrip())


def _bare_size(bare: Fraction | int | None) -> Fraction | int:
    if bare is None:
        raise UnreadableError("it has no unit")
    return bare


def _size(unit: str, sizes: Mapping[str, Fraction | int]) -> Fraction | int:
    if not unit:
        raise UnreadableError("a number in it has no unit")
    if unit not in sizes:
        raise UnreadableError(f"the unit {unit!r} is not known here")
    return sizes[unit]


def decimal_text(value: Fraction) -> str | None:
    """Return a non-negative value as a decimal without trailing zeros, or None if its decimals do not end."""
    _check_sign(value)
    places = next((p for p in range(MAX_PLACES + 1) if 10**p % value.denominator == 0), None)
    if places is None:
        return None
    digits = str(int(value * 10**places)).zfill(places + 1)
    return f"{digits[:-places]}.{digits[-places:]}" if places else digits


def mixed_text(value: Fraction) -> str:
    """Return a non-negative value as a whole number and a fraction in lowest terms: `9 1/4`, `1/8`, `9`."""
    _check_sign(value)
    whole, rest = divmod(value, 1)
    parts = [str(whole)] if whole or not rest else []
    return " ".join(parts + ([str(rest)] if rest else []))


def _check_sign(value: Fraction) -> None:
    if value < 0:
        raise ValueError(f"no measure is negative, but this is {value}")


def exact_text(value: Fraction) -> str:
    """Return a non-negative value as a decimal, or as a fraction where its decimals do not end."""
    return decimal_text(value) or mixed_text(value)


def shortest_text(value: Fraction, sizes: Mapping[str, Fraction | int]) -> str:
    """Return a value in the unit in which it is an ending decimal and shortest; the first unit wins a tie.

    Where it is one in no unit it is a fraction of the first.
    """
    decimals = {unit: decimal_text(value / size) for unit, size in sizes.items()}
    texts = [f"{text} {unit}" for unit, text in decimals.items() if text]
    first, size = next(iter(sizes.items()))
    return min(texts, key=len, default=f"{mixed_text(value / size)} {first}")
