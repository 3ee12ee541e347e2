"""QR codes as marks, as quick to draw as bars: the library makes a few, and all others follow from these.

A QR code of given size and mask is linear: its modules are those of a text of zeros, with some inverted for every bit of
every pair of characters (ISO/IEC 18004, 7.4.4 and 7.5, from memory: pairs are numbers of 11 bits, and error correction and
mask are sums without carry). So the library is asked once for each bit, and a code is a sum of what it answered. The
tests hold the sums to the library's own codes.
"""

from functools import lru_cache
from itertools import groupby
from typing import Any

from reportlab.graphics.barcode.qrencoder import QRAlphaNum, QRCode, QRErrorCorrectLevel
from reportlab.lib.rl_accel import fp_str

from planning.documents.pdf.barcode import DOT, INSET

CHARACTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
VALUES = {character: value for value, character in enumerate(CHARACTERS)}
BASE = len(CHARACTERS)
PAIR, SINGLE = 11, 6  # bits of two characters, and of the one that is left over
QUIET = 4  # blank modules on every side (ISO/IEC 18004, from memory)
WIDEST_MODULE = 5  # dots
MASK = 3
LENGTHS, PAIRS, ROWS = 16, 20_000, 20_000  # remembered

Modules = int
"""The modules of a code as one number, row by row from the top, the first one its highest bit; dark is 1."""


def square_marks(text: str, x: float, y: float, side: float) -> str:
    """Return a text's square code as a PDF's operators, in the middle of a square with a lower left corner at x, y (points).

    The text holds digits, capital letters and the likes of / only. Modules are whole dots wide and stand on whole dots.
    Raises ValueError for other characters, and where the narrowest modules do not fit.
    """
    size = size_of(len(text))
    dots = min(WIDEST_MODULE, int(side / DOT + INSET) // (size + 2 * QUIET))
    if dots == 0:
        raise ValueError(f"the square code of {text!r} does not fit into {side:.0f} points")
    left = round((x + side / 2) / DOT) - size * dots // 2
    top = round((y + side / 2) / DOT) + size * dots // 2
    modules, row = modules_of(text), (1 << size) - 1
    marks = [
        row_marks(modules >> size * (size - 1 - at) & row, size, left, top - at * dots, dots)
        for at in range(size)
    ]
    return f"{' '.join(marks)} f*"


@lru_cache(maxsize=ROWS)
def row_marks(row: int, size: int, left: int, top: int, dots: int) -> str:
    """Return the marks of one row: a rectangle for each run of dark modules. left, top, dots: in dots."""
    marks, at = [], 0
    for module, run in groupby(f"{row:0{size}b}"):
        length = len(list(run))
        if module == "1":
            corner = (left + at * dots) * DOT + INSET, (top - dots) * DOT + INSET
            marks.append(f"{fp_str(*corner, length * dots * DOT - 2 * INSET, dots * DOT - 2 * INSET)} re")
        at += length
    return " ".join(marks)


def modules_of(text: str) -> Modules:
    """Return a text's code. Raises ValueError for a character it does not hold."""
    length = len(text)
    found = of_zeros(length)
    for at in range(0, length, 2):
        found ^= inverted(text[at : at + 2], at, length)
    return found


@lru_cache(maxsize=PAIRS)
def inverted(characters: str, at: int, length: int) -> Modules:
    """Return the modules that a pair of characters, or the last one, inverts in a code of zeros."""
    number = 0
    for character in characters:
        if character not in VALUES:
            raise ValueError(f"{character!r} does not fit into the square code")
        number = number * BASE + VALUES[character]
    bits = PAIR if len(characters) == 2 else SINGLE
    found = 0
    for bit in range(bits):
        if number >> bit & 1:
            found ^= inverted_by(bit, at, length)
    return found


@lru_cache(maxsize=LENGTHS * 128)
def inverted_by(bit: int, at: int, length: int) -> Modules:
    """Return the modules that one bit of the characters at a place inverts."""
    high, low = divmod(1 << bit, BASE)
    pair = CHARACTERS[high] + CHARACTERS[low] if length - at > 1 else CHARACTERS[low]
    text = f"{'0' * at}{pair}{'0' * (length - at - len(pair))}"
    return as_number(library_code(text)) ^ of_zeros(length)


@lru_cache(maxsize=LENGTHS)
def of_zeros(length: int) -> Modules:
    """Return the code of so many zeros."""
    return as_number(library_code("0" * length))


@lru_cache(maxsize=LENGTHS)
def size_of(length: int) -> int:
    """Return how many modules the side of a code of so many characters has."""
    return len(library_code("0" * length))


def library_code(text: str) -> list[list[bool]]:
    """Return the library's own code of a text, in the smallest size that holds it, as pairs of characters throughout."""
    code: Any = QRCode(None, QRErrorCorrectLevel.M)  # its stubs know nothing of its methods
    code.addData(QRAlphaNum(text))
    code.version = code.calculate_version()
    code.makeImpl(False, MASK)
    return [[bool(module) for module in row] for row in code.modules]


def as_number(code: list[list[bool]]) -> Modules:
    """Return a code's modules as one number."""
    return int("".join("01"[module] for row in code for module in row), 2)
