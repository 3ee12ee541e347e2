"""How the shipping step ended: what is proved of its schedule, in words."""

from decimal import Decimal

from planning.shipping.grid import DAYS_LATE, MISSED, POSTAGE, Cost, Grid
from planning.shipping.search import Found


def how_it_ended(grid: Grid, found: Found, *, all_sent: bool) -> str:
    """Say what is proved, and how far what is not proved may be from the best."""
    if not grid.lots:
        return "nothing to send" if all_sent else "no box can be sent"
    total, bound = grid.total(found.filling), found.bound
    promise = promise_kept(grid, found, all_sent=all_sent)
    if not total[MISSED] and total[POSTAGE] == grid.floor(POSTAGE):
        return f"proved: {promise}, each by the cheapest service that can be in time"
    if total == bound:
        return f"proved: {promise}, and {postage_paid(grid, total, bound)}"
    days = total[DAYS_LATE] - bound[DAYS_LATE]
    lateness = (f"late by at most {days:,} days more in all than need be",) if days else ()
    return "; ".join((promise, *lateness, postage_paid(grid, total, bound)))


def promise_kept(grid: Grid, found: Found, *, all_sent: bool) -> str:
    """Say how many boxes have to miss the promise."""
    late, least = grid.total(found.filling)[MISSED], found.bound[MISSED]
    if not late:
        return "every box in time" if all_sent else "every box that can be sent is in time"
    what = "boxes late or without a day" if any(row[-1] for row in found.filling) else "late boxes"
    if late > least:
        return f"at least {least:,} of the {late:,} {what} miss the promise in any schedule"
    hopeless = ", since no service can bring these in time" if late == grid.floor(MISSED) else ""
    return f"no schedule has fewer {what}{hopeless}"


def postage_paid(grid: Grid, total: Cost, bound: Cost) -> str:
    """Say how much less postage could be, among schedules that are as punctual."""
    as_good = "as punctual" if total[MISSED] else "in time"
    if total[POSTAGE] == bound[POSTAGE]:
        return f"none {as_good} costs less postage"
    most = Decimal(total[POSTAGE] - bound[POSTAGE]) / grid.unit
    return f"postage at most {most:,.2f} above the least of a schedule {as_good}"
