"""The rule of the shipping step: what each box costs on each day, and the schedule that costs least.

A box packed on a day goes by the cheapest service that is then in time, else by the one that is least late. Of all
schedules the crew has the minutes for, one is sought in which fewest boxes miss the promise; of those, one with the fewest
days of lateness in all; of those, one with the least postage and overtime. Boxes are then packed as late as that allows.
"""

from dataclasses import replace
from datetime import date
from math import floor

from planning.calendar import DAY
from planning.shipping.answer import Sought, answer
from planning.shipping.blame import blamed, gains
from planning.shipping.columns import columns_of
from planning.shipping.fill import first_filling
from planning.shipping.grid import AIMS, grid_of
from planning.shipping.model import ShippingProblem, ShippingResult
from planning.shipping.search import NODES, Found, plain, search
from planning.shipping.trips import journeys, options_for, trips_of


def plan_shipping(problem: ShippingProblem, nodes: int = NODES) -> ShippingResult:
    """Give every box a day and a service; late ones and unsendable ones are told apart, and what is to blame.

    nodes: the most effort to put into the proof that nothing is better. Raises CalendarError where a service collects on
    no day for months.
    """
    sought = seek(problem, nodes)
    result = answer(problem, sought)
    result = replace(result, blame=blamed(problem, result))
    return replace(result, gains=tuple(gains(problem, sought, result, lambda changed: seek(changed, nodes))))


def pack_plainly(problem: ShippingProblem) -> ShippingResult:
    """Give every box a day and a service by the better of two plain rules, without a search. Errors as above."""
    return answer(problem, seek(problem, None))


def seek(problem: ShippingProblem, nodes: int | None) -> Sought:
    """Return the best schedule found; nodes: None for plain rules only."""
    if problem.together and (days := arrivals(problem)):
        return seek_together([stated(problem, day) for day in days], nodes)
    return searched(stated(problem), nodes)


def seek_together(ways: list[Sought], nodes: int | None) -> Sought:
    """Return the best of schedules to arrive on one day each, the latest day first where they are as good."""
    ways.sort(key=lambda way: way.bound)
    best = searched(ways[0], nodes)
    least = best.bound
    for way in ways[1:]:
        if way.bound < best.cost:
            other = searched(way, nodes)
            least = min(least, other.bound)
            best = min(best, other, key=lambda one: one.cost)
    bound = least[0], least[1], floor(least[2] * best.grid.unit)
    return replace(best, found=replace(best.found, bound=min(bound, best.found.bound)))


def stated(problem: ShippingProblem, on: date | None = None) -> Sought:
    """Put a problem into whole numbers, with what no schedule costs less than. on: the day all boxes are to arrive."""
    columns = columns_of(problem)
    trips = trips_of(problem, columns, on)
    grid = grid_of(problem, columns, trips)
    first, second, third = (grid.floor(aim) for aim in AIMS)
    return Sought(columns, trips, grid, Found((), (first, second, third)), on)


def searched(way: Sought, nodes: int | None) -> Sought:
    """Return a problem with the best schedule found."""
    filling = first_filling(way.grid)
    return replace(way, found=plain(way.grid, filling) if nodes is None else search(way.grid, filling, nodes))


def arrivals(problem: ShippingProblem) -> list[date]:
    """Return the days on which boxes may arrive and be in time, the latest first."""
    journey = journeys(problem)
    days = set()
    for parcel in problem.parcels:
        first, due = max(parcel.ready, problem.crew[0].day) if problem.crew else date.max, problem.due(parcel)
        for option in options_for(parcel, problem):
            day = first
            while day <= due:
                collected, arrives = journey(option, day)
                if arrives > due:
                    break
                days.add(arrives)
                day = collected + DAY
    return sorted(days, reverse=True)
