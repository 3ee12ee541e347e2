"""From what is needed to what must be ordered: less the shelf and what is due, and put off where nothing can come before."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import accumulate

from planning.lots.model import LateNeed, LotMaterial, LotOffer, LotsProblem


@dataclass(frozen=True, slots=True)
class Net:
    """What of a material must be ordered for each period, and what of its need comes late or not at all."""

    material: LotMaterial
    offers: tuple[LotOffer, ...]
    orders: tuple[int, ...]
    late: tuple[LateNeed, ...]

    def left(self, ordered: Iterable[int]) -> tuple[int, ...]:
        """Return what is left at the end of each period when so many units come in each."""
        had = accumulate(ordered, initial=self.material.on_hand)
        next(had)
        due = accumulate(self.material.due_in(period) for period in range(len(self.orders)))
        used = accumulate(self.used)
        return tuple(one + two - three for one, two, three in zip(had, due, used, strict=True))

    @property
    def used(self) -> tuple[int, ...]:
        """What is used in each period, late needs in the one they are met in."""
        used = list(self.material.needed)
        for one in self.late:
            used[one.period] -= one.units
            if one.met_in is not None:
                used[one.met_in] += one.units
        return tuple(used)


def net(problem: LotsProblem) -> tuple[Net, ...]:
    """Net every material."""
    return tuple(
        net_of(one, tuple(offer for offer in problem.offers if offer.material == one.code))
        for one in problem.materials
    )


def net_of(material: LotMaterial, offers: tuple[LotOffer, ...]) -> Net:
    """Net one material period by period: shelf and due goods meet what comes first."""
    lacking = lacks(material)
    first = min((offer.first for offer in offers), default=len(lacking))
    late = tuple(
        LateNeed(
            material=material.code,
            period=period,
            units=units,
            met_in=first if first < len(lacking) else None,
        )
        for period, units in enumerate(lacking[:first])
        if units
    )
    put_off = sum(one.units for one in late)
    orders = [0] * min(first, len(lacking)) + lacking[first:]
    if first < len(lacking):
        orders[first] += put_off
    return Net(material, offers, tuple(orders), late)


def lacks(material: LotMaterial) -> list[int]:
    """Return what each period needs beyond what earlier ones left it: due goods that come later do not help."""
    lacking: list[int] = []
    left = material.on_hand
    for period, needed in enumerate(material.needed):
        left += material.due_in(period) - needed
        lacking.append(max(0, -left))
        left = max(0, left)
    return lacking
