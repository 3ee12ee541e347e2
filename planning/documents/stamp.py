"""What every paper carries, so that it can be told which plan it belongs to."""

from dataclasses import dataclass
from datetime import datetime


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


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderStamp(Stamp):
    """The same for a paper that belongs to an order and not to a plan. plan_id: the order's number."""

    @property
    def text(self) -> str:
        """The stamp as printed on every page."""
        return f"{self.plan_id}, version {self.version}, {self.made_at:%-d %b %Y %H:%M} UTC"
