"""When boxes may be packed: each day of the crew, in stretches that end with the carriers' cut-offs and the day itself."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, time

from planning.shipping.model import CrewOn, ShippingProblem
from planning.shipping.rows import Service


@dataclass(frozen=True, slots=True)
class Column:
    """A stretch of a day. place: of the day among the crew's; by: the cut-off it ends with, None the end of all work.

    until: minutes there may be from the day's beginning to its end.
    """

    place: int
    day: date
    by: time | None
    until: int


def columns_of(problem: ShippingProblem) -> tuple[Column, ...]:
    """Return the stretches of all days in order; the last of each day ends with it."""
    cut_offs = {one.service.cut_off for one in problem.services}
    return tuple(
        column
        for place, crew in enumerate(problem.crew)
        for column in columns_on(place, crew, [one.at for one in crew.before if one.at in cut_offs])
    )


def columns_on(place: int, crew: CrewOn, cut_offs: Sequence[time]) -> list[Column]:
    """Return the stretches of one day."""
    minutes = {one.at: one.minutes for one in crew.before}
    early = [Column(place, crew.day, at, min(minutes[at], crew.most)) for at in sorted(cut_offs)]
    return [*early, Column(place, crew.day, None, crew.most)]


def catches(service: Service, column: Column, crew: CrewOn) -> bool:
    """Tell whether what is packed in a stretch goes with the service's collection of that day."""
    if service.cut_off is None or all(one.at != service.cut_off for one in crew.before):
        return True
    return column.by is not None and column.by <= service.cut_off
