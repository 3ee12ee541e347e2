"""What the club expects of the months to come, in rows."""

from dataclasses import dataclass

from planning.calendar import YearMonth


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """Units of a material a later month will use, as far as anyone knows."""

    material: str
    needed_in: YearMonth
    units: int
