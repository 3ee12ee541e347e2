"""Planning a large month against a small one, from the roster as it is counted: decisions are made on classes of boxes."""

from collections.abc import Iterator
from datetime import UTC, datetime
from functools import partial

from kits.models import Month
from planning import load
from planning.bench.rates import cpu_medians, within
from planning.bench.row import Row, timed
from planning.demo import demo_month
from planning.flow import plan_month
from planning.listing import CountedRoster, count_roster
from planning.month import Month as Book
from planning.problems import roster_problem
from planning.run import Counted, Planned, make_plan

SMALL = 1_000  # boxes
MOST = 1.5  # times as long
AT = datetime(2027, 3, 1, 9, tzinfo=UTC)


def planning_rows(month: Month, boxes: int) -> Iterator[Row]:
    """Yield one row: how many times as long a month takes as one of SMALL boxes."""
    small = demo_month(SMALL)
    book = load.to_plan_by(month)
    counted, seconds = timed(partial(count_roster, month.pk, book))
    large, little = cpu_medians(
        partial(plan_month, book, people=counted.problem),
        partial(plan_month, small, people=roster_problem(small)),
    )
    ended = f"{within(large / little, MOST)} times as long as {SMALL:,}; counting the roster before takes {seconds:.1f} s"
    yield Row(f"Planning {boxes:,} boxes, ms", None, int(large * 1000), None, ended, large)


def decided(month: Month) -> tuple[Planned, CountedRoster]:
    """Plan a month as its job does."""
    book: Book = load.to_plan_by(month)
    counted = count_roster(month.pk, book)
    return make_plan(book, 1, AT, counted=Counted("BENCH", counted.problem)), counted
