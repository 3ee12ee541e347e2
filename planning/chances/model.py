"""The question and the answer of the chances step: a month's profit and cost per kit while much of it is not known yet.

Amounts are Decimals of at most four places. In the scenarios they are whole ten-thousandths, so every scenario adds up
exactly.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planning.overs import Count

PARTS = 10_000  # of a unit of money, and of a percent
MOST_BOXES, MOST_MONEY, MOST_SCENARIOS, MOST_LINES = 10_000_000, 1_000_000_000_000, 200_000, 400
MOST_IN_ALL = (
    20_000_000  # of all tiers' amounts for one box, so that 10 million posted twice still fit 64 bits
)
MOST_TIMES = 10_000  # of a line, for one kit
NOTHING = Decimal(0)


class ChancesError(ValueError):
    """A range, a quantity or an amount that cannot be; the message says which and what is allowed."""


class Per(StrEnum):
    """What an amount is paid for: each kit made, each box posted, or once a month."""

    KIT = "kit"
    BOX = "box"
    MONTH = "month"


@dataclass(frozen=True, slots=True)
class Range:
    """Surely not less than `low`, surely not more than `high`, `likely` the likeliest; all alike where it is known."""

    low: Decimal
    likely: Decimal
    high: Decimal

    def __post_init__(self) -> None:
        if not all(one.is_finite() for one in (self.low, self.likely, self.high)):
            raise ChancesError("low, likely and high are numbers")
        if not 0 <= self.low <= self.likely <= self.high <= MOST_MONEY:
            raise ChancesError(
                f"low {self.low}, likely {self.likely}, high {self.high}: rising, 0 to {MOST_MONEY:,}"
            )
        if any(one * PARTS % 1 for one in (self.low, self.likely, self.high)):
            raise ChancesError(f"low {self.low}, likely {self.likely}, high {self.high}: at most four places")

    @classmethod
    def sure(cls, amount: Decimal) -> "Range":
        """Return what is known for certain."""
        return cls(amount, amount, amount)

    @property
    def known(self) -> bool:
        """Nothing about it is uncertain."""
        return self.low == self.high

    @property
    def mean(self) -> Decimal:
        """What it is on average."""
        return (self.low + self.likely + self.high) / 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """An amount paid for each kit, each box or once. surcharged: the carrier's surcharge is on it.

    takes: how many times a kit or box of each tier pays it, a tier that is not named none; empty: every one once. What one
    kit pays is rounded half up to four places.
    """

    name: str
    per: Per
    amount: Range
    takes: tuple[tuple[str, Decimal], ...] = ()
    surcharged: bool = False

    def times(self, tier: str) -> Decimal:
        """Return how many times a kit or box of a tier pays it."""
        return dict(self.takes).get(tier, NOTHING) if self.takes else Decimal(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class GoodsStep:
    """What the goods of one kit cost once so many kits are made, and what is paid once with them.

    once: below 0 where other tiers' goods become cheaper by it.
    """

    from_kits: int
    each: Decimal
    once: Decimal = NOTHING


@dataclass(frozen=True, slots=True, kw_only=True)
class TierChance:
    """A tier: how many boxes may be wanted, and how many kits are to be made.

    price: of a box. goods: of one kit, by kits made. worth: of a kit left over. short: what a box costs that goes short,
    besides its price that is not taken.
    """

    code: str
    name: str
    wanted: Count
    kits: int
    price: Decimal
    goods: tuple[GoodsStep, ...] = (GoodsStep(from_kits=1, each=NOTHING),)
    worth: Decimal = NOTHING
    short: Decimal = NOTHING

    def __post_init__(self) -> None:
        if not 0 <= self.kits <= MOST_BOXES:
            raise ChancesError(f"{self.name}: kits to make are from 0 to {MOST_BOXES:,}")
        once = (abs(step.once) for step in self.goods)
        for amount in (self.price, self.worth, self.short, *(step.each for step in self.goods), *once):
            Range.sure(amount)
        steps = [step.from_kits for step in self.goods]
        if not steps or steps != sorted(set(steps)) or steps[0] < 1:
            raise ChancesError(
                f"{self.name}: write the goods' prices from the smallest quantity up, from 1 on"
            )

    def goods_step(self, kits: int) -> GoodsStep:
        """Return what goods cost if so many kits are made; fewer than the first step pay its price."""
        return next((one for one in reversed(self.goods) if one.from_kits <= kits), self.goods[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class ChancesProblem:
    """A month's tiers, what is paid besides, and rates in percent. Tiers rise and fall together. Raises ChancesError.

    spoiled: of kits made; damaged: of boxes sent, each sent again while kits are left, else its price is given back.
    surcharge: on the surcharged lines. scenarios: months drawn, the same for the same seed.
    """

    tiers: tuple[TierChance, ...]
    lines: tuple[Line, ...] = ()
    spoiled: Range = Range(NOTHING, NOTHING, NOTHING)
    damaged: Range = Range(NOTHING, NOTHING, NOTHING)
    surcharge: Range = Range(NOTHING, NOTHING, NOTHING)
    scenarios: int = 10_000
    seed: int = 1
    points: int = 15

    def __post_init__(self) -> None:
        codes, names = [one.code for one in self.tiers], [one.name for one in self.lines]
        if not codes or len(set(codes)) < len(codes) or len(set(names)) < len(names):
            raise ChancesError("there is at least one tier, and each tier and each line has its own name")
        if len(codes) + len(names) > MOST_LINES:
            raise ChancesError(f"at most {MOST_LINES} tiers and lines in all")
        for one in self.lines:
            if any(not 0 <= times <= MOST_TIMES or times * PARTS % 1 for _, times in one.takes):
                raise ChancesError(
                    f"{one.name}: a kit pays it 0 to {MOST_TIMES:,} times, with at most four places"
                )
        if lost := [tier for one in self.lines for tier, _ in one.takes if tier not in codes]:
            raise ChancesError(f"{lost[0]} is none of the tiers {', '.join(codes)}")
        if self.in_all > MOST_IN_ALL:
            raise ChancesError(
                f"the amounts of a box come to {self.in_all:,.0f} at most: no more than {MOST_IN_ALL:,}"
            )
        if self.spoiled.high > 100 or self.damaged.high > 100:
            raise ChancesError("no more than 100 percent is spoiled or damaged")
        if not 100 <= self.scenarios <= MOST_SCENARIOS or self.seed < 0 or not 3 <= self.points <= 100:
            raise ChancesError(f"100 to {MOST_SCENARIOS:,} scenarios, 3 to 100 points, a seed from 0")

    @property
    def in_all(self) -> Decimal:
        """The most that one box of every tier may move the profit by."""
        each = (
            one.amount.high * max(one.times(tier.code), Decimal(one.surcharged))
            for one in self.lines
            for tier in self.tiers
            if one.per is not Per.MONTH or one.surcharged
        )
        goods = (
            one.price + one.short + one.worth + max(step.each for step in one.goods) for one in self.tiers
        )
        return sum(goods, NOTHING) + sum(each, NOTHING) * (1 + self.surcharge.high / 100)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """A figure on average, and not passed with 10, 50 and 90 percent."""

    mean: Decimal
    low: Decimal
    middle: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class TierMonth:
    """What became of a tier in one scenario: boxes wanted, kits spoiled, boxes sent, damaged, sent again; kits left."""

    code: str
    kits: int
    wanted: int
    spoiled: int
    sent: int
    damaged: int
    again: int
    left: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Scenario:
    """One drawn month, to add up by hand. percent: of the scenarios that bring no more profit.

    amounts: of each line, the surcharge included. profit = income - cost; income: prices of the boxes that arrived.
    """

    percent: int
    tiers: tuple[TierMonth, ...]
    amounts: tuple[tuple[str, Decimal], ...]
    surcharge: Decimal
    income: Decimal
    cost: Decimal
    profit: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """What one uncertainty does by itself: profit on average with it at its 10 % and at its 90 %, all else as drawn."""

    source: str
    at_low: Decimal
    at_high: Decimal

    @property
    def span(self) -> Decimal:
        """How far it moves the profit."""
        return abs(self.at_high - self.at_low)


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderPoint:
    """What making so many kits of a tier comes to, all else as drawn. loss: chance of a loss, in percent."""

    kits: int
    profit: Spread
    loss: Decimal
    short: Decimal
    left: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class TierOrders:
    """Making more or fewer kits of a tier.

    ratio: the chance of being enough at which one more kit pays for itself, at the price of the kits asked about;
    newsvendor: boxes that reach it, before spoilage. best: of the points, that of most profit on average. spoiled: kits
    that are not passed with 95 percent at the likely rate, exactly.
    """

    code: str
    ratio: Decimal
    newsvendor: Decimal
    best: OrderPoint
    points: tuple[OrderPoint, ...]
    spoiled: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ChancesResult:
    """The month's profit and cost per kit as distributions.

    cost_each: month's cost over boxes sent, over the scenarios that send any (None where none does). loss: chance of a loss
    in percent. within: three standard errors of the mean profit. swings: the widest first. question: what was asked.
    """

    profit: Spread
    cost_each: Spread | None
    loss: Decimal
    within: Decimal
    shown: tuple[Scenario, ...]
    swings: tuple[Swing, ...]
    orders: tuple[TierOrders, ...]
    question: ChancesProblem
    ended: str
