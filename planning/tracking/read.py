"""The rule of tracking: a list may be read twice and counts once, and no number is ever on two boxes."""

import re

from planning.tracking.model import Refusal, Tracked, TrackingProblem, TrackingResult, TrackingRow
from planning.tracking.s10 import S10Error, parse_s10

OTHER = re.compile("[A-Z0-9]{6,40}")  # carriers with numbers of their own


def read_tracking(problem: TrackingProblem) -> TrackingResult:
    """Put the numbers to their boxes, row by row; a faulty row keeps no other from being taken."""
    box_of = {one.number: one.box for one in problem.known}
    new: list[Tracked] = []
    repeated: list[int] = []
    refused: list[Refusal] = []
    for row in problem.rows:
        try:
            number = read_number(row)
        except ValueError as why:
            refused.append(Refusal(row=row.row, why=str(why)))
            continue
        if row.box not in problem.boxes:
            refused.append(Refusal(row=row.row, why=f"there is no box {row.box!r} in this plan"))
        elif number not in box_of:
            box_of[number] = row.box
            new.append(Tracked(box=row.box, number=number))
        elif box_of[number] == row.box:
            repeated.append(row.row)
        else:
            refused.append(
                Refusal(row=row.row, why=f"{number} is already the number of box {box_of[number]}")
            )
    return TrackingResult(new=tuple(new), repeated=tuple(repeated), refused=tuple(refused))


def read_number(row: TrackingRow) -> str:
    """Return a row's number in its one spelling. Raises S10Error."""
    if row.s10:
        return str(parse_s10(row.number))
    number = re.sub(r"[\s-]", "", row.number).upper()
    if not OTHER.fullmatch(number):
        raise S10Error(row.number, "nor is it 6 to 40 letters and digits, as other carriers' are")
    return number
