"""What pages keep from look to look is never older than what it was made of."""

from dataclasses import replace

import pytest

from kits.models import Month
from planning import load, save
from planning.models import Plan
from planning.run import Planned
from planning.views.kept import MOST, kept
from tests.web.small_month import SMALL_MONTH


def made(planned: Planned) -> object:
    return object()


def test_a_page_is_made_once_of_a_plan_and_anew_of_another_or_where_more_is_asked(plan: Plan) -> None:
    planned = load.planned(plan)
    other = replace(planned, plan=replace(planned.plan))
    assert kept(made, planned) is kept(made, planned)
    assert kept(made, other) is not kept(made, planned)
    assert kept(made, replace(planned, gaps=("more",))) is not kept(made, planned)
    assert kept(lambda planned: object(), planned) is not kept(lambda planned: object(), planned)
    first = kept(made, planned)
    for _ in range(MOST):
        kept(made, replace(planned, plan=replace(planned.plan)))
    assert kept(made, planned) is not first


@pytest.mark.django_db(transaction=True)
def test_a_month_is_read_once_and_anew_when_it_changed() -> None:
    row = save.month(SMALL_MONTH)
    book = load.without_people(row)
    assert load.without_people(Month.objects.get(pk=row.pk)) is book
    title = replace(SMALL_MONTH.materials[0], name="Another name")
    save.month(replace(SMALL_MONTH, materials=(title, *SMALL_MONTH.materials[1:])))
    assert load.without_people(Month.objects.get(pk=row.pk)).materials[0].name == "Another name"
    assert load.without_people(row) is book  # whoever has the row of before reads on in the book of before
