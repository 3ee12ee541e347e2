"""From a month's rows to the questions of lots, overs and allocation, and back into what is bought."""

from dataclasses import replace
from decimal import Decimal
from functools import cache
from typing import Any

from kits.catalogue import Offer
from planning.allocation import Rule
from planning.allocation.rows import SubstituteRow
from planning.calendar import YearMonth
from planning.documents.exceptions import Held
from planning.documents.listing import list_boxes
from planning.documents.short_boxes import short_boxes
from planning.flow import MonthPlan, plan_month
from planning.lots.rows import Forecast
from planning.month import Month
from planning.overs import Triangle
from planning.overs.rows import BuyFor, Outlook
from planning.problems import lots_problem, overs_problem
from tests.support.months import tiny_month

TINY = tiny_month()
MAY = YearMonth(2027, 5)


@cache
def planned(**change: Any) -> tuple[Month, MonthPlan]:
    """Return the tiny month with some other rows, and its plan."""
    month = replace(TINY, **change)
    return month, plan_month(month, quick=True)


def bought(plan: MonthPlan, material: str) -> int:
    return next(line.quantity for line in plan.buying.lines if line.need.material == material)


# --- Lots ---


def test_later_months_ask_for_what_they_will_use() -> None:
    # The tiny month uses 10 cards and buys 20 at 0.15 for 3.00; May uses 10 more
    month, plan = planned(forecasts=(Forecast(material="CARD", needed_in=MAY, units=10),))
    problem = lots_problem(month, plan.buying)
    assert problem is not None
    assert problem.periods == ("April 2027", "May 2027")
    [card] = problem.materials
    assert (card.needed, card.on_hand, card.due) == ((10, 10), 0, (0, 0))
    assert plan.lots is not None
    # one order of 20 at 0.15, with 6.00 of freight, and nothing to keep them costs anything
    [order] = plan.lots.orders
    assert (order.period, order.total, plan.lots.total, plan.lots.is_proved) == (
        0,
        Decimal("9.00"),
        Decimal("9.00"),
        True,
    )


def test_without_forecasts_there_is_nothing_to_ask() -> None:
    month, plan = planned()
    assert (lots_problem(month, plan.buying), plan.lots) == (None, None)


# --- Overs ---


def test_a_tier_takes_what_its_boxes_take() -> None:
    # FULL: three boxes, each 2 cards, 1 print and the print of two tags: a sheet of 12 for 10 tags, so 6/10 of it
    outlook = Outlook(tier="FULL", low=2, likely=3, high=5, short_cost=Decimal(30))
    month, plan = planned(outlooks=(outlook,))
    problem = overs_problem(month, plan.requirements, plan.cutting, plan.buying)
    things = {one.name: one for one in problem.stocked}
    kit = things["The full kit"]
    assert kit.parts[0].count == Triangle(Decimal(2), Decimal(3), Decimal(5))
    assert kit.short == 30
    [card] = [one for one in problem.stocked if one.code == "material:CARD"]
    assert (card.parts[0].each, card.plus, card.on_hand) == (Decimal(2), Decimal(4), 0)
    # 30.00 for a short box of 2 cards
    assert card.short == 15
    # a full kit: 2 cards at 0.15, 1 + 1/5 prints at 0.30, 2/5 big sheets at 0.50, 1/3 roll at 4, 10 brads at 0.02 and a
    # carton at 0.60
    assert round(kit.prices[0].price, 2) == Decimal("2.99")


# --- What the buyer has chosen ---


def test_boxes_chosen_for_a_tier_are_bought_for() -> None:
    # 3 FULL boxes on the roster; for 6 there are 6 cards more, and 3 cartons and 30 brads
    _, plan = planned(choices=(BuyFor(item="FULL", quantity=6),))
    lines = {line.need.material: line for line in plan.buying.lines}
    assert (lines["CARD"].need.extra, lines["CARTON"].need.extra, lines["BRADS"].need.extra) == (6, 3, 30)
    assert lines["CARD"].net == 16
    assert lines["CARTON"].quantity == 6
    # they lie on the shelf when the month is packed, and the books balance (the plan would be refused else)
    assert lines["CARTON"].left_over == 3


def test_units_chosen_of_a_material_are_bought() -> None:
    _, plain = planned()
    _, plan = planned(choices=(BuyFor(item="BRADS", quantity=140), BuyFor(item="HALF", quantity=1)))
    line = next(line for line in plan.buying.lines if line.need.material == "BRADS")
    assert (line.need.total, line.need.extra, line.quantity, line.left_over) == (55, 85, 200, 145)
    assert bought(plan, "CARD") == bought(plain, "CARD")


def test_what_is_chosen_and_nobody_offers_leaves_no_box_short() -> None:
    _, plan = planned(choices=(BuyFor(item="GIFT", quantity=9),), offers=without("GIFT"), price_breaks=PRICES)
    line = next(line for line in plan.buying.lines if line.need.material == "GIFT")
    assert (line.need.extra, line.short, plan.allocation.boxes) == (8, 0, ())


def without(material: str) -> tuple[Offer, ...]:
    return tuple(one for one in TINY.offers if one.material != material)


PRICES = tuple(one for one in TINY.price_breaks if one.offer in {offer.code for offer in without("GIFT")})


# --- Short supply ---


def short_month(**change: Any) -> tuple[Month, MonthPlan]:
    """Return a month with 42 brads on the shelf for 55: five boxes of 10 each, and 5 ordered besides by S3."""
    offers = without("BRADS")
    codes = {one.code for one in offers}
    stock = (*TINY.stock, replace(TINY.stock[0], item="BRADS", on_hand=42))
    rows = {
        "offers": offers,
        "price_breaks": tuple(one for one in TINY.price_breaks if one.offer in codes),
        "stock": stock,
    }
    return planned(**rows | change)


def test_boxes_that_go_without_are_named() -> None:
    # FULL comes first: 3 boxes with 30; of HALF S5 takes 10 and S3, who ordered 5 more, wants 15: 12 are left
    month, plan = short_month()
    assert [one.available for one in plan.allocation.materials] == [42]
    boxes = list_boxes(month, plan)
    named = tuple(short_boxes(plan, Held(month, boxes)))
    assert [(one.box.subscriber.reference, one.without, one.instead) for one in named] == [
        ("S3", "Brass brads", "")
    ]
    assert (plan.allocation.whole, plan.allocation.lacking) == (4, 1)


def test_a_substitute_lies_in_them_instead_with_what_changes() -> None:
    row = SubstituteRow(material="BRADS", instead="CARD", per=1, note="Flat.")
    _, plan = short_month(substitutes=(row,))
    [substitute] = plan.allocation.substitutes
    assert substitute.changes[0] == "Flat."
    assert any("instead of no flat size" in change for change in substitute.changes)
    assert substitute.available == 10  # of twenty cards ten are used


def test_the_clubs_rule_is_asked_for() -> None:
    _, plan = short_month(club=replace(TINY.club, short_goods=Rule.EVEN))
    assert plan.allocation.ended.startswith("evenly")
