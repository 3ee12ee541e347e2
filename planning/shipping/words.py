"""How the shipping step ended: what is proved of its schedule, in words."""

from datetime import date
from decimal import Decimal

from planning.shipping.grid import DAYS_LATE, MISSED, MONEY, Grid
from planning.shipping.search import Found, is_best


def how_it_ended(grid: Grid, found: Found, *, all_sent: bool, on: date | None) -> str:
    """Say what is proved, and how far what is not proved may be from the best. on: the day all arrive together."""
    if not grid.lots:
        return "nothing to send" if all_sent else "no box can be sent"
    total, bound = grid.total(found.filling), found.bound
    promise = promise_kept(grid, found, all_sent=all_sent)
    if on is not None:
        promise = f"together on {on:%-d %b %Y}, {promise}"
    if not total[MISSED] and total[MONEY] == grid.floor(MONEY):
        return f"proved: {promise}, each by the cheapest service that can be in time"
    if is_best(grid, found):
        return f"proved: {promise}, and {money_paid(grid, found)}"
    days = total[DAYS_LATE] - bound[DAYS_LATE]
    lateness = (f"late by at most {days:,} days more in all than need be",) if days else ()
    return "; ".join((promise, *lateness, money_paid(grid, found)))


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


def money_paid(grid: Grid, found: Found) -> str:
    """Say how much less postage and overtime could be, among schedules that are as punctual."""
    total, bound = grid.total(found.filling), found.bound
    as_good, what = "as punctual" if total[MISSED] else "in time", what_is_paid(grid)
    if total[MONEY] - bound[MONEY] <= grid.dust:
        return f"none {as_good} costs less {what}"
    most = Decimal(total[MONEY] - bound[MONEY]) / grid.unit
    return f"{what} at most {most:,.2f} above the least of a schedule {as_good}"


def what_is_paid(grid: Grid) -> str:
    """Name what the money goes on: overtime where there is any, or might be."""
    return "postage and overtime" if any(day.most > day.room for day in grid.days) else "postage"
