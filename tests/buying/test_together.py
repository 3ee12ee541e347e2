"""All materials decided together: months worked by hand, then what holds of every month."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kits.catalogue import Breaks, Offer, OpenOrder, PriceBreak, Supplier, Terms
from planning.bench.months import OFFICE, brute_force, can_be_tried, greedy, random_month, small_month
from planning.buying import (
    BuyingProblem,
    BuyingResult,
    Need,
    Purchase,
    Unmet,
    buying_faults,
    cheapest_lot,
    plan_buying,
)

TODAY, NEED_BY = date(2027, 3, 1), date(2027, 3, 26)  # a Monday and a Friday


def supplier(code: str, freight: str = "0", free: str | None = None) -> Supplier:
    threshold = None if free is None else Decimal(free)
    return Supplier(code=code, name=f"The {code}", freight=Decimal(freight), free_freight_from=threshold)


def terms(code: str, material: str, *breaks: tuple[int, str], **fields: Any) -> Terms:
    """Return an offer, coded supplier-material."""
    offer = Offer(code=f"{code}-{material}", supplier=code, material=material, **fields)
    rows = (
        PriceBreak(offer=offer.code, from_quantity=start, price=Decimal(price)) for start, price in breaks
    )
    return Terms(offer=offer, breaks=tuple(rows))


def need(material: str, count: int, **fields: Any) -> Need:
    return Need(material=material, name=material, unit="sheet", in_boxes=count, need_by=NEED_BY, **fields)


def ask(
    needs: Iterable[Need], offers: Iterable[Terms], suppliers: Iterable[Supplier], **fields: Any
) -> BuyingProblem:
    return BuyingProblem(
        needs=tuple(needs),
        terms=tuple(offers),
        suppliers=tuple(suppliers),
        calendar=OFFICE,
        planned_on=TODAY,
        **fields,
    )


def decided(problem: BuyingProblem) -> BuyingResult:
    result = plan_buying(problem)
    assert buying_faults(problem, result) == ()
    return result


def bought(result: BuyingResult) -> dict[str, int]:
    return {one.offer.code: one.quantity for line in result.lines for one in line.bought}


# --- Published ---


def test_the_cheapest_lot_of_the_published_incremental_discount() -> None:
    # stockpyl's documentation: K 150, i 0.25, D 2,400; 100 up to 300, 90 up to 600, 80 above -> Q 1,481.89, cost 222,762.81
    offer = terms("S", "M", (1, "100"), (301, "90"), (601, "80"), breaks=Breaks.INCREMENTAL)
    lot = cheapest_lot(offer, 2400, Decimal(150), Decimal("0.25"))
    assert lot is not None
    assert (lot.quantity, round(lot.yearly_cost, 2)) == (1482, Decimal("222762.81"))


# --- Freight ---

MILL_AND_SHOP = (supplier("mill", "20"), supplier("shop", "20"))
TWO = (need("card", 100), need("print", 100))


def test_one_order_less_may_be_cheaper_than_each_material_at_its_cheapest() -> None:
    # by itself card is cheapest at the mill (50.00 for 55.00), print at the shop (30.00 for 33.00): 80.00 and two freights
    # of 20.00 are 120.00. All from the mill is 83.00 and one freight, 103.00; all from the shop 105.00
    offers = (
        terms("mill", "card", (1, "0.50")),
        terms("shop", "card", (1, "0.55")),
        terms("mill", "print", (1, "0.33")),
        terms("shop", "print", (1, "0.30")),
    )
    result = decided(ask(TWO, offers, MILL_AND_SHOP))
    assert bought(result) == {"mill-card": 100, "mill-print": 100}
    assert (result.total, result.bound) == (Decimal(103), Decimal(103))
    assert (result.apart, result.saved_together) == (Decimal(120), Decimal(17))
    assert result.lines[1].reason == (
        "100, just what is needed; The shop asks 3.00 less, but freight would make all orders 17.00 dearer"
    )
    assert result.ended == "proved: no choice of offers and quantities costs less, freight included"


def test_a_few_lots_more_are_bought_where_they_carry_an_order_to_free_freight() -> None:
    # 95 at 1.00 and freight 12.00 are 107.00; 100 come for 100.00, free of freight
    offers = (terms("mill", "card", (1, "1.00"), pack=5),)
    result = decided(ask([need("card", 95)], offers, [supplier("mill", "12", "100")]))
    assert bought(result) == {"mill-card": 100}
    assert (result.total, result.bound, result.saved) == (Decimal(100), Decimal(100), Decimal(7))
    assert result.lines[0].reason == (
        "100 rather than 95: 5.00 dearer, but freight falls away, and all orders cost 7.00 less"
    )


def test_freight_is_not_bought_off_for_more_than_it_costs() -> None:
    offers = (terms("mill", "card", (1, "1.00")),)
    result = decided(ask([need("card", 87)], offers, [supplier("mill", "12", "100")]))
    assert bought(result) == {"mill-card": 87}
    assert result.total == 99


def test_a_material_may_cost_more_where_it_carries_others_to_free_freight() -> None:
    # from the mill alone: 60.00 and 50.00, above 100.00 and free. Print from the shop is 4.00 less, but then 10.00 are paid
    offers = (
        terms("mill", "card", (1, "0.60")),
        terms("mill", "print", (1, "0.50")),
        terms("shop", "print", (1, "0.46")),
    )
    result = decided(ask(TWO, offers, [supplier("mill", "10", "100"), supplier("shop")]))
    assert bought(result) == {"mill-card": 100, "mill-print": 100}
    assert result.total == 110


# --- Terms ---


def test_incremental_breaks_are_paid_band_by_band() -> None:
    # 10 at 1.00, 10 at 0.80, 5 at 0.50 are 20.50; all at 0.85 are 21.25
    offers = (
        terms("mill", "card", (1, "1.00"), (11, "0.80"), (21, "0.50"), breaks=Breaks.INCREMENTAL),
        terms("shop", "card", (1, "0.85")),
    )
    (line,) = decided(ask([need("card", 25)], offers, [supplier("mill"), supplier("shop")])).lines
    assert (line.goods, line.price, line.bought[0].bands) == (
        Decimal("20.50"),
        Decimal("0.820000"),
        ((10, Decimal("1.00")), (10, Decimal("0.80")), (5, Decimal("0.50"))),
    )


SPLIT_OFFERS = (terms("mill", "card", (1, "0.40"), maximum=60), terms("shop", "card", (1, "0.50")))


def test_a_need_that_may_be_split_takes_all_there_is_of_the_cheaper_and_the_rest_elsewhere() -> None:
    # 60 at 0.40 and 40 at 0.50: 44.00; all from the shop 50.00
    result = decided(ask([need("card", 100, split=True)], SPLIT_OFFERS, [supplier("mill"), supplier("shop")]))
    assert bought(result) == {"mill-card": 60, "shop-card": 40}
    assert (result.total, result.bound) == (Decimal(44), Decimal(44))
    assert result.lines[0].reason == (
        "60, all that The mill has; 40, just what is needed; together 6.00 cheaper than all from The shop"
    )


def test_a_need_that_may_not_be_split_comes_from_one_supplier() -> None:
    result = decided(ask([need("card", 100)], SPLIT_OFFERS, [supplier("mill"), supplier("shop")]))
    assert bought(result) == {"shop-card": 100}


def test_splitting_is_worth_no_more_than_the_second_freight() -> None:
    asked = ask([need("card", 100, split=True)], SPLIT_OFFERS, [supplier("mill", "6.01"), supplier("shop")])
    assert bought(decided(asked)) == {"shop-card": 100}


def test_leftovers_that_are_worth_something_make_larger_orders_pay() -> None:
    # 80 at 1.00 are 80.00; 100 at 0.85 are 85.00, but 20 left over are worth half of 0.85 each, so 76.50
    offers = (terms("mill", "card", (1, "1.00"), (100, "0.85")),)
    plain = ask([need("card", 80)], offers, [supplier("mill")])
    assert bought(decided(plain)) == {"mill-card": 80}
    result = decided(replace(plain, leftover_percent=Decimal(50)))
    assert (bought(result), result.worth, result.counted) == (
        {"mill-card": 100},
        Decimal("8.500000"),
        Decimal("76.500000"),
    )
    assert result.lines[0].reason == (
        "100 rather than 80: 5.00 dearer, but the 20 more left over are worth 8.50"
    )


def test_money_tied_up_and_leftovers_of_no_use_take_the_worth_away() -> None:
    offers = (terms("mill", "card", (1, "1.00"), (100, "0.85")),)
    asked = ask([need("card", 80)], offers, [supplier("mill")], leftover_percent=Decimal(50))
    # at 60 % a year over 12 months a leftover keeps 0.4 of 0.425: 20 are worth 3.40, less than the 5.00 they cost
    waits = replace(asked, holding_percent=Decimal(60), leftover_months=Decimal(12))
    assert bought(decided(waits)) == {"mill-card": 80}
    written_off = replace(asked, needs=(need("card", 80, keeps=False),))
    assert bought(decided(written_off)) == {"mill-card": 80}


# --- Days ---

SLOW = {"lead_days": 30}


def test_a_late_offer_is_no_candidate_unless_it_is_asked_for() -> None:
    cheap, quick = terms("mill", "card", (1, "0.10"), **SLOW), terms("shop", "card", (1, "0.50"))
    suppliers = [supplier("mill"), supplier("shop")]
    assert bought(decided(ask([need("card", 10)], (cheap, quick), suppliers))) == {"shop-card": 10}
    asked = terms("mill", "card", (1, "0.10"), even_late=True, **SLOW)
    (line,) = decided(ask([need("card", 10)], (asked, quick), suppliers)).lines
    assert (line.late, line.reason) == (True, "10, just what is needed; late, as its offer says it may be")


def test_an_offer_is_ordered_by_its_last_day_and_not_after_it() -> None:
    # five working days before Friday 26 March are Friday 19; the mill takes orders until Wednesday 10
    offer = terms("mill", "card", (1, "0.10"), lead_days=5, order_until=date(2027, 3, 10))
    (line,) = decided(ask([need("card", 10)], [offer], [supplier("mill")])).lines
    assert (line.order_by, line.arrives, line.late) == (date(2027, 3, 10), date(2027, 3, 17), False)
    ended = replace(offer, offer=replace(offer.offer, order_until=date(2027, 2, 26)))
    (line,) = decided(ask([need("card", 10)], [ended], [supplier("mill")])).lines
    assert (line.bought, line.short) == ((), 10)


def test_the_needs_that_cannot_be_met_are_named_and_by_when_they_could() -> None:
    offers = (
        terms("mill", "card", (1, "0.10"), maximum=60),
        terms("shop", "card", (1, "0.10"), **SLOW),
        terms("mill", "print", (1, "0.10")),
        terms("mill", "ribbon", (1, "0.10"), maximum=7),
    )
    needs = (need("card", 100, split=True), need("print", 100), need("ribbon", 10))
    result = decided(ask(needs, offers, [supplier("mill"), supplier("shop")]))
    # thirty working days after Monday 1 March are Monday 12 April
    assert result.unmet == (
        Unmet(material="card", name="card", need_by=NEED_BY, lacking=40, by=date(2027, 4, 12)),
        Unmet(material="ribbon", name="ribbon", need_by=NEED_BY, lacking=3, by=None),
    )
    assert result.unmet[0].words == (
        "40 of card cannot be had by 26 Mar 2027; all could be in by 12 Apr 2027"
    )
    # what there is of the ribbon is ordered all the same
    assert (result.lines[2].quantity, result.lines[2].short) == (7, 3)


# --- Goods for the year beside goods for the month ---


def test_goods_bought_for_the_year_count_towards_free_freight() -> None:
    year = need("box", 10, used_a_year=100)
    offers = (terms("mill", "box", (1, "1.00")), terms("mill", "card", (1, "0.50")))
    asked = ask([year, need("card", 10)], offers, [supplier("mill", "9", "25")], order_cost=Decimal(2))
    result = decided(replace(asked, holding_percent=Decimal(100)))
    # sqrt(2 x 100 x 2 / 1.00) = 20 boxes; with 10 cards 25.00, which is free of freight
    assert bought(result) == {"mill-box": 20, "mill-card": 10}
    assert result.total == 25
    assert result.ended.endswith("; goods bought for the year are chosen by what a year of orders costs")


# --- What holds of every month ---

seeds = st.integers(0, 10**9)


@given(seeds)
def test_no_choice_of_a_small_month_is_cheaper(seed: int) -> None:
    problem = small_month(seed)
    if can_be_tried(problem):
        result = decided(problem)
        assert result.counted == brute_force(problem)
        assert 0 <= result.gap < Decimal("0.01")


@given(seeds, st.integers(1, 12), st.integers(1, 4), st.integers(1, 4), st.booleans())
def test_a_greedy_buyer_is_never_cheaper(
    seed: int, materials: int, suppliers: int, breaks: int, split: bool
) -> None:
    problem = random_month(seed, materials, suppliers, breaks, split=split)
    result = decided(problem)
    assert result.bound <= result.total <= greedy(problem)


@given(seeds)
def test_the_same_month_is_decided_the_same_way(seed: int) -> None:
    assert plan_buying(small_month(seed)) == plan_buying(small_month(seed))


# --- The checker ---

PROBLEM = ask(
    [need("card", 100, split=True), need("print", 90)],
    (*SPLIT_OFFERS, terms("shop", "print", (1, "0.30"), (50, "0.20"), pack=10, setup_charge=Decimal(3))),
    [supplier("mill"), supplier("shop", "5", "500")],
)
RESULT = plan_buying(PROBLEM)


def other(place: int, number: int = 0, **changes: Any) -> BuyingResult:
    """Return the answer with one purchase changed, in its line and its order."""
    line = RESULT.lines[place]
    old = line.bought[number]
    new = replace(old, **changes)
    swap = {id(old): new}

    def swapped(parts: tuple[Purchase, ...]) -> tuple[Purchase, ...]:
        return tuple(swap.get(id(one), one) for one in parts)

    lines = tuple(replace(one, bought=swapped(one.bought)) for one in RESULT.lines)
    orders = tuple(replace(order, lines=swapped(order.lines)) for order in RESULT.orders)
    return replace(RESULT, lines=lines, orders=orders)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (other(0, quantity=61), "61 is not sold"),
        (other(0, quantity=59), "99 ordered of 100"),
        (other(1, quantity=95), "95 is not sold"),
        (other(1, goods=Decimal(27)), "do not cost 27"),
        (other(1, bands=((90, Decimal("0.30")),)), "its prices do not make"),
        (other(1, setup=Decimal(0)), "set-up of shop-print is not 0"),
        (other(1, arrives=NEED_BY.replace(day=25)), "does not arrive"),
        (replace(RESULT, lines=RESULT.lines[:1]), "do not answer the needs"),
        (replace(RESULT, orders=RESULT.orders[:1]), "not one for each supplier"),
        (
            replace(RESULT, orders=(*RESULT.orders[:1], replace(RESULT.orders[1], freight=Decimal(0)))),
            "freight is 5, the order says 0",
        ),
        (replace(RESULT, bound=RESULT.total + 1), "less than the least there is"),
        (replace(RESULT, apart=RESULT.total - 1), "each material by itself"),
    ],
)
def test_the_checker_sees_what_is_wrong(wrong: BuyingResult, said: str) -> None:
    assert buying_faults(PROBLEM, RESULT) == ()
    assert any(said in fault for fault in buying_faults(PROBLEM, wrong))


def test_the_checker_sees_a_split_that_is_not_allowed_and_a_late_order_that_need_not_be() -> None:
    unsplit = replace(PROBLEM, needs=(replace(PROBLEM.needs[0], split=False), PROBLEM.needs[1]))
    lines = tuple(
        replace(
            line,
            need=replace(line.need, split=False),
            bought=tuple(replace(one, need=replace(one.need, split=False)) for one in line.bought),
        )
        for line in RESULT.lines
    )
    said = buying_faults(unsplit, replace(RESULT, lines=lines))
    assert any("ordered from mill-card, shop-card" in fault for fault in said)
    offers = (terms("mill", "card", (1, "0.10"), **SLOW), terms("shop", "card", (1, "0.50")))
    problem = ask([need("card", 10)], offers, [supplier("mill"), supplier("shop")])
    late = plan_buying(replace(problem, terms=offers[:1]))
    assert any("could come sooner" in fault for fault in buying_faults(problem, late))


def test_open_orders_and_splits_go_together() -> None:
    coming = OpenOrder(reference="P1", supplier="shop", material="card", quantity=30, due=NEED_BY)
    result = decided(
        replace(PROBLEM, open_orders=(coming,), needs=(need("card", 100, split=True), need("print", 0)))
    )
    assert bought(result) == {"mill-card": 60, "shop-card": 10}
