"""Units wanted where several counts ask for them: so many of each box of one tier, so many of each of another.

The counts are taken to rise and fall together, as a club's tiers do: a month that goes well goes well for all of them. Then
the quantiles of the whole are those of the parts added up, and so is what is expected above one (Dhaene et al., Insurance:
Mathematics and Economics 31 (2002), from memory). It is the widest the whole can spread, so it never orders too little for
a month that goes well. What is certain beside them shifts the whole.
"""

from dataclasses import dataclass
from decimal import Decimal

from planning.overs.counts import STEPS, Count, Listed, Poisson
from planning.overs.errors import OversError


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Units each of a count asks for. Fractions of a unit stand for overs in percent."""

    count: Count
    each: Decimal = Decimal(1)


@dataclass(frozen=True, slots=True)
class Together:
    """The units wanted in all. plus: units wanted whatever the counts."""

    parts: tuple[Part, ...]
    plus: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        if not self.parts or min(part.each for part in self.parts) <= 0 or self.plus < 0:
            raise OversError("units of each box are more than 0, and units beside them not negative")
        if len(self.parts) > 1 and any(isinstance(part.count, Listed | Poisson) for part in self.parts):
            raise OversError(
                "counts one by one cannot be added to others: describe each by low, likely and high"
            )

    @property
    def mean(self) -> Decimal:
        """The units expected."""
        return self.plus + sum((part.each * part.count.mean for part in self.parts), Decimal(0))

    def quantile(self, chance: Decimal) -> Decimal:
        """Return the fewest units that suffice with this chance."""
        return self.plus + sum((part.each * part.count.quantile(chance) for part in self.parts), Decimal(0))

    def at_most(self, x: Decimal) -> Decimal:
        """Return the chance that no more than x are wanted."""
        if len(self.parts) == 1:
            return self.parts[0].count.at_most((x - self.plus) / self.parts[0].each)
        return self._chance(x)

    def _chance(self, x: Decimal) -> Decimal:
        low, high = Decimal(0), Decimal(1)
        if x >= self.quantile(high) or x < self.quantile(low):
            return high if x >= self.quantile(high) else low
        for _ in range(STEPS):
            middle = (low + high) / 2
            if middle in (low, high):
                break
            low, high = (middle, high) if self.quantile(middle) < x else (low, middle)
        return high

    def above(self, x: Decimal) -> Decimal:
        """Return the units expected above x."""
        if len(self.parts) == 1:
            [part] = self.parts
            return part.each * part.count.above((x - self.plus) / part.each)
        if x <= self.quantile(Decimal(0)):
            return self.mean - x
        chance = self._chance(x)
        return sum(
            (part.each * part.count.above(part.count.quantile(chance)) for part in self.parts), Decimal(0)
        )
