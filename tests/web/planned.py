"""Plans in the database, with their papers, for the tests of pages. What is made of a book is kept for later tests."""

from datetime import UTC, datetime
from functools import partial

from django.conf import settings

from kits.models import Month
from planning import load, save
from planning.documents.paper import Paper
from planning.documents.papers import papers
from planning.models import Job, Plan, State
from planning.run import Planned, Written, costed, make_plan, write_papers

AT = datetime(2027, 3, 1, 9, tzinfo=UTC)
_planned: dict[tuple[str, int], Planned] = {}
_papers: dict[tuple[str, int], list[Paper]] = {}


def plan_of(month: Month, *, with_papers: bool = True) -> Plan:
    """Plan a month as its job does; tests/jobs shows that the job does so."""
    month.refresh_from_db()
    version = month.plans.count() + 1
    key = (month.fingerprint, version)
    if key not in _planned:
        book = load.month(month.pk)
        _planned[key] = costed(book, make_plan(book, version, AT))
    folder = f"{_planned[key].stamp.plan_id}/version-{version}"
    written = written_papers(key, month, folder) if with_papers else ()
    job = Job.objects.create(
        key=f"plan of {month.pk}", kind="plan", month=month, state=State.DONE, attempt=1, ended_at=AT
    )
    return save.plan(job, _planned[key], folder, written)


def written_papers(key: tuple[str, int], month: Month, folder: str) -> tuple[Written, ...]:
    """Write the papers of a plan."""
    planned = _planned[key]
    if key not in _papers:
        _papers[key] = [
            Paper(name=each.name, title=each.title, make=partial(bytes, each.make()))
            for each in papers(load.month(month.pk), planned.plan, planned.stamp, planned.curve)
        ]
    return write_papers(_papers[key], settings.ARTEFACTS_DIR / folder, planned.stamp)
