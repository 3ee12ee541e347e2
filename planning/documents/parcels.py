"""The parcels of boxes as labels, manifests and loads see them."""

from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from itertools import groupby

from planning.flow import MonthPlan
from planning.packing import BoxSpec, Container, PackLine
from planning.roster import Contents
from planning.shipping import Service, Wave


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxParcel:
    """One parcel of a box. number: its place among `among`. weight, heaviest: grams, nominal and at most."""

    number: int
    among: int
    lines: tuple[PackLine, ...]
    container: Container
    weight: Fraction
    heaviest: Fraction
    outside: tuple[int, int, int]


def parcels_of(spec: BoxSpec) -> tuple[BoxParcel, ...]:
    """Return the parcels of a box."""
    return tuple(
        BoxParcel(
            number=number,
            among=len(spec.parcels),
            lines=one.lines,
            container=replace(one.carton.container, outside=one.outside),
            weight=one.weight,
            heaviest=one.heaviest,
            outside=one.outside,
        )
        for number, one in enumerate(spec.parcels, 1)
    )


def parcels_by_contents(plan: MonthPlan) -> dict[Contents, tuple[BoxParcel, ...]]:
    """Return the parcels of every different box."""
    return {spec.contents: parcels_of(spec) for spec in plan.packing.boxes}


@dataclass(frozen=True, slots=True, kw_only=True)
class Collection:
    """What one service takes away on one day: the waves packed for it."""

    day: date
    service: Service
    waves: tuple[Wave, ...]

    @property
    def boxes(self) -> int:
        """Boxes in all its waves."""
        return sum(wave.boxes for wave in self.waves)


def collections(plan: MonthPlan) -> tuple[Collection, ...]:
    """Return the month's collections by day and service."""

    def key(wave: Wave) -> tuple[date, str]:
        return wave.collected, wave.service.code

    return tuple(
        Collection(day=day, service=(waves := tuple(together))[0].service, waves=waves)
        for (day, _), together in groupby(sorted(plan.waves, key=key), key)
    )
