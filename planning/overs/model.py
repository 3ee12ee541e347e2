"""The question and the answer of the overs step."""

from dataclasses import dataclass
from decimal import Decimal

from planning.overs.errors import OversError
from planning.overs.spoilage import Operation, Pass
from planning.overs.together import Part, Together


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceStep:
    """Price each of the whole order once it reaches `from_quantity`."""

    from_quantity: int
    price: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Stocked:
    """One thing, a material or a whole kit, of which some are wanted and nobody knows yet how many.

    parts, plus: what is wanted. short: what one unit costs that is wanted and not there. prices: of one ordered. worth: of
    one left over; keeping: what keeping it costs. on_hand: there already, whatever is ordered. pack, minimum: of an order.
    chosen: units the buyer has decided to have, on hand included.
    """

    code: str
    name: str
    parts: tuple[Part, ...]
    plus: Decimal = Decimal(0)
    short: Decimal
    prices: tuple[PriceStep, ...] = (PriceStep(from_quantity=1, price=Decimal(0)),)
    worth: Decimal = Decimal(0)
    keeping: Decimal = Decimal(0)
    on_hand: int = 0
    pack: int = 1
    minimum: int = 0
    chosen: int | None = None

    def __post_init__(self) -> None:
        quantities = [one.from_quantity for one in self.prices]
        if not quantities or quantities != sorted(set(quantities)) or quantities[0] < 1:
            raise OversError(f"{self.name}: write its prices from the smallest quantity up, from 1 on")
        if min(self.short, self.worth, self.keeping, *(one.price for one in self.prices)) < 0:
            raise OversError(f"{self.name}: no price, worth or cost is negative")
        if self.pack < 1 or self.minimum < 0 or self.on_hand < 0 or (self.chosen or 0) < 0:
            raise OversError(f"{self.name}: a pack holds at least 1, and no quantity is negative")
        Together(self.parts, self.plus)

    @property
    def wanted(self) -> Together:
        """What is wanted."""
        return Together(self.parts, self.plus)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Units that must come out good of some operations, first to last."""

    code: str
    name: str
    good: int
    operations: tuple[Operation, ...]

    def __post_init__(self) -> None:
        if self.good < 0:
            raise OversError(f"{self.name}: the good count is never negative")


@dataclass(frozen=True, slots=True, kw_only=True)
class OversProblem:
    """Runs whose spoilage is worked out, and things whose count is uncertain. points: of each curve."""

    runs: tuple[Run, ...] = ()
    stocked: tuple[Stocked, ...] = ()
    points: int = 25

    def __post_init__(self) -> None:
        for codes in ([one.code for one in self.runs], [one.code for one in self.stocked]):
            if twice := sorted({code for code in codes if codes.count(code) > 1}):
                raise OversError(f"{', '.join(twice)} stands here twice. Give each its own code.")
        if not 2 <= self.points <= 1_000:
            raise OversError("a curve has 2 to 1,000 points")


@dataclass(frozen=True, slots=True, kw_only=True)
class RunOvers:
    """What each operation of a run takes in. start: of the first; overs: beyond the good count."""

    code: str
    name: str
    good: int
    start: int
    passes: tuple[Pass, ...]

    @property
    def overs(self) -> int:
        """Units beyond the good count."""
        return self.start - self.good


@dataclass(frozen=True, slots=True, kw_only=True)
class CurvePoint:
    """What having so many units comes to.

    order: units ordered for it. goods: what they cost. short, left: units expected short and left over. enough: the chance
    that nobody goes short. cost: goods + shorts - worth of what is left + keeping it, as expected.
    """

    quantity: int
    order: int
    goods: Decimal
    short: Decimal
    left: Decimal
    enough: Decimal
    cost: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class StockAnswer:
    """How much of one thing to have.

    question: what was asked. ratio: the chance of being enough at which one more is worth no more than it costs, at the
    price of `best`; quantile: the units that reach it, and what having just these would cost, were they sold in parts.
    best: the point of least cost that can be ordered. chosen: the buyer's own. curve: rising.
    """

    code: str
    name: str
    question: Stocked
    mean: Decimal
    ratio: Decimal
    quantile: Decimal
    quantile_cost: Decimal
    best: CurvePoint
    chosen: CurvePoint | None
    curve: tuple[CurvePoint, ...]

    @property
    def choice_costs(self) -> Decimal:
        """What the buyer's choice is expected to cost above the best."""
        return self.chosen.cost - self.best.cost if self.chosen else Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class OversResult:
    """An answer for every run and every thing, in the order of the question."""

    runs: tuple[RunOvers, ...]
    stocked: tuple[StockAnswer, ...]
    ended: str
