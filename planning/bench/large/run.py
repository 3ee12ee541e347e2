"""The rows of a large month, one after the other in one database."""

from collections.abc import Iterator

from planning.bench.large.listing import listing_rows
from planning.bench.large.pages import page_rows
from planning.bench.large.planning import planning_rows
from planning.bench.large.workers import worker_rows
from planning.bench.row import Row
from planning.bench.scratch import scratch
from planning.demo import demo_month
from planning.save import month as save_month

BOXES, PRINTED = 1_000_000, 100_000


def large_rows(boxes: int = BOXES, printed: int = PRINTED) -> Iterator[Row]:
    """Yield the rows. boxes: of the month that is planned and listed; printed: of the month that has all its papers made."""
    with scratch() as where:
        month = save_month(demo_month(boxes))
        yield from planning_rows(month, boxes)
        yield from listing_rows(month, boxes)
        yield from page_rows(month, boxes)
        yield from worker_rows(where, printed)
