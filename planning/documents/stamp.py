"""What every paper carries, so that it can be told which plan it belongs to."""

from dataclasses import dataclass
from datetime import datetime

MARK_STEPS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """Plan id, version and time (aware, UTC) of the plan a paper was made from."""

    plan_id: str
    version: int
    made_at: datetime

    @property
    def text(self) -> str:
        """The stamp as printed on every page."""
        return f"Plan {self.plan_id}, version {self.version}, {self.made_at:%-d %b %Y %H:%M} UTC"


def mark_step(version: int) -> int:
    """Return at which step from the top a print of a version has its mark, from 1."""
    return (version - 1) % MARK_STEPS + 1


def mark_place(version: int) -> str:
    """Say where a print of a version has its mark."""
    return f"at step {mark_step(version)} of {MARK_STEPS} from the top of the right edge"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderStamp(Stamp):
    """The same for a paper that belongs to an order and not to a plan. plan_id: the order's number."""

    @property
    def text(self) -> str:
        """The stamp as printed on every page."""
        return f"{self.plan_id}, version {self.version}, {self.made_at:%-d %b %Y %H:%M} UTC"
