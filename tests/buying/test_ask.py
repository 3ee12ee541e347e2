"""Questions to the buying step alone that cannot be right: each fault at its place, all at once."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from kits.catalogue import OpenOrder
from planning.bench.months import NEED_BY, OFFICE
from planning.buying import BuyingError, BuyingProblem, buy_as_asked, plan_buying
from planning.calendar import WorkingCalendar
from tests.buying.test_together import ask, need, supplier, terms

GOOD = ask([need("card", 10)], [terms("mill", "card", (1, "0.10"), (100, "0.08"))], [supplier("mill")])
(OFFER,) = GOOD.terms
OPEN = OpenOrder(reference="P1", supplier="mill", material="card", quantity=5, due=NEED_BY)


def offer(**changes: Any) -> BuyingProblem:
    return replace(GOOD, terms=(replace(OFFER, offer=replace(OFFER.offer, **changes)),))


def price(number: int, **changes: Any) -> BuyingProblem:
    breaks = list(OFFER.breaks)
    breaks[number] = replace(breaks[number], **changes)
    return replace(GOOD, terms=(replace(OFFER, breaks=tuple(breaks)),))


WRONG = {
    "breaks out of order": (
        price(1, from_quantity=1),
        "terms.0 (mill-card): from_quantity 1 stands after 1; write the breaks from the smallest quantity up",
    ),
    "a pack of 0": (
        offer(pack=0),
        "terms.0 (mill-card): pack 0 is not allowed; write 1 to 1,000,000,000",
    ),
    "an unknown material": (
        offer(material="crad"),
        "terms.0 (mill-card): material crad is not among the needs",
    ),
    "an unknown supplier": (
        offer(supplier="mil"),
        "terms.0 (mill-card): supplier mil is not among the suppliers",
    ),
    "a negative lead time": (
        offer(lead_days=-1),
        "terms.0 (mill-card): lead_days -1 is not allowed; write 0 to 366",
    ),
    "a price with 7 decimals": (
        price(0, price=Decimal("0.1000001")),
        "terms.0 (mill-card): breaks.0: price 0.1000001 has more than 6 decimals",
    ),
    "a price that is no number": (
        price(0, price=Decimal("NaN")),
        "terms.0 (mill-card): breaks.0: price NaN is not allowed; write 0 to 1,000,000,000,000",
    ),
    "two offers with one code": (
        replace(GOOD, terms=(OFFER, OFFER)),
        "terms.1 (mill-card): the offer code stands there already, at terms.0",
    ),
    "an offer without a price": (
        replace(GOOD, terms=(replace(OFFER, breaks=()),)),
        "terms.0 (mill-card): has no price; write one break, from quantity 1 if there is only one price",
    ),
    "less than the smallest order": (
        offer(minimum=20, maximum=19),
        "terms.0 (mill-card): maximum 19 is less than the smallest order, 20",
    ),
    "a need before today": (
        replace(GOOD, needs=(replace(GOOD.needs[0], need_by=date(2027, 2, 26)),)),
        "needs.0 (card): need_by 26 Feb 2027 is before the day of the plan, 1 Mar 2027; write a day that is to come",
    ),
    "the same need twice": (
        replace(GOOD, needs=GOOD.needs * 2),
        "needs.1 (card): the material stands there already, at needs.0",
    ),
    "an order-by day on a holiday": (
        replace(
            offer(order_until=date(2027, 3, 29)),
            calendar=WorkingCalendar(OFFICE.weekdays, frozenset({NEED_BY, date(2027, 3, 29)})),
        ),
        "terms.0 (mill-card): order_until 29 Mar 2027 is no working day of the suppliers; write 25 Mar 2027, the one "
        "before it",
    ),
    "an offer that has ended": (
        offer(order_until=date(2027, 2, 26)),
        "terms.0 (mill-card): order_until 26 Feb 2027 is before the day of the plan, 1 Mar 2027",
    ),
    "freight finer than a coin": (
        replace(GOOD, suppliers=(supplier("mill", "1.005", "9.999"),)),
        "suppliers.0 (mill): freight 1.005 has more than 2 decimals\n"
        "suppliers.0 (mill): free_freight_from 9.999 has more than 2 decimals",
    ),
    "an open order that is overdue, of nothing": (
        replace(GOOD, open_orders=(replace(OPEN, quantity=0, material="crad", due=date(2027, 2, 26)),)),
        "open_orders.0 (P1): quantity 0 is not allowed; write 1 to 1,000,000,000\n"
        "open_orders.0 (P1): material crad is not among the needs\n"
        "open_orders.0 (P1): due 26 Feb 2027 is before the day of the plan, 1 Mar 2027",
    ),
    "leftovers worth more than they cost": (
        replace(GOOD, leftover_percent=Decimal(101)),
        "the problem: leftover_percent 101 is not allowed; write 0 to 100",
    ),
    "a year's use of nothing": (
        replace(GOOD, needs=(replace(GOOD.needs[0], used_a_year=0),)),
        "needs.0 (card): used_a_year 0 is not allowed; write 1 to 1,000,000,000",
    ),
    "several faults": (
        replace(offer(pack=0, lead_days=400), exponent=9),
        "terms.0 (mill-card): pack 0 is not allowed; write 1 to 1,000,000,000\n"
        "terms.0 (mill-card): lead_days 400 is not allowed; write 0 to 366\n"
        "the problem: exponent 9 is not allowed; write 0 to 3",
    ),
}


@pytest.mark.parametrize("wrong", WRONG)
def test_what_cannot_be_right_is_named_at_its_place(wrong: str) -> None:
    problem, said = WRONG[wrong]
    with pytest.raises(BuyingError) as refused:
        buy_as_asked(problem)
    assert str(refused.value) == said


def test_a_question_without_faults_is_answered() -> None:
    assert buy_as_asked(replace(GOOD, open_orders=(OPEN,))) == plan_buying(replace(GOOD, open_orders=(OPEN,)))
