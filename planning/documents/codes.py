"""Codes people scan: check characters of open standards, Code 128 symbol values, and the club's own box code.

A box code is club, month and serial number with one check character behind: `RIV2704000123K`. The square code on a slip
holds the version of the plan too, `RIV2704000123K/3`, so that a scan tells a slip of an earlier plan.
"""

import re
from collections.abc import Sequence
from functools import lru_cache
from operator import mul
from string import ascii_uppercase, digits

from planning.calendar import YearMonth

ALPHANUMERIC = digits + ascii_uppercase

FNC1 = "\N{SYMBOL FOR GROUP SEPARATOR}"  # stands for Code 128's function character 1, which no text holds
STOP = 106
START = {"A": 103, "B": 104, "C": 105}
SWITCH = {"A": 101, "B": 100, "C": 99}
SHIFT = {"A": ("B", 98), "B": ("A", 98)}
FNC1_VALUE = 102
WIDTH = {"A": 1, "B": 1, "C": 2}  # characters that one symbol spells
CHARACTERS = {  # where two sets are as short, the first is taken: scanners and people meet set B most
    "B": {chr(code): code - 32 for code in range(32, 128)},
    "A": {chr(code): (code - 32) % 96 for code in range(96)},
    "C": {f"{pair:02}": pair for pair in range(100)},
}

# What decides how a text is best spelled: texts alike in this are spelled in the same steps.
ALIKE = "".join(
    "\0" if code < 32 else "0" if chr(code) in digits else "A" if code < 96 else "a" for code in range(128)
)
SHAPES = 1_000  # remembered; the codes of a club have one or two

Symbols = tuple[int, ...]
Step = int | tuple[str, int]  # a symbol, or the set and the place of the characters that give it


class CodeError(ValueError):
    """A text that cannot be made into the code asked for; the message says what the code may hold."""


class BoxCodeError(CodeError):
    """A scanned or typed text that is not a box code."""


# --- Check characters ---


def gs1_check_digit(payload: str) -> str:
    """Return the check digit of a GS1 number (GTIN, SSCC): modulo 10, weights 3, 1, 3 ... from the right."""
    if not re.fullmatch(r"[0-9]+", payload):
        raise CodeError(f"{payload!r} is not a GS1 number: it has digits only")
    total = sum(int(digit) * (3, 1)[place % 2] for place, digit in enumerate(reversed(payload)))
    return str(-total % 10)


def sscc(payload: str) -> str:
    """Return a serial shipping container code: 17 digits (extension, company, serial) and the check digit."""
    if len(payload) != 17:
        raise CodeError(f"{payload!r} is not the beginning of an SSCC: it has 17 digits")
    return payload + gs1_check_digit(payload)


def alphanumeric_check(text: str) -> str:
    """Return the check character of digits and capital letters by ISO/IEC 7064, MOD 37,36.

    It is a digit or a capital letter too, so no scanner or keyboard is at a loss for it. It finds every
    single wrong character, and of two neighbours swapped all but about 1 in 250.
    """
    if not re.fullmatch(r"[0-9A-Z]+", text):
        raise CodeError(f"{text!r} has no check character: it may hold digits and capital letters only")
    carry = 36
    for character in text:
        carry = ((carry + ALPHANUMERIC.index(character)) % 36 or 36) * 2 % 37
    return ALPHANUMERIC[(1 - carry) % 36]


# --- Code 128 ---


def code128(text: str) -> Symbols:
    """Return the fewest symbol values that spell a text in Code 128: start, characters, check symbol, stop.

    The text may hold ASCII and FNC1; a GS1-128 symbol begins with FNC1. Raises CodeError for anything else.
    """
    if not text.isascii() and (strange := sorted({one for one in text if not one.isascii()} - {FNC1})):
        raise CodeError(f"{text!r} does not fit into Code 128: {' '.join(strange)} is not ASCII")
    symbols = tuple(
        step if isinstance(step, int) else CHARACTERS[step[0]][text[step[1] : step[1] + WIDTH[step[0]]]]
        for step in steps_of(text.translate(ALIKE))
    )
    return (*symbols, check_symbol(symbols), STOP)


def check_symbol(symbols: Sequence[int]) -> int:
    """Return the check symbol of start and characters: start plus each value times its place, modulo 103."""
    return int(sum(map(mul, symbols, (1, *range(1, len(symbols)))))) % 103


@lru_cache(maxsize=SHAPES)
def steps_of(text: str) -> tuple[Step, ...]:
    """Return the fewest steps that spell a text: start, characters; of all texts alike, the same ones."""
    tails = shortest_tails(text)
    start = min(CHARACTERS, key=lambda code_set: len(tails[code_set]))
    return (START[start], *tails[start])


Tail = tuple[Step, ...]


def shortest_tails(text: str) -> dict[str, Tail]:
    """Return, for each code set one may be in at the start of the text, the fewest steps that spell it.

    Worked out from the end: what is shortest from a place on does not depend on how one came there.
    """
    tails: list[dict[str, Tail]] = [dict.fromkeys(CHARACTERS, ())]
    for at in reversed(range(len(text))):
        stay = {code_set: spelled(text, at, code_set, tails) for code_set in CHARACTERS}
        tails.insert(0, {code_set: best_from(code_set, stay) for code_set in CHARACTERS})
    return tails[0]


def spelled(text: str, at: int, code_set: str, tails: Sequence[dict[str, Tail]]) -> Tail | None:
    """Return the shortest tail that begins with the next character in the set given, None where it has none.

    tails: from the place after this one on.
    """
    here, width = text[at], WIDTH[code_set]
    ways: list[Tail] = []
    if here == FNC1:
        ways.append((FNC1_VALUE, *tails[0][code_set]))
    if text[at : at + width] in CHARACTERS[code_set]:
        ways.append(((code_set, at), *tails[width - 1][code_set]))
    if code_set in SHIFT:
        other, shift = SHIFT[code_set]
        if here in CHARACTERS[other]:
            ways.append((shift, (other, at), *tails[0][code_set]))
    return min(ways, key=len, default=None)


def best_from(code_set: str, stay: dict[str, Tail | None]) -> Tail:
    """Return the shortest of staying in a set and of switching to another first."""
    ways = (
        tail if other == code_set else (SWITCH[other], *tail)
        for other, tail in stay.items()
        if tail is not None
    )
    return min(ways, key=len)


# --- The club's own numbers ---


def order_number(club_code: str, month: YearMonth, number: int) -> str:
    """Return the number of a purchase order: club, month, and which order of the month it is."""
    return f"{club_code}-{year_month(month)}-{number}"


def year_month(month: YearMonth) -> str:
    """Return a month in four digits: 2704."""
    return f"{month.year % 100:02}{month.month:02}"


def box_code(club_code: str, month: YearMonth, serial: int) -> str:
    """Return the code on a box: club, month, serial number, check character; digits and capital letters only.

    What the club's code holds besides letters and digits is left out. Codes of one club never repeat within a
    century.
    """
    if serial < 1:
        raise CodeError(f"{serial} is not a serial number: boxes are counted from 1")
    club = "".join(re.findall(r"[0-9A-Z]", club_code.upper()))
    body = f"{club}{year_month(month)}{serial:06}"
    return body + alphanumeric_check(body)


def slip_code(code: str, version: int) -> str:
    """Return what the square code on a slip holds: the box code, and the version of the plan the slip was printed from."""
    return f"{code}/{version}"


def version_scanned(text: str) -> int | None:
    """Return the version of the plan that a scanned code names, None for bars and typed codes, which name none."""
    found = re.search(r"/\s*([0-9]{1,6})\s*$", text)
    return int(found[1]) if found else None


def check_box_code(text: str) -> str:
    """Return a scanned or typed box code as it is printed; spaces, hyphens and small letters do no harm.

    A version behind it is left out (see `version_scanned`). Raises BoxCodeError when the check character does not fit the
    rest.
    """
    code = re.sub(r"[\s-]|/\s*[0-9]{1,6}\s*$", "", text).upper()
    if not re.fullmatch(r"[0-9A-Z]*[0-9]{10,}[0-9A-Z]", code) or alphanumeric_check(code[:-1]) != code[-1]:
        raise BoxCodeError(
            f"{text!r} is not a box code: a character is wrong, missing or swapped. "
            "Scan the box again, or type the code exactly as it is printed"
        )
    return code
