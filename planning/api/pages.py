"""Long answers come page by page: each says where the next one begins."""

from collections.abc import Sequence
from typing import Annotated, Any, Generic, Protocol, TypeVar

from ninja import Query, Schema

MOST = 500


class Numbered(Protocol):
    """A row that has a number, rising from row to row."""

    number: int


Row = TypeVar("Row", bound=Numbered)
Item = TypeVar("Item")

After = Annotated[
    int, Query(description="The last number of the page before; 0 begins", ge=0, le=1_000_000_000)
]
Limit = Annotated[int, Query(description=f"At most so many, up to {MOST}", ge=1, le=MOST)]


class Paged(Schema, Generic[Item]):
    """One page. next: what to ask `after` for the page behind it; none where this is the last."""

    count: int
    items: list[Item]
    next: int | None


def page_of(rows: Sequence[Row], after: int, limit: int) -> Paged[Any]:
    """Return the rows behind a number."""
    behind = [row for row in rows if row.number > after]
    shown = behind[:limit]
    return Paged[Any](count=len(rows), items=shown, next=shown[-1].number if len(behind) > limit else None)
