"""What is proved of how a group's jobs are cut."""

from collections.abc import Sequence
from fractions import Fraction

from planning.cutting.parents import Asked
from planning.cutting.together import Plan, sheets_of

ALONE = "proved: no way of cutting the sheet yields more pieces"
NOT_ALONE = "the number out is not proved to be the most"
FEWEST = "proved: no cutting plan uses fewer sheets"
CHEAPEST = "proved: no cutting plan has cheaper sheets, at the prices these numbers lead to"
UNKNOWN = "nothing is proved"


def proof_of(taken: Plan, plans: Sequence[Plan], *, is_best: bool) -> tuple[str, bool]:
    """Say what is proved of the plan that is taken, and whether that is that none has fewer or cheaper sheets.

    is_best: each sheet of the plan with one size to a sheet is proved to yield the most.
    """
    if len(taken.tickets) == len({item for one in taken.tickets for item in one.items}) == len(plans) == 1:
        return (ALONE, True) if is_best else (NOT_ALONE, False)
    sheets = sheets_of(taken.tickets)
    held = [
        against(dict(sheets), plan.asked, plan.bound)
        for plan in plans
        if plan.asked is not None and set(sheets) <= plan.asked.materials
    ]
    return max(held, key=lambda each: each[1], default=(UNKNOWN, False))


def against(sheets: dict[str, int], asked: Asked, bound: Fraction) -> tuple[str, bool]:
    """Hold the numbers of sheets against what no plan costs less than."""
    cost = asked.cost(sheets)
    if cost <= bound:
        return (FEWEST if len(asked.materials) == 1 else CHEAPEST), True
    if len(asked.materials) > 1:
        return f"the sheets cost at most {percent(cost, bound)} % more than in any other plan", False
    [count] = sheets.values()
    least = fewest(asked, next(iter(sheets)), count, bound)
    return f"{count:,} sheets, and no plan can do with fewer than {least:,}", least == count


def fewest(asked: Asked, material: str, most: int, bound: Fraction) -> int:
    """Return the least number of sheets that costs no less than the bound."""
    low, high = 0, most
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if asked.cost({material: middle}) >= bound else (middle + 1, high)
    return low


def percent(cost: Fraction, bound: Fraction) -> str:
    """Return by how much a cost is above its bound, in percent with two decimals, rounded up."""
    if not bound:
        return "100"
    hundredths = -(-(cost - bound) * 10_000 // bound)
    return f"{hundredths // 100}.{hundredths % 100:02}"
