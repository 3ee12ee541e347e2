"""Sheets in their own size or cut from larger ones: a month worked by hand, then what holds of every choice."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.catalogue import Grain, Leftover, Material, Offer, PriceBreak, StockLine
from kits.measures import INCH
from planning.buying import (
    BuyingProblem,
    Larger,
    LargerProblem,
    LargerResult,
    decide_larger,
    larger_faults,
    plan_buying,
)
from planning.buying.larger import with_larger
from planning.flow import plan_month
from planning.month import Month
from tests.buying.test_together import ask, need, supplier, terms
from tests.support.effort import examples
from tests.support.months import FOOT, sheet, tiny_month, with_rows

EARLY = date(2027, 3, 24)


def larger(material: str, parent: str, out: int, per_lift: int = 100, cost: str = "2") -> Larger:
    return Larger(
        material=material,
        parent=parent,
        out=out,
        sheets_per_lift=per_lift,
        cost_per_lift=Decimal(cost),
        need_by=EARLY,
    )


def offers(small: str, large: str, **fields: int) -> BuyingProblem:
    """Return a month that wants 100 small sheets and no large ones, all from one supplier."""
    return ask(
        [need("small", 100), need("large", 0)],
        [terms("mill", "small", (1, small)), terms("mill", "large", (1, large), **fields)],
        [supplier("mill", "5")],
    )


def decided(problem: BuyingProblem, ways: Iterable[Larger]) -> LargerResult:
    asked = LargerProblem(buying=problem, ways=tuple(ways))
    result = decide_larger(asked)
    assert larger_faults(asked, result) == ()
    return result


SIX = larger("small", "large", 6)


def test_a_sheet_is_cut_where_the_larger_ones_and_the_knife_cost_less() -> None:
    # 100 at 0.20 are 20.00; 17 of which six come out, at 1.00, and one lift are 19.00; freight is 5.00 either way
    result = decided(offers("0.20", "1.00"), [SIX])
    (one,) = result.choices
    assert (result.taken, one.taken, one.sheets) == ((SIX,), True, 17)
    assert (one.own, one.cut, one.saves) == (Decimal("25.00"), Decimal("24.00"), Decimal("1.00"))
    assert result.ended == "proved: all 2 ways to buy or cut these sheets are compared"


def test_it_is_bought_in_its_own_size_where_that_costs_no_more() -> None:
    result = decided(offers("0.19", "1.00"), [SIX])
    assert (result.taken, result.choices[0].taken, result.choices[0].saves) == ((), False, Decimal(0))


def test_lifts_are_counted_whole() -> None:
    # 17 sheets, 8 at once, are three lifts: 17.00 + 6.00 against 20.00
    assert decided(offers("0.20", "1.00"), [replace(SIX, sheets_per_lift=8)]).taken == ()


def test_a_larger_sheet_must_come_in_time_to_be_cut() -> None:
    # twenty-five working days after Monday 1 March are Monday 5 April
    result = decided(offers("0.20", "0.10", lead_days=25), [SIX])
    assert (result.taken, result.choices[0].worse) == ((), "late")


def test_cutting_saves_a_month_that_nobody_sells_the_small_sheet_to() -> None:
    asked = offers("0.20", "9.00")
    result = decided(replace(asked, terms=asked.terms[1:]), [SIX])
    assert (result.taken, result.choices[0].worse) == ((SIX,), "short")


def test_two_sheets_from_one_larger_share_its_price_break() -> None:
    # each alone: 9 large at 2.00 are 18.00 and a lift of 2.00, against 19.00; together 18 at 1.50 are 27.00 and 4.00
    asked = ask(
        [need("one", 54), need("two", 54), need("large", 0)],
        [
            terms("mill", "one", (1, "0.351852")),  # 19.00
            terms("mill", "two", (1, "0.351852")),
            terms("mill", "large", (1, "2.00"), (18, "1.50")),
        ],
        [supplier("mill")],
    )
    ways = [larger("one", "large", 6), larger("two", "large", 6)]
    assert decided(asked, ways[:1]).taken == ()
    both = decided(asked, ways)
    assert both.taken == tuple(ways)
    assert [(one.own, one.cut) for one in both.choices] == [(Decimal("39.00"), Decimal("31.00"))] * 2


def test_with_many_sheets_one_is_changed_at_a_time() -> None:
    needs = [need(f"s{number}", 100) for number in range(12)]
    prices = [terms("mill", one.material, (1, "0.20")) for one in needs]
    asked = ask(
        [*needs, need("large", 0)], [*prices, terms("mill", "large", (1, "1.00"))], [supplier("mill")]
    )
    result = decided(asked, [larger(one.material, "large", 6) for one in needs])
    assert len(result.taken) == 12
    assert result.ended == "no sheet had the other way alone would make all orders cheaper"


@given(st.lists(st.tuples(st.integers(1, 60), st.integers(1, 9), st.integers(5, 60)), min_size=1, max_size=3))
def test_no_other_way_costs_less(sheets: list[tuple[int, int, int]]) -> None:
    needs = [need(f"s{number}", count) for number, (count, _, _) in enumerate(sheets)]
    prices = [
        terms("mill", f"s{number}", (1, f"0.{price:02}")) for number, (_, _, price) in enumerate(sheets)
    ]
    asked = ask(
        [*needs, need("large", 3)],
        [*prices, terms("shop", "large", (1, "1.00"), (10, "0.80"), pack=2)],
        [supplier("mill", "3", "9"), supplier("shop", "2")],
    )
    ways = [larger(f"s{number}", "large", out, 5, "0.5") for number, (_, out, _) in enumerate(sheets)]
    result = decided(asked, ways)

    def total(chosen: tuple[Larger, ...]) -> Decimal:
        cut = {way: next(one.total for one in needs if one.material == way.material) for way in chosen}
        knife = sum((way.knife(units) for way, units in cut.items()), Decimal(0))
        return knife + plan_buying(with_larger(asked, cut)).total

    every = [
        tuple(way for way, taken in zip(ways, chosen, strict=True) if taken)
        for chosen in product((False, True), repeat=len(ways))
    ]
    assert total(result.taken) == min(map(total, every))


def test_the_checker_sees_a_choice_that_does_not_hold() -> None:
    asked = LargerProblem(buying=offers("0.20", "1.00"), ways=(SIX,))
    right = decide_larger(asked)
    (one,) = right.choices
    for wrong, said in (
        (replace(right, taken=(replace(SIX, out=7),)), "in no known way"),
        (replace(right, taken=(SIX, SIX)), "cut in two ways"),
        (replace(right, taken=()), "not what is said to be cut"),
        (replace(right, choices=(replace(one, units=101),)), "101 do not lack"),
        (replace(right, choices=(replace(one, cut=Decimal("25.01")),)), "the other way costs less, 25.00"),
    ):
        assert any(said in fault for fault in larger_faults(asked, wrong))


# --- In a month ---


def card_month(price: str = "0.40", **changes: object) -> Month:
    """Return the tiny month with card at one price, which may be cut three out of a long sheet at 0.60."""
    tiny = tiny_month()
    long = replace(sheet("LONG", "Long card", FOOT, 36 * INCH, grams=60), **changes)  # type: ignore[arg-type]
    materials: list[Material] = [
        replace(one, cut_from=("LONG",)) if one.code == "CARD" else one for one in tiny.materials
    ]
    month = with_rows(tiny, "materials", [*materials, long])
    offer = Offer(code="M-LONG", supplier="MILL", material="LONG", lead_days=5)
    prices = [one for one in tiny.price_breaks if one.offer != "M-CARD"]
    return replace(
        month,
        offers=(*tiny.offers, offer),
        price_breaks=(
            *prices,
            PriceBreak(offer="M-CARD", from_quantity=1, price=Decimal(price)),
            PriceBreak(offer="M-LONG", from_quantity=1, price=Decimal("0.60")),
        ),
    )


def test_a_month_cuts_its_card_from_long_sheets_where_that_is_cheaper() -> None:
    # 10 cards at 0.40 are 4.00. Four long sheets at 0.60 are 2.40; one lift of two cuts takes 3 minutes, 1.50: 3.90
    plan = plan_month(card_month())
    card = next(line for line in plan.buying.lines if line.need.material == "CARD")
    long = next(line for line in plan.buying.lines if line.need.material == "LONG")
    assert (card.need.cut, card.quantity, card.left_over) == (12, 0, 2)
    assert card.reason == "0 on the shelf and 12 cut from larger sheets cover 10"
    assert (long.need.in_cutting, long.quantity) == (4, 4)
    # cutting takes two working days and goods in one: three before Monday 5 April
    assert long.need.need_by == date(2027, 3, 31)
    (one,) = plan.larger.choices
    assert (one.taken, one.saves) == (True, Decimal("0.10"))
    balance = next(line for line in plan.balance.materials if line.material == "CARD")
    assert (balance.cut, balance.ordered, balance.in_boxes, balance.left_over) == (12, 0, 10, 2)
    # what the long sheets and the knife cost is on the cards
    kept = {line.name: line for line in plan.cost.kept}
    assert (kept["Long card"].passed, kept["Long card"].used) == (Decimal("-2.40"), Decimal(0))
    # twelve for 2.40 are 0.20 each: the two left over are worth 0.40, ten in boxes 2.00
    card_kept = kept["White card"]
    assert (card_kept.units, card_kept.cost, card_kept.passed) == (12, Decimal(0), Decimal("2.40"))
    assert (card_kept.left, card_kept.value, card_kept.used) == (2, Decimal("0.40"), Decimal("2.00"))
    assert plan.cost.bought - plan_month(card_month("0.39")).cost.bought == Decimal("2.40") - Decimal("3.90")


@pytest.mark.parametrize(
    "month",
    [
        card_month("0.39"),  # 3.90 either way
        card_month(grain=Grain.NONE),  # card has its grain along the height, a long sheet says nothing
        card_month(height=24 * INCH),  # two out: five sheets are 3.00 and one cut 1.25
    ],
)
def test_a_month_buys_its_card_where_cutting_is_no_cheaper_or_cannot_be(month: Month) -> None:
    plan = plan_month(month)
    card = next(line for line in plan.buying.lines if line.need.material == "CARD")
    assert (card.need.cut, card.quantity) == (0, 10)
    assert not any(one.taken for one in plan.larger.choices)


money = st.decimals(0, 2, places=4)


@settings(max_examples=examples(100), deadline=None)
@given(
    prices=st.tuples(money, money),
    shelf=st.tuples(st.integers(0, 12), st.integers(0, 5)),
    values=st.tuples(money, money),
    leftover=st.sampled_from(Leftover),
    overs=st.integers(0, 3),
)
def test_a_month_pays_once_for_what_larger_sheets_pass_on(
    prices: tuple[Decimal, Decimal],
    shelf: tuple[int, int],
    values: tuple[Decimal, Decimal],
    leftover: Leftover,
    overs: int,
) -> None:
    month = card_month(str(prices[0]))
    month = replace(
        month,
        materials=tuple(replace(one, leftover=leftover, overs_fixed=overs) for one in month.materials),
        price_breaks=tuple(
            replace(one, price=prices[1]) if one.offer == "M-LONG" else one for one in month.price_breaks
        ),
        stock=(
            *month.stock,
            *(
                StockLine(item=code, on_hand=count, value_each=value)
                for code, count, value in zip(("CARD", "LONG"), shelf, values, strict=True)
            ),
        ),
    )
    cost = plan_month(month).cost  # its checker passes
    assert sum(one.cost for one in cost.kept) == cost.opening + cost.bought
    assert sum(one.value for one in cost.kept) == cost.closing
    assert all(one.used >= 0 and one.left <= one.units for one in cost.kept)
