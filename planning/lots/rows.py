"""What the club expects of the months to come, in rows."""

from dataclasses import dataclass

from planning.calendar import YearMonth


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """Units of a material a later month will use, as far as anyone knows.

    units: None where each forecast box is to take as much as this month's boxes do.
    """

    material: str
    needed_in: YearMonth
    units: int | None = None
