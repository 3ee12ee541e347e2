"""How many it may be: distributions of a count, each with what is expected beyond a quantity.

Chances are Decimals of as many digits as the caller's context holds; no binary float is in them. Each kind answers three
questions: the chance of at most x, the smallest x with a chance of at least p, and what is expected above x.
"""

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from itertools import accumulate, pairwise
from typing import Literal

from planning.overs.errors import OversError

HALF, ONE, ZERO = Decimal("0.5"), Decimal(1), Decimal(0)
STEPS = 200  # halvings and terms of series, far more than any context's digits ask for
FAINT = Decimal("1e-36")
LARGEST_MEAN = 100_000  # of a Poisson count, whose every chance is worked out


@dataclass(frozen=True)
class Triangle:
    """Surely not fewer than `low`, surely not more than `high`, `likely` the likeliest."""

    low: Decimal
    likely: Decimal
    high: Decimal
    kind: Literal["triangle"] = "triangle"

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.likely <= self.high:
            raise OversError(
                f"low {self.low:,}, likely {self.likely:,} and high {self.high:,} are out of order: write them rising"
            )

    @property
    def mean(self) -> Decimal:
        """The count expected."""
        return (self.low + self.likely + self.high) / 3

    def at_most(self, x: Decimal) -> Decimal:
        """Return the chance of at most x."""
        if x >= self.high or x < self.low:
            return ONE if x >= self.high else ZERO
        if x < self.likely:
            return (x - self.low) ** 2 / ((self.high - self.low) * (self.likely - self.low))
        return 1 - (self.high - x) ** 2 / ((self.high - self.low) * (self.high - self.likely))

    def quantile(self, chance: Decimal) -> Decimal:
        """Return the smallest x with at least this chance."""
        wide = self.high - self.low
        if chance * wide <= self.likely - self.low:
            return self.low + (chance * wide * (self.likely - self.low)).sqrt()
        return self.high - ((1 - chance) * wide * (self.high - self.likely)).sqrt()

    def above(self, x: Decimal) -> Decimal:
        """Return the count expected above x: the mean of what x leaves short."""
        if x <= self.low:
            return self.mean - x
        if x >= self.high:
            return ZERO
        wide = self.high - self.low
        if x < self.likely:
            return self.mean - x + (x - self.low) ** 3 / (3 * wide * (self.likely - self.low))
        return (self.high - x) ** 3 / (3 * wide * (self.high - self.likely))


@dataclass(frozen=True)
class QuantilePoint:
    """A count, and the chance in percent that it is no more."""

    percent: Decimal
    count: Decimal


@dataclass(frozen=True)
class Quantiles:
    """Some quantiles, with straight lines between them; the outer lines run on to 0 and 100 %, and not below 0."""

    points: tuple[QuantilePoint, ...]
    kind: Literal["quantiles"] = "quantiles"

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise OversError("write at least two quantiles, such as 10 % and 90 %")
        rising = all(a.percent < b.percent and a.count <= b.count for a, b in pairwise(self.points))
        if (
            not rising
            or self.points[0].percent < 0
            or self.points[-1].percent > 100
            or self.points[0].count < 0
        ):
            raise OversError("quantiles rise: from 0 to 100 %, and with them the counts")

    @cached_property
    def line(self) -> tuple[tuple[Decimal, Decimal], ...]:
        """The corners of the quantile function from 0 to 1."""
        known = [(one.percent / 100, one.count) for one in self.points]
        (a, b), (y, z) = (known[0], known[1]), (known[-1], known[-2])
        first = max(ZERO, b[1] - (b[1] - a[1]) / (b[0] - a[0]) * b[0])
        last = z[1] + (y[1] - z[1]) / (y[0] - z[0]) * (1 - z[0])
        inner = [one for one in known if 0 < one[0] < 1]
        return ((ZERO, first), *inner, (ONE, last))

    @property
    def mean(self) -> Decimal:
        """The count expected."""
        return self.above(ZERO)

    def at_most(self, x: Decimal) -> Decimal:
        """Return the chance of at most x."""
        if x < self.line[0][1]:
            return ZERO
        for (p, low), (q, high) in pairwise(self.line):
            if x < high:
                return p + (q - p) * (x - low) / (high - low)
        return ONE

    def quantile(self, chance: Decimal) -> Decimal:
        """Return the smallest x with at least this chance."""
        for (p, low), (q, high) in pairwise(self.line):
            if chance <= q:
                return low + (high - low) * (chance - p) / (q - p)
        return self.line[-1][1]

    def above(self, x: Decimal) -> Decimal:
        """Return the count expected above x."""
        total = ZERO
        for (p, low), (q, high) in pairwise(self.line):
            if x <= low:
                total += (q - p) * ((low + high) / 2 - x)
            elif x < high:
                total += (q - p) * (high - x) ** 2 / (2 * (high - low))
        return total


@dataclass(frozen=True)
class Uniform:
    """Every count between two is as likely as another."""

    low: Decimal
    high: Decimal
    kind: Literal["uniform"] = "uniform"

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.high:
            raise OversError(f"low {self.low:,} and high {self.high:,} are out of order: write them rising")

    @cached_property
    def line(self) -> Quantiles:
        """The same as quantiles."""
        return Quantiles((QuantilePoint(ZERO, self.low), QuantilePoint(Decimal(100), self.high)))

    @property
    def mean(self) -> Decimal:
        """The count expected."""
        return (self.low + self.high) / 2

    def at_most(self, x: Decimal) -> Decimal:
        """Return the chance of at most x."""
        return self.line.at_most(x)

    def quantile(self, chance: Decimal) -> Decimal:
        """Return the smallest x with at least this chance."""
        return self.line.quantile(chance)

    def above(self, x: Decimal) -> Decimal:
        """Return the count expected above x."""
        return self.line.above(x)


@dataclass(frozen=True)
class Normal:
    """The bell curve."""

    mean: Decimal
    deviation: Decimal
    kind: Literal["normal"] = "normal"

    def __post_init__(self) -> None:
        if self.deviation <= 0:
            raise OversError("a standard deviation is more than 0")

    def at_most(self, x: Decimal) -> Decimal:
        """Return the chance of at most x."""
        return normal_chance((x - self.mean) / self.deviation)

    def quantile(self, chance: Decimal) -> Decimal:
        """Return x with this chance, by halving."""
        low, high = Decimal(-12), Decimal(12)
        for _ in range(STEPS):
            middle = (low + high) / 2
            if middle in (low, high):
                break
            low, high = (middle, high) if normal_chance(middle) < chance else (low, middle)
        return self.mean + self.deviation * high

    def above(self, x: Decimal) -> Decimal:
        """Return the count expected above x."""
        z = (x - self.mean) / self.deviation
        return self.deviation * (bell(z) - z * (1 - normal_chance(z)))


def bell(z: Decimal) -> Decimal:
    """Return the density of the standard normal distribution."""
    return (-z * z / 2).exp() / (2 * PI).sqrt()


PI = Decimal("3.14159265358979323846264338327950288419716939937510582")


def normal_chance(z: Decimal) -> Decimal:
    """Return the chance of at most z: 1/2 + density x (z + z^3/3 + z^5/15 + ...), a series that ends for every z."""
    if abs(z) > 12:
        return ONE if z > 0 else ZERO
    term = total = z
    odd = 1
    while abs(term) > FAINT:
        odd += 2
        term = term * z * z / odd
        total += term
    return HALF + bell(z) * total


@dataclass(frozen=True)
class Poisson:
    """A count of independent events, known by its mean."""

    mean: Decimal
    kind: Literal["poisson"] = "poisson"

    def __post_init__(self) -> None:
        if not 0 < self.mean <= LARGEST_MEAN:
            raise OversError(f"the mean of a Poisson count is more than 0 and at most {LARGEST_MEAN:,}")

    @cached_property
    def listed(self) -> "Listed":
        """Every count with a chance worth telling."""
        chance, count = (-self.mean).exp(), 0
        points = []
        while count <= self.mean or chance > FAINT:
            points.append(ListedCount(Decimal(count), chance))
            count += 1
            chance = chance * self.mean / count
        return Listed(tuple(points))

    def at_most(self, x: Decimal) -> Decimal:
        """Return the chance of at most x."""
        return self.listed.at_most(x)

    def quantile(self, chance: Decimal) -> Decimal:
        """Return the smallest count with at least this chance."""
        return self.listed.quantile(chance)

    def above(self, x: Decimal) -> Decimal:
        """Return the count expected above x."""
        return self.listed.above(x)


@dataclass(frozen=True)
class ListedCount:
    """A count and its weight: its chance, or how often it was seen."""

    count: Decimal
    weight: Decimal = ONE


@dataclass(frozen=True)
class Listed:
    """Counts one by one, rising, each with its weight: chances, or how often each was seen."""

    points: tuple[ListedCount, ...]
    kind: Literal["listed"] = "listed"

    def __post_init__(self) -> None:
        if not self.points or sum(one.weight for one in self.points) <= 0:
            raise OversError("list at least one count with a weight above 0")
        if any(a.count >= b.count for a, b in pairwise(self.points)) or self.points[0].count < 0:
            raise OversError("listed counts rise from 0, each written once")
        if min(one.weight for one in self.points) < 0:
            raise OversError("a weight is never negative")

    @cached_property
    def sums(self) -> tuple[tuple[Decimal, Decimal], ...]:
        """Weight, and weight times count, of all up to each point."""
        weights = accumulate(one.weight for one in self.points)
        worths = accumulate(one.weight * one.count for one in self.points)
        return tuple(zip(weights, worths, strict=True))

    @property
    def mean(self) -> Decimal:
        """The count expected."""
        weight, worth = self.sums[-1]
        return worth / weight

    def _up_to(self, x: Decimal) -> tuple[Decimal, Decimal]:
        from bisect import bisect_right

        at = bisect_right(self.points, x, key=lambda one: one.count)
        return self.sums[at - 1] if at else (ZERO, ZERO)

    def at_most(self, x: Decimal) -> Decimal:
        """Return the chance of at most x."""
        return self._up_to(x)[0] / self.sums[-1][0]

    def quantile(self, chance: Decimal) -> Decimal:
        """Return the smallest count with at least this chance."""
        wanted = chance * self.sums[-1][0]
        for one, (weight, _) in zip(self.points, self.sums, strict=True):
            if weight >= wanted:
                return one.count
        return self.points[-1].count

    def above(self, x: Decimal) -> Decimal:
        """Return the count expected above x."""
        weight, worth = self._up_to(x)
        all_weight, all_worth = self.sums[-1]
        return (all_worth - worth - x * (all_weight - weight)) / all_weight


Count = Triangle | Quantiles | Uniform | Normal | Poisson | Listed
