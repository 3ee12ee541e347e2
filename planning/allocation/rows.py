"""What may stand in for what, in rows."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SubstituteRow:
    """A material that may go into boxes instead of another that is short: so many units for one."""

    material: str
    instead: str
    per: int = 1
    note: str = ""
