"""UPU S10: the 13 characters of a postal item's number.

Two letters for the service, eight digits, a check digit, and the country of the post that gave the number (ISO 3166-1
alpha-2). The check digit is 11 less the remainder by 11 of the digits weighted 8 6 4 2 3 5 9 7; 10 is written 0, and 11 is
written 5. Two remainders are written 5, so a digit mistaken for another is nearly always found, not always.
"""

import re
from dataclasses import dataclass

from planning.countries import COUNTRIES, country_hint

WEIGHTS = (8, 6, 4, 2, 3, 5, 9, 7)
LOOKS_LIKE = str.maketrans("OQILSBZ", "0011582")
_FORM = re.compile("([A-Z]{2})([0-9]{8})([0-9])([A-Z]{2})")
_LONGEST_SHOWN = 40


class S10Error(ValueError):
    """A text is no S10 number; the message says why and what to do."""

    def __init__(self, text: str, why: str) -> None:
        shown = text if len(text) <= _LONGEST_SHOWN else f"{text[:_LONGEST_SHOWN]}…"
        super().__init__(f"{shown!r} is no S10 number: {why}")


@dataclass(frozen=True, slots=True, order=True)
class S10:
    """A number that stands the check. service: two letters; serial: eight digits; country: of the post that gave it."""

    service: str
    serial: str
    country: str

    @property
    def check(self) -> int:
        """The check digit."""
        return check_digit(self.serial)

    def __str__(self) -> str:
        return f"{self.service}{self.serial}{self.check}{self.country}"

    @property
    def words(self) -> str:
        """The number as it is printed for people, in groups."""
        return f"{self.service} {self.serial[:4]} {self.serial[4:]} {self.check} {self.country}"


def check_digit(serial: str) -> int:
    """Return the check digit of eight digits. Raises S10Error for anything else."""
    if not re.fullmatch("[0-9]{8}", serial):
        raise S10Error(serial, "a serial number has eight digits")
    rest = 11 - sum(weight * int(digit) for weight, digit in zip(WEIGHTS, serial, strict=True)) % 11
    return {10: 0, 11: 5}.get(rest, rest)


def parse_s10(text: str) -> S10:
    """Read a number, in capitals or not; blanks and hyphens between its parts do not count. Raises S10Error."""
    number = re.sub(r"[\s-]", "", text).upper()
    match = _FORM.fullmatch(number)
    if match is None:
        raise S10Error(text, why_not_the_form(number))
    service, serial, check, country = match.groups()
    if country not in COUNTRIES:
        raise S10Error(text, f"{country} is no country code of ISO 3166-1{meant(country)}")
    if check_digit(serial) != int(check):
        raise S10Error(
            text,
            f"its check digit is {check}, and {serial} has {check_digit(serial)}; compare it with the label",
        )
    return S10(service, serial, country)


def why_not_the_form(number: str) -> str:
    """Say what is wrong with the form of a number without blanks."""
    if not number:
        return "it is empty"
    if len(number) != 13:
        return f"it has {len(number)} characters, and needs 13, such as RR 4731 2482 9 GB"
    guess = number[:2] + number[2:11].translate(LOOKS_LIKE) + number[11:]
    if guess != number and _FORM.fullmatch(guess):
        return f"a letter stands where a digit must; if it was misread, write {guess}"
    return "it must be two letters, nine digits, and two letters, such as RR 4731 2482 9 GB"


def meant(country: str) -> str:
    """Ask whether another code was meant."""
    code = country_hint(country)
    return f"; write {code}" if code else ""
