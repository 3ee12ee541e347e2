"""The checker of tracking. It shares no code with the rule: it proves check digits by divisibility."""

from collections import Counter
from collections.abc import Iterator

from planning.countries import COUNTRIES
from planning.tracking.model import TrackingProblem, TrackingResult


def tracking_faults(problem: TrackingProblem, result: TrackingResult) -> tuple[str, ...]:
    """Return every way in which what was taken does not follow from the list."""
    return tuple(all_faults(problem, result))


def all_faults(problem: TrackingProblem, result: TrackingResult) -> Iterator[str]:
    """Count rows, then owners of numbers, then look at each number."""
    if len(result.new) + len(result.repeated) + len(result.refused) != len(problem.rows):
        yield "a row is lost, or counted twice"
    owners = Counter(one.number for one in (*problem.known, *result.new))
    yield from (f"{number} is on {times} boxes" for number, times in owners.items() if times > 1)
    said = {(row.box, plain(row.number)): row.s10 for row in problem.rows}
    for one in result.new:
        if one.box not in problem.boxes or (one.box, one.number) not in said:
            yield f"no row says that {one.number} is on {one.box}"
        elif said[one.box, one.number] and not stands(one.number):
            yield f"{one.number} is no S10 number"
    rows = {row.row: row for row in problem.rows}
    taken = {(one.box, one.number) for one in (*problem.known, *result.new)}
    for number in result.repeated:
        if (rows[number].box, plain(rows[number].number)) not in taken:
            yield f"row {number} repeats nothing"


def plain(text: str) -> str:
    """Return a number without what people put between its parts."""
    return "".join(letter for letter in text.upper() if letter != "-" and not letter.isspace())


def stands(number: str) -> bool:
    """Tell whether the weighted digits and what the check digit stands for are divisible by 11."""
    if len(number) != 13 or not number.isascii() or not number[2:11].isdigit():
        return False
    if not number[:2].isalpha() or number[11:] not in COUNTRIES:
        return False
    total = sum(int(a) * b for a, b in zip(number[2:10], (8, 6, 4, 2, 3, 5, 9, 7), strict=True))
    stands_for = {"0": (10,), "5": (5, 11)}.get(number[10], (int(number[10]),))
    return any((total + value) % 11 == 0 for value in stands_for)
