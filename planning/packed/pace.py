"""How a wave gets on: boxes an hour, and when it will be done at that pace."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from fractions import Fraction

WINDOW = timedelta(hours=1)  # the pace is that of the last hour: breaks and helpers come and go
SHORTEST = timedelta(minutes=1)  # two boxes closed in one second are no pace


@dataclass(frozen=True, slots=True)
class Pace:
    """boxes: in the wave, without those pulled. hourly: boxes an hour, None before the second box. finish: None likewise."""

    boxes: int
    done: int
    hourly: Fraction | None
    finish: datetime | None

    @property
    def left(self) -> int:
        """Boxes still to pack."""
        return self.boxes - self.done


def pace(boxes: int, done: int, lately: int, since: datetime | None, now: datetime) -> Pace:
    """Work out the pace. lately: boxes closed since `since`, which is at most WINDOW ago (that box apart)."""
    if since is None or lately < 1:
        return Pace(boxes, done, None, None)
    spent = max(now - since, SHORTEST)
    hourly = Fraction(lately * 3600 * 10**6, spent // timedelta(microseconds=1))
    left = boxes - done
    seconds = -(-left * 3600 // hourly)
    return Pace(boxes, done, hourly, now + timedelta(seconds=int(seconds)) if left > 0 else None)


def window(closed: Sequence[datetime], now: datetime) -> tuple[int, datetime | None]:
    """Return how many boxes were closed after the first one within the window, and when that was. closed: rising."""
    lately = [when for when in closed if when >= now - WINDOW]
    return (len(lately) - 1, lately[0]) if lately else (0, None)
