"""What a scan is of: a box of this month, or why not. Labels of items are compared by whoever has the box's list."""

import re
from dataclasses import dataclass

from planning.calendar import YearMonth
from planning.documents.codes import BoxCodeError, check_box_code, version_scanned, year_month

LONGEST = 100  # characters; a scanner that reads a label of something else may send thousands


class ScanError(ValueError):
    """A scan that is no box of this month; the message says what it is instead and what to do."""


@dataclass(frozen=True, slots=True)
class BoxScan:
    """A box's code and serial. version: of the plan its slip was printed from, where the scan says so."""

    code: str
    serial: int
    version: int | None = None


def read_scan(text: str, club: str, month: YearMonth) -> BoxScan:
    """Read the code of a box of a club's month. Raises ScanError."""
    if len(text) > LONGEST:
        raise ScanError(f"This is no box code: it has {len(text):,} characters. Scan the bars on the slip.")
    try:
        code = check_box_code(text)
    except BoxCodeError as error:
        raise ScanError(str(error)) from None
    return BoxScan(code, serial_of(code, club, month), version_scanned(text))


def serial_of(code: str, club: str, month: YearMonth) -> int:
    """Return the serial number in a code whose check character fits. Raises ScanError for another club's or month's."""
    own = "".join(re.findall(r"[0-9A-Z]", club.upper()))
    found = re.fullmatch(r"([0-9]{4})([0-9]{6,})[0-9A-Z]", code.removeprefix(own))
    if not code.startswith(own) or found is None:
        raise ScanError(f"{code} is a box of another club. Put it aside.")
    if found[1] != year_month(month):
        other = f"20{found[1][:2]}-{found[1][2:]}"
        raise ScanError(f"{code} is a box of another month, {other}: this is {month}. Put it aside.")
    return int(found[2])
