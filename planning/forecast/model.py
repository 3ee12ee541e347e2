"""The question and the answer of the forecast: who joined and stayed, month by month, and how many boxes that makes."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from planning.calendar import YearMonth
from planning.overs import Quantiles

MOST_MONTHS, MOST_MEMBERS, MOST_PATHS = 240, 10_000_000, 100_000


class ForecastError(ValueError):
    """A history or a wish that cannot be; the message says where and what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PastMonth:
    """A month that is over. skipped, paused: members who got no box. promotion: joining was advertised or made cheaper."""

    month: YearMonth
    skipped: int = 0
    paused: int = 0
    promotion: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Cohort:
    """People who joined in one month, and how many of them were members in each month since, that month included.

    Where they joined before the history begins, the counts begin with the history. Who comes back joins anew.
    """

    joined: YearMonth
    members: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Announced:
    """Boxes known to come on top or to fall away from a month on, up to and with `last` if that is given."""

    first: YearMonth
    boxes: int
    why: str
    last: YearMonth | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Override:
    """What somebody knows better for a month: surely from low to high, likely the likeliest; and why."""

    month: YearMonth
    low: int
    likely: int
    high: int
    why: str

    def __post_init__(self) -> None:
        if not 0 <= self.low <= self.likely <= self.high <= MOST_MEMBERS:
            raise ForecastError(f"{self.month}: low, likely and high rise from 0 to at most {MOST_MEMBERS:,}")
        if not self.why.strip():
            raise ForecastError(f"{self.month}: say why the forecast is set aside")


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastProblem:
    """A history of at least two months without gaps, rising, and what is known of the months ahead.

    promotions: months ahead in which joining is to be promoted. method: its key, if the choice is made already.
    tenures: it is known when those who left had joined; else one rate of loss for all is the only retention there is.
    ahead: months to be forecast. paths: futures drawn, with the same seed always the same. Raises ForecastError.
    """

    months: tuple[PastMonth, ...]
    cohorts: tuple[Cohort, ...]
    tenures: bool = True
    promotions: tuple[YearMonth, ...] = ()
    announced: tuple[Announced, ...] = ()
    overrides: tuple[Override, ...] = ()
    method: str | None = None
    ahead: int = 6
    paths: int = 4_000
    seed: int = 1

    def __post_init__(self) -> None:
        for fault in self._faults():
            raise ForecastError(fault)

    def _faults(self) -> Iterator[str]:
        if not 1 <= self.ahead <= 24 or not 100 <= self.paths <= MOST_PATHS or self.seed < 0:
            yield f"forecast 1 to 24 months by 100 to {MOST_PATHS:,} paths, with a seed from 0"
        if not 2 <= len(self.months) <= MOST_MONTHS:
            yield f"{len(self.months)} months of history: write 2 to {MOST_MONTHS}, four or more to be of use"
        for before, after in pairwise(one.month for one in self.months):
            if serial(after) <= serial(before):
                yield f"{after} stands after {before}: write the months from the earliest to the latest, each once"
            if serial(after) > serial(before) + 1:
                yield f"{month_of(serial(before) + 1)} is missing between {before} and {after}: write every month"
        yield from self._wrong_cohorts()
        yield from self._wrong_ahead()

    def _wrong_cohorts(self) -> Iterator[str]:
        first, last = self.first, self.first + len(self.months)
        known: set[YearMonth] = set()
        for one in self.cohorts:
            long = last - max(first, serial(one.joined))
            who = f"those who joined in {one.joined}"
            if one.joined in known:
                yield f"{who} stand here twice: write them in one line"
            known.add(one.joined)
            if long < 1:
                yield f"{who} come after the last month of the history, {self.months[-1].month}"
            if len(one.members) != long:
                yield f"{who}: {len(one.members)} counts, {long} months to {self.months[-1].month}"
            if any(not 0 <= count <= MOST_MEMBERS for count in one.members):
                yield f"{who}: a count is from 0 to {MOST_MEMBERS:,}"
            if any(later > earlier for earlier, later in pairwise(one.members)):
                yield f"{who} grow in number: who comes back joins anew in that month"
        for at, month in enumerate(self.months):
            members = sum(
                one.members[at - offset] for one in self.cohorts if (offset := self.start(one)) <= at
            )
            if min(month.skipped, month.paused) < 0 or month.skipped + month.paused > members:
                yield f"{month.month}: {month.skipped} skipped and {month.paused} paused, of {members} members"

    def _wrong_ahead(self) -> Iterator[str]:
        last = self.first + len(self.months)
        months = [*self.promotions, *(one.month for one in self.overrides)]
        for month in months:
            if not last <= serial(month) < last + self.ahead:
                yield f"{month} is not among the {self.ahead} months ahead"
        if len({one.month for one in self.overrides}) < len(self.overrides):
            yield "a month is overridden once only"
        for one in self.announced:
            if not one.why.strip() or serial(one.first) < last or abs(one.boxes) > MOST_MEMBERS:
                yield f"{one.first}: announce a month ahead, and say why"
            if one.last and serial(one.last) < serial(one.first):
                yield f"{one.first}: the announced change ends in {one.last}, before it begins"

    @property
    def first(self) -> int:
        """Number of the first month of the history."""
        return serial(self.months[0].month)

    def start(self, cohort: Cohort) -> int:
        """Return at which month of the history the counts of a cohort begin."""
        return max(0, serial(cohort.joined) - self.first)


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """A way to forecast, and how it did from month to month of the past, told only what was known by then.

    error: boxes it was off on the average of `tries` (month, months ahead) pairs; share: of the error of saying "as many as
    last month". held: percent of the tries that lay between its 10 % and 90 %. None where nothing could be tried.
    """

    key: str
    name: str
    tries: int
    error: Decimal | None
    share: Decimal | None
    held: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """How members stay. lost_first: percent of those who joined that leave in their first month, flat: of all, each month.

    alpha, beta: of the shifted beta-geometric; None where nobody has been a member for two months. log_likelihood: of the
    two. at_edge: the greatest likelihood lies where everybody is alike, or where nobody leaves.
    """

    flat: Decimal
    alpha: Decimal | None
    beta: Decimal | None
    log_likelihood: Decimal | None
    flat_log_likelihood: Decimal | None
    at_edge: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthAhead:
    """How many boxes a month may send. count: 101 quantiles, which is what the overs step reads as a distribution.

    joins, leaves: expected in the month. announced: boxes known to come or to fall away, in `count` already.
    override: what somebody knows better; `count` is then what they say, and `found` what was computed.
    """

    month: YearMonth
    count: Quantiles
    found: Quantiles
    mean: Decimal
    joins: Decimal
    leaves: Decimal
    announced: int
    override: Override | None

    def boxes(self, percent: int) -> int:
        """Return the count that is not passed with this chance in percent, from 0 to 100."""
        return int(self.count.points[percent].count)


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastResult:
    """The months ahead, by which method, and how all of them did. boxes: sent in each month of the history."""

    boxes: tuple[int, ...]
    months: tuple[MonthAhead, ...]
    method: str
    why: str
    methods: tuple[Method, ...]
    kept: Kept
    notes: tuple[str, ...]


def serial(month: YearMonth) -> int:
    """Return a number that rises by one each month."""
    return month.year * 12 + month.month - 1


def month_of(number: int) -> YearMonth:
    """Return the month of such a number."""
    return YearMonth(number // 12, number % 12 + 1)
