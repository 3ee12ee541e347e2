"""What the cost leaves out because nobody sells enough of it, in the month of `tests.support.months`."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from kits.catalogue import OpenOrder, StockLine
from planning.cost import ShortGoods, cost_faults, plan_cost
from planning.flow import plan_month
from planning.month import Month
from planning.problems import cost_problem
from tests.support.months import tiny_month

MONTH = tiny_month()
FIVE_BRADS = StockLine(item="BRADS", on_hand=5, value_each=Decimal("0.03"))


def without(material: str, **tables: object) -> Month:
    """Return the month in which nobody sells a material."""
    offers = tuple(one for one in MONTH.offers if one.material != material)
    return replace(MONTH, offers=offers, **tables)  # type: ignore[arg-type]


def short(month: Month) -> ShortGoods:
    (one,) = plan_month(month).cost.short
    return one


def test_nothing_is_left_out_where_everything_is_sold() -> None:
    plan = plan_month(MONTH)
    assert (plan.cost.short, plan.cost.notes) == ((), ())


def test_short_goods_are_priced_at_the_last_price_known_and_shared_by_the_kits_that_use_them() -> None:
    # 55 brads less 5 on the shelf: 50 at 0.03 = 1.50. Three full kits use 30, two half ones 20, the order of S3 5:
    # 0.82, 0.54 and 0.14; 0.27 a kit of either tier
    one = short(without("BRADS", stock=(*MONTH.stock, FIVE_BRADS)))
    assert (one.units, one.price, one.missing) == (50, Decimal("0.03"), Decimal("1.50"))
    assert one.each == (("FULL", Decimal("0.27")), ("HALF", Decimal("0.27")))
    assert one.left_out == (
        "50 short; at 0.03 each, the last price known, 1.50 more, 0.27 a kit of FULL, 0.27 a kit of HALF"
    )


def test_what_was_paid_last_counts_before_what_the_shelf_says() -> None:
    old = OpenOrder(
        reference="P1",
        supplier="BITS",
        material="BRADS",
        quantity=1,
        price=Decimal("0.04"),
        due=date(2027, 3, 10),
    )
    new = replace(old, reference="P2", price=Decimal("0.05"), due=date(2027, 3, 11))
    one = short(
        without("BRADS", stock=(*MONTH.stock, FIVE_BRADS), open_orders=(new, old, *MONTH.open_orders))
    )
    assert (one.units, one.price) == (48, Decimal("0.05"))


def test_without_any_price_the_words_say_so() -> None:
    one = short(without("BRADS"))
    assert (one.price, one.missing, one.each) == (None, None, ())
    assert one.left_out == "55 short, at a price nobody knows"


@pytest.mark.parametrize(
    ("material", "held"),
    [
        ("BRADS", "5 boxes of 3 kinds hold it, FULL and HALF"),
        ("BIG", "5 boxes of 3 kinds hold it, FULL and HALF"),  # as mats that are cut from it
        ("CARTON", "5 boxes of 3 kinds hold it, FULL and HALF"),
        ("RIBBON", "3 boxes hold it, FULL"),  # as lengths
    ],
)
def test_the_boxes_that_hold_short_goods_are_counted(material: str, held: str) -> None:
    assert short(without(material)).held == held


def test_a_single_box_is_named_as_one() -> None:
    assert short(without("GIFT", open_orders=())).held == "1 box holds it, HALF"


def test_the_checker_sees_short_goods_that_are_not_named() -> None:
    month = without("BRADS")
    plan = plan_month(month)
    problem = cost_problem(
        month, plan.roster, plan.requirements, plan.cutting, plan.buying, plan.packing, plan.shipping
    )
    result = plan_cost(problem)
    assert cost_faults(problem, result) == ()
    assert cost_faults(problem, replace(result, short=())) == (
        "Brass brads, short: 0 in the table, 55 in the books",
    )
