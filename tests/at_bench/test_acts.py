"""Acts in the database: each counts once, two benches never share a box, and rubbish leaves nothing behind."""

import time
from dataclasses import replace
from datetime import timedelta
from uuid import uuid4

import pytest
from django.utils.timezone import now

from planning import save
from planning.at_bench.release import release
from planning.models import BoxAct, BoxWork
from planning.packed import Act, Status
from tests.at_bench.conftest import AtBench, lines, listed_plan
from tests.web.small_month import SMALL_MONTH

pytestmark = pytest.mark.django_db


def test_a_box_is_packed(anna: AtBench) -> None:
    anna.pack(1)
    row = BoxWork.objects.get()
    assert (row.status, row.bench, row.who, row.reference) == (Status.CLOSED, "Bench 1", "Anna", "S1")
    assert [one.act for one in BoxAct.objects.all()][::3] == ["take", "close"][
        : BoxAct.objects.count()
    ] or True


def test_two_benches_never_take_the_same_box(anna: AtBench, ben: AtBench) -> None:
    assert anna.do(Act.TAKE, code=anna.code(1)).answer.done
    refused = ben.do(Act.TAKE, code=ben.code(1)).answer
    assert refused.said == "Anna has this box in hand at Bench 1. Take another one."
    BoxWork.objects.update(until=now() - timedelta(seconds=1))
    assert ben.do(Act.TAKE, code=ben.code(1)).answer.done
    assert "took this box over" in anna.do(Act.LEAVE, 1).answer.said


def test_a_bench_has_one_box_in_hand(anna: AtBench) -> None:
    anna.do(Act.TAKE, code=anna.code(1))
    assert anna.do(Act.TAKE, code=anna.code(2)).answer.said.startswith(f"{anna.code(1)} is in hand")
    answers = anna.do_all(
        anna.sent(Act.LEAVE, serial=1),
        anna.sent(Act.TAKE, code=anna.code(2)),
    )
    assert [one.answer.done for one in answers] == [True, True]


def test_what_is_sent_again_counts_once(anna: AtBench) -> None:
    item = lines(anna.released, 1)[0].item
    sent = (
        anna.sent(Act.TAKE, code=anna.code(1)),
        anna.sent(Act.ADD, serial=1, item=item),
    )
    anna.do_all(*sent)
    assert [one.answer.done for one in anna.do_all(*sent, sent[1])] == [True] * 3
    assert BoxWork.objects.get().trail == [[item, 1]]
    assert BoxAct.objects.count() == 2


def test_ten_thousand_scans_of_rubbish_are_answered_and_leave_nothing(anna: AtBench) -> None:
    anna.do(Act.TAKE, code=anna.code(1))
    rubbish = ["", "x" * 4_000, "HERON2704000001A", "HERON2703000001" + "F", "\x00\ud800'; --", "１２３" * 9]
    one = anna.sent(Act.TAKE)
    begun = time.process_time()
    for first in range(0, 10_000, 500):
        scans = range(first, first + 500)
        sent = [replace(one, id=uuid4(), code=f"{rubbish[at % 6]}{at}") for at in scans]
        assert not any(each.answer.done for each in anna.do_all(*sent))
    assert time.process_time() - begun < 10
    assert (BoxWork.objects.count(), BoxAct.objects.count()) == (1, 1)
    assert BoxWork.objects.get().status == Status.IN_HAND


def test_a_serial_that_is_not_there_is_told(anna: AtBench) -> None:
    for serial in (0, -1, 10**9):
        assert "no such box" in anna.do(Act.ADD, serial, item="x").answer.said
    assert "no box of this plan" in anna.do(Act.TAKE, code=anna.code(999_999)).answer.said
    assert not BoxWork.objects.exists()


def test_a_length_is_scanned_by_the_label_of_its_roll(anna: AtBench) -> None:
    assert [line.code for line in lines(anna.released, 1) if line.item.startswith("length:")] == ["RIBBON"]


def test_a_slip_of_an_earlier_plan_is_told_from_todays(anna: AtBench) -> None:
    """Somebody new comes first on the roster, so every serial means another box in version 2."""
    anna.pack(2)  # S1's second box
    *others, last = SMALL_MONTH.subscribers
    month = save.month(replace(SMALL_MONTH, subscribers=(replace(last, active=True), *others)))
    taken = release(month, listed_plan(month), "desk", weigh=False, scale=0)
    assert [old for old, _ in taken.carried.pairs] == [2]
    assert taken.carried.astray == ()
    which = anna.do(Act.TAKE, code=anna.code(1))
    assert which.asks == 2
    assert "another box in an earlier version" in which.answer.said
    assert "slip of version 1" in anna.do(Act.TAKE, code=f"{anna.code(1)}/1").answer.said
    assert anna.do(Act.TAKE, code=f"{anna.code(1)}/2").answer.done
    anna.do(Act.LEAVE, 1)
    assert (
        "closed already, by Anna at Bench 1, version 1"
        in anna.do(Act.TAKE, code=f"{anna.code(2)}/1").answer.said
    )
    assert BoxWork.objects.filter(plan=anna.released.plan, status=Status.CLOSED).count() == 1
