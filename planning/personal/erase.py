"""Erasing: names and addresses go, out of rows and of papers; numbers stay, so that stock, cost and boxes still add up.

What stays of somebody is a reference that leads to nobody. Papers with addresses cannot be changed, so those of the months
in question go as a whole; planning such a month again makes them anew, without the person.
"""

from datetime import date, timedelta

from django.conf import settings
from django.db.models import QuerySet

from kits.models import Month
from planning.calendar import IsoWeek, Weekday
from planning.changing import changing
from planning.intake import forget, refused_path
from planning.models import AddressChange, Artefact, BoxAct, BoxWork, Edit, Intake, Subscriber
from planning.rights.table import Area, paper_area

ERASED = "Erased"
BLANK = {
    "name": ERASED,
    "address_1": ERASED,
    "address_2": "",
    "address_3": "",
    "city": ERASED,
    "region": "",
    "postcode": "",
    "note": "",
    "active": False,
}
WITH_PEOPLE = (Area.PACKING, Area.ROSTER, Area.BOOK)


def erase_person(club: str, reference: str) -> int:
    """Erase somebody in all months of a club; return in how many they were. A second time finds nobody."""
    found = Subscriber.objects.filter(month__code=club, reference=reference).exclude(name=ERASED)
    months = Month.objects.filter(pk__in=found.values("month"))
    return sum(erase_in(month, reference) for month in months)


def erase_old_months(today: date, days: int) -> int:
    """Erase everybody in months that were over, and last changed, more than some days ago; return how many that were."""
    untouched = Month.objects.filter(saved_at__date__lt=today - timedelta(days))
    over = [one for one in untouched if ended(one) + timedelta(days) < today and has_people(one)]
    return sum(erase_in(month) for month in over)


def has_people(month: Month) -> bool:
    """Tell whether anybody of a month is not erased: before or behind that word, which an index finds at once."""
    return any(
        Subscriber.objects.filter(month=month, **{f"name__{beside}": ERASED}).exists()
        for beside in ("lt", "gt")
    )


def ended(month: Month) -> date:
    """Return the last day of a month's promised week."""
    return IsoWeek.parse(month.promised).day(Weekday.SUN)


def erase_in(month: Month, reference: str = "") -> bool:
    """Erase one person in a month, or everybody; True where anybody was there."""
    whose = {"reference": reference} if reference else {}
    with changing(month, "subscribers"):
        gone = Subscriber.objects.filter(month=month, **whose).exclude(name=ERASED).update(**BLANK)
        AddressChange.objects.filter(month=month, **whose).delete()
        Edit.objects.filter(month=month, table="subscribers").delete()
        for box in BoxWork.objects.filter(plan__month=month, **whose):
            BoxAct.objects.filter(plan=box.plan_id, serial=box.serial).update(note="")
        papers = papers_with_people(month)
        Artefact.objects.filter(pk__in=[paper.pk for paper in papers]).delete()
    for paper in papers:  # once nothing leads to them any more
        (settings.ARTEFACTS_DIR / paper.path).unlink(missing_ok=True)
    for intake in Intake.objects.filter(month=month):
        forget(intake)
        refused_path(intake).unlink(missing_ok=True)
    return bool(gone)


def papers_with_people(month: Month) -> list[Artefact]:
    """Return the papers of a month's plans that hold names or addresses."""
    papers: QuerySet[Artefact] = Artefact.objects.filter(plan__month=month)
    return [paper for paper in papers if paper_area(paper.name) in WITH_PEOPLE]
