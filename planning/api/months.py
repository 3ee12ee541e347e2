"""Which month is asked about: the club's code and the month, such as RIVER and 2027-04."""

from typing import Annotated

from django.http import Http404
from ninja import Path

from kits.models import Month
from planning import load
from planning.models import Plan
from planning.run import Planned

Club = Annotated[str, Path(description="The club's code", min_length=1, max_length=40)]
MonthCode = Annotated[
    str, Path(description="The month, such as 2027-04", pattern=r"^[0-9]{4}-(0[1-9]|1[0-2])$")
]


def month_of(club: str, month: str) -> Month:
    """Return a month. Raises Http404."""
    found = Month.objects.filter(code=club, month=month).first()
    if found is None:
        raise Http404(f"There is no month {month} of a club {club}.")
    return found


def plan_of(club: str, month: str) -> tuple[Plan, Planned]:
    """Return the latest plan of a month. Raises Http404 where there is none that can be read."""
    row = month_of(club, month).plans.first()
    if row is None:
        raise Http404(f"The month {month} of the club {club} is not planned yet.")
    try:
        return row, load.planned(row)
    except load.EarlierPlanError as error:
        raise Http404(str(error)) from None
