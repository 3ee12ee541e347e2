"""The club's own past and what it knows of the months ahead, in rows. All counts are boxes: who takes two counts twice."""

from dataclasses import dataclass

from planning.calendar import YearMonth


@dataclass(frozen=True, slots=True, kw_only=True)
class PastTier:
    """A tier in a month that is over: boxes taken up and given up since the month before, and sent.

    skipped, paused: paid-up boxes that were not sent. boxes + skipped + paused are the members at the end.
    """

    in_month: YearMonth
    tier: str
    joined: int = 0
    left: int = 0
    skipped: int = 0
    paused: int = 0
    boxes: int = 0

    @property
    def members(self) -> int:
        """Boxes somebody is subscribed to."""
        return self.boxes + self.skipped + self.paused


@dataclass(frozen=True, slots=True, kw_only=True)
class Stayed:
    """Of the boxes taken up in one month, how many somebody was still subscribed to in another; over all tiers."""

    joined: YearMonth
    in_month: YearMonth
    members: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PromotedMonth:
    """A month, past or to come, in which joining is advertised or made cheaper."""

    in_month: YearMonth
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Announcement:
    """Boxes known to come on top (or, below 0, to fall away) from a month on, up to and with `last` if that is given."""

    first: YearMonth
    last: YearMonth | None = None
    boxes: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CountByHand:
    """What somebody knows better than the forecast: boxes of all tiers in a month, and why."""

    in_month: YearMonth
    low: int
    likely: int
    high: int
    why: str
