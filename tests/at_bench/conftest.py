"""A month that is planned, listed and released to two benches."""

from dataclasses import dataclass
from uuid import uuid4

import pytest
from django.utils.timezone import now

from kits.models import Month
from planning import load, save
from planning.at_bench.acts import Answered, Sent, do_acts
from planning.at_bench.boxes import read_box
from planning.at_bench.people import add_packer, bench_of
from planning.at_bench.release import release
from planning.at_bench.released import Released, released
from planning.documents.codes import box_code
from planning.jobs.plan_month import id_of
from planning.listing import count_roster, list_chunk, start_listing
from planning.models import Bench, Job, Plan, State
from planning.month import Month as Book
from planning.packed import Act, Line
from planning.run import Counted, make_plan
from tests.web.small_month import SMALL_MONTH


def listed_plan(month: Month) -> Plan:
    """Plan a month and list its boxes, as its job does."""
    book = load.to_plan_by(month)
    counted = count_roster(month.pk, book)
    version = month.plans.count() + 1
    planned = make_plan(book, version, now(), counted=Counted(id_of(month), counted.problem))
    job = Job.objects.create(key=f"{month.pk} {version}", kind="plan", month=month, state=State.DONE)
    plan = save.begun(job, planned)
    start_listing(plan, planned.plan, counted)
    for chunk in plan.listing.chunks:
        list_chunk(plan, chunk)
    Plan.every.filter(pk=plan.pk).update(ready=True)
    return Plan.objects.get(pk=plan.pk)


def release_month(book: Book = SMALL_MONTH, *, weigh: bool = False) -> Month:
    """Take a month in, plan it, and release it."""
    month = save.month(book)
    release(month, listed_plan(month), "desk", weigh=weigh, scale=50)
    return month


@dataclass
class AtBench:
    """Somebody at a bench of a month."""

    month: Month
    bench: Bench
    who: str = "Anna"

    @property
    def released(self) -> Released:
        """What is packed."""
        found = released(self.month)
        assert found is not None
        return found

    def code(self, serial: int) -> str:
        """Return what is scanned of a box."""
        return box_code(self.released.planned.club.code, self.released.planned.club.month, serial)

    def do(self, act: Act, serial: int = 0, **more: object) -> Answered:
        """Do one act."""
        return self.do_all(self.sent(act, serial, **more))[0]

    def sent(self, act: Act, serial: int = 0, **more: object) -> Sent:
        """Return an act as the bench sends it."""
        plan = self.released.plan.pk
        return Sent(id=uuid4(), plan=plan, act=act, who=self.who, serial=serial, **more)  # type: ignore[arg-type]

    def do_all(self, *sent: Sent) -> list[Answered]:
        """Do some acts at once."""
        return do_acts(self.released, self.bench, sent)

    def pack(self, serial: int) -> None:
        """Pack a whole box."""
        assert self.do(Act.TAKE, code=self.code(serial)).answer.done
        for line in lines(self.released, serial):
            assert self.do(Act.ADD, serial, item=line.item, count=line.count).answer.done
        closed = self.do(Act.CLOSE, serial)
        assert closed.answer.done, closed.answer.said


def lines(released: Released, serial: int) -> tuple[Line, ...]:
    """Return the list of a box."""
    return released.list_of(read_box(released, serial)[1]).lines


@pytest.fixture
def anna(db: None) -> AtBench:
    """Anna at bench 1."""
    month = release_month()
    add_packer(month.code, "Anna", "2580")
    return AtBench(month, bench_of(month.code, "Bench 1", "a"))


@pytest.fixture
def ben(anna: AtBench) -> AtBench:
    """Ben at bench 2."""
    return AtBench(anna.month, bench_of(anna.month.code, "Bench 2", "b"), "Ben")
