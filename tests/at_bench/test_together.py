"""Several benches at the same moment: every box has one winner, and one batch sent by two tabs counts once."""

from uuid import uuid4

import pytest

from planning.at_bench.acts import Sent, do_acts
from planning.at_bench.people import bench_of
from planning.models import Bench, BoxAct, BoxWork
from planning.packed import Act, Status
from tests.at_bench.conftest import AtBench, release_month
from tests.stock.test_together import PEOPLE, at_once

pytestmark = pytest.mark.django_db(transaction=True)


def test_of_benches_that_take_a_box_at_once_one_has_it() -> None:
    month = release_month()
    at = [AtBench(month, bench_of(month.code, f"Bench {one}", str(one))) for one in range(PEOPLE)]
    code = at[0].code(1)
    got = at_once(lambda number: at[number].do(Act.TAKE, code=code).answer.done)
    assert sorted(map(bool, got)) == [False] * (PEOPLE - 1) + [True]
    row = BoxWork.objects.get()
    assert (row.status, BoxAct.objects.get().bench) == (Status.IN_HAND, row.bench)


def test_one_batch_sent_at_once_counts_once() -> None:
    month = release_month()
    one = AtBench(month, bench_of(month.code, "Bench 1", "a"))
    batch = [one.sent(Act.TAKE, code=one.code(1)), one.sent(Act.ADD, 1, item="piece:TAG")]
    got = at_once(lambda number: [each.answer.done for each in one.do_all(*batch)])
    assert got == [[True, True]] * PEOPLE
    assert BoxWork.objects.get().trail == [["piece:TAG", 1]]
    assert BoxAct.objects.count() == 2


def test_benches_whose_batches_cross_never_wait_for_each_other_for_ever() -> None:
    """Each asks for the same boxes in another order; locks are taken by serial, so all get an answer."""
    month = release_month()
    at = [AtBench(month, bench_of(month.code, f"Bench {one}", str(one))) for one in range(PEOPLE)]
    released = at[0].released
    codes = [at[0].code(one) for one in (1, 2, 3, 4)]

    def ask(number: int) -> int:
        turned = codes[number:] + codes[:number]
        sent = [Sent(id=uuid4(), plan=released.plan.pk, act=Act.TAKE, who="x", code=code) for code in turned]
        return sum(each.answer.done for each in do_acts(released, at[number].bench, sent))

    assert at_once(ask) == [1] * PEOPLE
    assert BoxWork.objects.filter(status=Status.IN_HAND).count() == Bench.objects.count() == PEOPLE
