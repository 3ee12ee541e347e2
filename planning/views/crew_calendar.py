"""The crew's days drawn as a calendar: a row a week, in each day its work against the minutes there are."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from kits.drawing import Anchor, Drawing, Group, Rect, Shape, Style, Text, hatched
from planning.calendar import DAY, Weekday
from planning.shipping import DayLoad
from planning.views.drawings import NEED

WIDE = 160.0
CELL, HIGH, HEAD = WIDE / 7, 17.0, 6.0
LETTERS, SMALL = 3.2, 2.8
BAR = 4.2


def crew_calendar(days: Sequence[DayLoad], description: str) -> Drawing:
    """Draw the weeks from the first day of the crew to the last. days: in their order, at least one."""
    monday = days[0].day - days[0].day.weekday() * DAY
    weeks = (days[-1].day - monday).days // 7 + 1
    most = max([float(day.capacity + day.limit) for day in days]) or 1.0
    shapes: list[Shape] = [
        Text(number * CELL + 1, HEAD - 1.6, weekday.value, LETTERS) for number, weekday in enumerate(Weekday)
    ]
    by_day = {one.day: one for one in days}
    for week in range(weeks):
        shapes += week_shapes(monday + 7 * week * DAY, HEAD + week * HIGH, by_day, most)
    return Drawing(
        WIDE, HEAD + weeks * HIGH + 0.4, "The crew's days, load against capacity", description, tuple(shapes)
    )


def week_shapes(monday: date, top: float, by_day: Mapping[date, DayLoad], most: float) -> Iterator[Shape]:
    """Yield the seven days of a week."""
    for number in range(7):
        day, left = monday + number * DAY, number * CELL + 0.2
        yield Rect(left, top, CELL - 0.4, HIGH - 0.4, Style.OUTLINE)
        yield Text(left + 0.9, top + 4, f"{day:%-d %b}", SMALL)
        if day in by_day:
            yield from day_shapes(by_day[day], left + 1, top, most)


def day_shapes(one: DayLoad, left: float, top: float, most: float) -> Iterator[Shape]:
    """Yield a day's boxes, its bar, and its minutes: the crew's own as a frame, overtime there may be hatched."""
    scale, bar = (CELL - 2.4) / most, top + 6.0
    own, limit = one.capacity * scale, one.limit * scale
    work = min(float(one.minutes), float(one.capacity)) * scale
    over = float(one.overtime) * scale
    if one.boxes:
        yield Text(left + CELL - 2.4, top + 4, f"{one.boxes:,}", LETTERS, Anchor.END)
    yield Rect(left, bar, work, BAR, Style.NOTE)
    yield Rect(left, bar, own, BAR, Style.OUTLINE)
    if limit:
        yield hatched(left + own, bar, limit, BAR)
        yield Rect(left + own, bar, limit, BAR, Style.OUTLINE)
    if over:
        yield Group((Rect(left + own, bar, over, BAR, Style.NOTE),), NEED)
    yield Text(left, bar + BAR + 3.8, f"{one.minutes:,.0f} of {one.capacity:,}", SMALL)
