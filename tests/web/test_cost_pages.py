"""Cost by count, two counts side by side, what if, and after the month: their pages, and what is decided there."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client

from kits.models import Month
from planning import load, save
from planning.cost.headings import Heading
from planning.cost.rows import Actual, ActualKind, BudgetLine, Charge, ChargeKind, Promotion, TierAim
from planning.models import BuyFor, Plan, VariantLine
from planning.month import Month as Book
from tests.web.planned import plan_of
from tests.web.small_month import SMALL_MONTH

D = Decimal
PAGES = ("cost", "cost-curve", "order-size", "what-if", "after-month")
PRICED: Book = replace(
    SMALL_MONTH,
    charges=(
        Charge(kind=ChargeKind.PAYMENT, name="Cards", percent=D(2), each=D("0.20")),
        Charge(kind=ChargeKind.DESIGN, name="Designer", once=D(30)),
    ),
    aims=(TierAim(tier="FULL", boxes=3, margin=D(20), single_margin=D(30)),),
    budget=(BudgetLine(tier="FULL", heading=Heading.PAPER, amount=D(12)),),
    promotions=(Promotion(name="May", percent=D(10), extra=2),),
    actuals=(Actual(kind=ActualKind.PACKING, quantity=D(90)),),
)


@pytest.fixture
def priced(db: None) -> Plan:
    return plan_of(save.month(PRICED), with_papers=False)


def text(answer: Any) -> str:
    return str(answer.content.decode())


@pytest.mark.parametrize("page", PAGES)
def test_it_works(desk: Client, priced: Plan, page: str) -> None:
    answer = desk.get(f"/months/{priced.month_id}/{page}")
    assert answer.status_code == 200
    assert f'/{page}" aria-current="page"' in text(answer)
    assert "style=" not in text(answer)
    assert "NaN" not in text(answer)


@pytest.mark.parametrize("page", PAGES[1:])
def test_a_month_without_boxes_says_so_on_every_page(desk: Client, page: str, db: None) -> None:
    empty = plan_of(save.month(replace(PRICED, subscribers=(), orders=())), with_papers=False)
    answer = desk.get(f"/months/{empty.month_id}/{page}")
    assert answer.status_code == 200
    assert "NaN" not in text(answer)


def test_cost_is_held_against_the_budget_and_every_amount_opens_its_sum(desk: Client, priced: Plan) -> None:
    page = text(desk.get(f"/months/{priced.month_id}/cost"))
    assert "Against the budget" in page
    assert "Payment fees" in page
    assert "once a month, by kits" in page


def test_two_counts_are_compared_and_one_is_kept(desk: Client, priced: Plan) -> None:
    page = text(desk.get(f"/months/{priced.month_id}/order-size?few=4&many=8"))
    assert "Below its aim" in page or "Member, 8" in page
    desk.post(f"/months/{priced.month_id}/order-size?few=4&many=8", {"order": "many"})
    kept = dict(BuyFor.objects.filter(month=priced.month_id).values_list("item", "quantity"))
    assert sum(kept.values()) == 8


@pytest.mark.parametrize("typed", ["0", "-3", "many", "99999999999"])
def test_a_count_that_cannot_be_is_told_and_nothing_breaks(desk: Client, priced: Plan, typed: str) -> None:
    answer = desk.get(f"/months/{priced.month_id}/order-size?few={typed}&many=8")
    assert "These counts cannot be compared" in text(answer)


def added(desk: Client, plan: Plan, **change: str) -> Any:
    seen = Month.objects.get(pk=plan.month_id).fingerprint
    return desk.post(
        f"/months/{plan.month_id}/what-if",
        {"act": "add", "name": "Dearer", "seen": seen, **change},
        follow=True,
    )


def test_a_variant_is_tried_kept_and_made_the_plan(desk: Client, priced: Plan) -> None:
    page = text(added(desk, priced, change="price of a tier", item="FULL", value="33.50"))
    assert "Price of all kits" in page
    assert VariantLine.objects.filter(month=priced.month_id, variant="Dearer").count() == 1
    assert load.month(priced.month_id).tiers == PRICED.tiers  # nothing else was touched
    row = Month.objects.get(pk=priced.month_id)
    desk.post(f"/months/{row.pk}/what-if?variant=Dearer", {"act": "adopt", "seen": row.fingerprint})
    assert load.month(row.pk).tiers[0].price == D("33.50")


def test_a_variant_is_not_made_the_plan_of_a_month_that_changed_meanwhile(desk: Client, priced: Plan) -> None:
    added(desk, priced, change="price of a tier", item="FULL", value="33.50")
    answer = desk.post(
        f"/months/{priced.month_id}/what-if?variant=Dearer", {"act": "adopt", "seen": "long ago"}
    )
    assert "was changed since this page was opened" in text(answer)
    assert load.month(priced.month_id).tiers == PRICED.tiers


def test_a_change_of_nothing_known_is_refused_in_words(desk: Client, priced: Plan) -> None:
    page = text(added(desk, priced, change="only this supplier", item="NOPE", value="NOBODY"))
    assert "is not on the Materials sheet" in page
    assert not VariantLine.objects.exists()


def test_learned_rates_go_into_the_month_that_is_chosen(desk: Client, priced: Plan) -> None:
    later = replace(PRICED, club=replace(PRICED.club, month=type(PRICED.club.month)(2027, 5)), actuals=())
    june = save.month(later)
    page = text(desk.get(f"/months/{priced.month_id}/after-month"))
    assert "Minutes to pack a box" in page
    desk.post(f"/months/{priced.month_id}/after-month", {"to": f"{june.pk}-{june.fingerprint}"})
    assert load.month(june.pk).club.minutes_per_box != PRICED.club.minutes_per_box


def test_cost_is_held_against_the_month_before(desk: Client, priced: Plan) -> None:
    may = replace(PRICED, club=replace(PRICED.club, month=type(PRICED.club.month)(2027, 5)), budget=())
    later = plan_of(save.month(may), with_papers=False)
    page = text(desk.get(f"/months/{later.month_id}/cost"))
    assert "Against April 2027" in page
    assert "Against the budget" not in page
