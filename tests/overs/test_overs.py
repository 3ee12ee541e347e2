"""How much over: spoilage by operation, and how much to have while the count is not known."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import TypeAdapter

from planning.overs import (
    Base,
    Count,
    Listed,
    ListedCount,
    Normal,
    Operation,
    OversError,
    OversProblem,
    Part,
    Poisson,
    PriceStep,
    QuantilePoint,
    Quantiles,
    Run,
    StockAnswer,
    Stocked,
    Triangle,
    Uniform,
    overs_faults,
    plan_overs,
    spoiled,
)
from tests.support.effort import examples

D = Decimal


def one_thing(count: Count, **terms: Any) -> OversProblem:
    """Return the question about one thing; its price, where given, holds for any quantity."""
    price = PriceStep(from_quantity=1, price=D(terms.pop("price", "0")))
    rest: dict[str, Any] = {
        name: D(value) if isinstance(value, str) else value for name, value in terms.items()
    }
    return OversProblem(
        stocked=(
            Stocked(**{"code": "X", "name": "Kit", "parts": (Part(count=count),), "prices": (price,)} | rest),
        )
    )


def answer(problem: OversProblem) -> StockAnswer:
    """Return the checked answer to a question about one thing."""
    result = plan_overs(problem)
    assert overs_faults(problem, result) == ()
    [found] = result.stocked
    return found


def listed(*points: tuple[int, str]) -> Listed:
    """Return counts with their weights."""
    return Listed(tuple(ListedCount(D(count), D(weight)) for count, weight in points))


# --- Published answers ---

NEWSSTAND = {"short": "0.75", "price": "0.25", "worth": "0.10"}


def test_the_published_newsstand_orders_15() -> None:
    # Nahmias, Production and Operations Analysis: mean 11.73 and deviation 4.74 of 52 weeks as printed at studylib
    # 5635634; buy 0.25, sell 0.75, buy back 0.10 from memory. Ratio 0.7692, quantile 15.22
    found = answer(one_thing(Normal(D("11.73"), D("4.74")), **NEWSSTAND))
    assert (round(found.ratio, 4), round(found.quantile, 2), found.best.quantity) == (
        D("0.7692"),
        D("15.22"),
        15,
    )


def test_the_same_newsstand_orders_15_by_its_weeks_as_they_were() -> None:
    # F(14) = 36/52 and F(15) = 41/52 (the same data): the weeks above 15 are taken together at 16
    found = answer(one_thing(listed((14, "36"), (15, "5"), (16, "11")), **NEWSSTAND))
    assert (found.best.quantity, found.quantile) == (15, D(15))


PUBLISHED = [
    # Snyder & Shen, Fundamentals of Supply Chain Theory, ex. 4.3, as in the documentation of stockpyl
    (Normal(D(50), D(8)), {"short": "0.70", "keeping": "0.18"}, "56.604", "1.9976"),
    (Poisson(D(50)), {"short": "0.70", "keeping": "0.18"}, "56", "1.79724"),
    (Poisson(D(6)), {"short": "4", "keeping": "1"}, "8", "3.57011"),
    # Data as printed at essayzeus 36994, answers recomputed: price 20, cost 14, salvage 5
    (Uniform(D(80), D(150)), {"short": "20", "price": "14", "worth": "5"}, "108", None),
    (Normal(D(115), D(15)), {"short": "20", "price": "14", "worth": "5"}, "111.20", None),
    (Normal(D(115), D(5)), {"short": "20", "price": "14", "worth": "5"}, "113.73", None),
    # Data as printed at tutorsglobe 52554787, answer recomputed: one short costs 40 more than it would have, one left 10
    (Normal(D(1000), D(200)), {"short": "40", "keeping": "10"}, "1168.3", None),
    # Hillier & Lieberman, data as printed at solutioninn, answer recomputed: cost 1.50, price 2.50, refund 0.50
    (
        listed((15, "0.4"), (16, "0.2"), (17, "0.3"), (18, "0.1")),
        {"short": "2.50", "price": "1.50", "worth": "0.50"},
        "16",
        None,
    ),
]


@pytest.mark.parametrize(("count", "terms", "quantile", "cost"), PUBLISHED)
def test_the_published_quantity_and_cost_come_out(
    count: Count, terms: dict[str, str], quantile: str, cost: str | None
) -> None:
    found = answer(one_thing(count, **terms))
    assert round(found.quantile, places(quantile)) == D(quantile)
    if cost is not None:
        assert round(found.quantile_cost, places(cost)) == D(cost)


def places(figure: str) -> int:
    return len(figure.partition(".")[2])


@pytest.mark.parametrize(
    ("mean", "at_90", "at_95", "at_99"),
    [(5, 8, 9, 11), (10, 14, 15, 18), (20, 26, 28, 31), (50, 59, 62, 67), (100, 113, 117, 124)],
)
def test_poisson_quantiles(mean: int, at_90: int, at_95: int, at_99: int) -> None:
    # computed with scipy
    count = Poisson(D(mean))
    assert [count.quantile(D(chance)) for chance in ("0.90", "0.95", "0.99")] == [at_90, at_95, at_99]


def test_three_chances_in_a_hundred_are_188_deviations() -> None:
    # Stevenson, Operations Management 14e, ex. 8, p. 528: z 1.88 for a risk of 3 %, stock 59.40 (fliphtml5 p. 557)
    assert round(Normal(D(0), D(1)).quantile(D("0.97")), 5) == D("1.88079")
    assert round(Normal(D(50), D(5)).quantile(D("0.97")), 2) == D("59.40")


# --- Spoilage ---

FOLDER = Operation(name="Fold, two right angles", make_ready=40, percent=D("1.1"))


@pytest.mark.parametrize(("good", "overs"), [(1_000, 51), (100_000, 1_140), (0, 0)])
def test_a_folder_spoils_as_printed(good: int, overs: int) -> None:
    # American Printer, 1 January 1996: 40 sheets and 1.1 %; the counts recomputed
    assert spoiled(good, [FOLDER]) == overs


def test_the_base_of_a_percentage_makes_the_difference() -> None:
    # recomputed: 1,000 and 5 % of the good are 1,050; at 5 % of the start 1000 / 0.95 = 1052.6
    of_good = Operation(name="Trim", percent=D(5))
    of_start = Operation(name="Trim", percent=D(5), base=Base.START)
    assert (of_good.start(1_000), of_start.start(1_000)) == (1_050, 1_053)


def test_each_operation_makes_what_the_next_one_spoils() -> None:
    # Print at 220 + 3.7 %, then fold at 40 + 1.1 %: fold 1,000 from 1,051; print 1,051 from 1,051 + 38.887 + 220 = 1,310
    printing = Operation(name="Print, two colours", make_ready=220, percent=D("3.7"))
    problem = OversProblem(runs=(Run(code="LEAF", name="Leaf", good=1_000, operations=(printing, FOLDER)),))
    result = plan_overs(problem)
    [run] = result.runs
    assert [(one.start, one.good, one.spoiled) for one in run.passes] == [
        (1_310, 1_051, 259),
        (1_051, 1_000, 51),
    ]
    assert (run.start, run.overs, overs_faults(problem, result)) == (1_310, 310, ())


@given(
    st.integers(0, 10**6),
    st.lists(
        st.builds(
            Operation,
            name=st.just("Cut"),
            make_ready=st.integers(0, 500),
            percent=st.decimals(0, 99, places=2),
            base=st.sampled_from(Base),
        ),
        max_size=4,
    ),
)
def test_enough_comes_out_and_not_more(good: int, operations: list[Operation]) -> None:
    problem = OversProblem(runs=(Run(code="R", name="R", good=good, operations=tuple(operations)),))
    assert overs_faults(problem, plan_overs(problem)) == ()


# --- A kit by hand ---

# 100, 110 and 120 boxes, each as likely as the others. A kit costs 6, what is left of one is worth 4, a short box costs 10.
BOXES = listed((100, "1"), (110, "1"), (120, "1"))
KIT = one_thing(BOXES, short="10", price="6", worth="4")


def test_a_kit_by_hand() -> None:
    # Ratio (10 - 6) / (10 - 4) = 2/3, so 110: 660 for the kits, a third of the time 10 short (33.33), a third of the time 10
    # left (13.33 back). 120 would cost 720 and have 10 left on average (40 back).
    found = answer(KIT)
    assert (found.ratio, found.best.quantity, found.best.cost) == (D("0.666667"), 110, D("680.000000"))
    assert (found.best.short, found.best.left, found.best.enough) == (
        D("3.333333"),
        D("3.333333"),
        D("0.666667"),
    )
    assert (found.mean, found.chosen, found.choice_costs) == (D(110), None, D(0))


def test_the_buyers_choice_stands_beside_the_best() -> None:
    # 120 kits: 720 - 10 x 4 = 680, the same; 115: 690 + 1/3 x 5 x 10 - (1/3 x 5 + 1/3 x 15) x 4 = 680 too (a flat curve)
    found = answer(replace(KIT, stocked=(replace(KIT.stocked[0], chosen=130),)))
    # 130: 780 - 20 x 4 = 700
    assert found.chosen is not None
    assert (found.chosen.quantity, found.chosen.cost, found.choice_costs) == (130, D(700), D(20))
    assert 130 in [point.quantity for point in found.curve]


def test_a_price_break_is_worth_having_more() -> None:
    # From 150 each costs 3: 450 - 40 x 4 = 290 is far less than 680
    steps = (PriceStep(from_quantity=1, price=D(6)), PriceStep(from_quantity=150, price=D(3)))
    found = answer(replace(KIT, stocked=(replace(KIT.stocked[0], prices=steps, worth=D(1)),)))
    # worth 1: at 6 the best is 100 or 110 (ratio 4/9: 110): 660 + 33.33 - 3.33 = 690; 150 at 3: 450 - 40 = 410
    assert (found.best.quantity, found.best.cost) == (150, D(410))


def test_what_is_on_hand_is_paid_already() -> None:
    found = answer(replace(KIT, stocked=(replace(KIT.stocked[0], on_hand=95, pack=10),)))
    # 95 on hand and packs of ten. 105: 60 + 20/3 x 10 - 5/3 x 4 = 120; 115: 120 + 5/3 x 10 - 20/3 x 4 = 110
    assert (found.best.order, found.best.quantity, found.best.cost) == (20, 115, D(110))


def test_nothing_is_ordered_where_being_short_costs_less_than_the_goods() -> None:
    found = answer(replace(KIT, stocked=(replace(KIT.stocked[0], short=D(5)),)))
    assert (found.ratio, found.best.order) == (D(0), 0)


def test_where_leftovers_lose_nothing_the_highest_count_is_covered() -> None:
    found = answer(replace(KIT, stocked=(replace(KIT.stocked[0], worth=D(6)),)))
    assert (found.ratio, found.best.quantity) == (D(1), 120)


def test_counts_that_rise_and_fall_together_add_up_quantile_by_quantile() -> None:
    # 3 of each of 80 to 120 boxes and 2 of each of 40 to 60, and 5 beside: at one half 3 x 100 + 2 x 50 + 5 = 405
    parts = (Part(count=Uniform(D(80), D(120)), each=D(3)), Part(count=Uniform(D(40), D(60)), each=D(2)))
    problem = one_thing(BOXES, parts=parts, plus="5", short="2", keeping="2")
    found = answer(problem)
    assert (found.ratio, found.quantile, found.mean, found.best.quantity) == (D("0.5"), D(405), D(405), 405)


def test_low_likely_high_may_be_one_certain_count() -> None:
    found = answer(one_thing(Triangle(D(40), D(40), D(40)), short="3", price="1"))
    assert (found.best.quantity, found.best.cost) == (40, D(40))


# --- What is refused ---


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Triangle(D(5), D(4), D(6)), "low 5, likely 4 and high 6 are out of order"),
        (lambda: Uniform(D(5), D(4)), "low 5 and high 4 are out of order"),
        (lambda: Normal(D(5), D(0)), "a standard deviation is more than 0"),
        (lambda: Poisson(D(0)), "more than 0 and at most 100,000"),
        (lambda: Listed(()), "at least one count"),
        (lambda: listed((5, "1"), (4, "1")), "listed counts rise"),
        (lambda: Quantiles((QuantilePoint(D(10), D(5)),)), "at least two quantiles"),
        (
            lambda: Quantiles((QuantilePoint(D(10), D(5)), QuantilePoint(D(90), D(4)))),
            "quantiles rise: from 0 to 100 %",
        ),
        (lambda: one_thing(BOXES, short="-1"), "Kit: no price, worth or cost is negative"),
        (lambda: one_thing(BOXES, short="1", pack=0), "Kit: a pack holds at least 1"),
        (
            lambda: one_thing(BOXES, short="1", parts=(Part(count=BOXES), Part(count=BOXES))),
            "cannot be added to others",
        ),
        (lambda: OversProblem(points=1), "a curve has 2 to 1,000 points"),
        (lambda: Operation(name="Cut", percent=D(100), base=Base.START), "leaves nothing good"),
    ],
)
def test_questions_that_cannot_be_are_refused(make: Any, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        make()


def test_more_without_end_is_refused() -> None:
    with pytest.raises(OversError, match="worth what it costs, so no quantity is too large"):
        plan_overs(one_thing(Normal(D(50), D(8)), short="2", price="1", worth="1"))


# --- What holds of every answer ---

figures = st.integers(0, 400).map(D)


@st.composite
def counts(draw: st.DrawFn) -> Count:
    """Draw a count of any kind that has an end."""
    three = sorted(draw(st.lists(figures, min_size=3, max_size=3, unique=True)))
    points = tuple(QuantilePoint(D(chance), count) for chance, count in zip((10, 50, 90), three, strict=True))
    weights = draw(st.lists(st.integers(1, 9).map(D), min_size=3, max_size=3))
    kinds: list[Count] = [
        Triangle(three[0], three[1], three[2]),
        Uniform(three[0], three[2]),
        Quantiles(points),
        Listed(tuple(map(ListedCount, three, weights))),
        Normal(three[1] + 60, three[2] / 20 + 1),
    ]
    return draw(st.sampled_from(kinds))


money = st.integers(0, 80).map(lambda number: D(number) / 4)


@settings(max_examples=examples(120))
@given(counts(), money, money, money, st.integers(1, 30), st.integers(0, 200), st.integers(0, 100))
def test_no_order_beside_the_best_is_expected_to_cost_less(
    count: Count, short: D, price: D, worth: D, pack: int, on_hand: int, minimum: int
) -> None:
    worth = min(worth, price)
    problem = one_thing(
        count,
        short=short,
        parts=(Part(count=count, each=D(2)),),
        prices=(
            PriceStep(from_quantity=1, price=price + 1),
            PriceStep(from_quantity=300, price=price + D("0.5")),
        ),
        worth=worth,
        pack=pack,
        on_hand=on_hand,
        minimum=minimum,
    )
    found = answer(problem)
    assert found.best.order % pack == 0
    assert found.best.order == 0 or found.best.order >= minimum
    assert [point.quantity for point in found.curve] == sorted({point.quantity for point in found.curve})


@settings(max_examples=examples(120))
@given(counts(), st.integers(1, 99))
def test_quantile_and_chance_belong_together(count: Count, percent: int) -> None:
    chance = D(percent) / 100
    assert count.at_most(count.quantile(chance) + D("1e-9")) >= chance - D("1e-9")
    # what is expected above falls with slope minus the chance of more
    x = count.quantile(chance)
    assert float(count.above(D(0))) == pytest.approx(float(count.mean), abs=1e-3)
    assert count.above(x) - count.above(x + 1) <= 1 - chance + D("1e-9")


def test_both_sides_go_through_json() -> None:
    problem = one_thing(Triangle(D(80), D(100), D(130)), short="4", price="1", worth="0.5")
    adapter = TypeAdapter(OversProblem)
    assert adapter.validate_json(adapter.dump_json(problem), extra="forbid") == problem


def test_the_checker_sees_what_is_wrong() -> None:
    result = plan_overs(KIT)
    best = result.stocked[0].best
    for wrong, said in (
        (replace(best, cost=D(670)), ", not 670"),
        (replace(best, short=D(1)), "go short"),
        (replace(best, quantity=111), "is not 0 on hand and 110 ordered"),
    ):
        spoilt = replace(result, stocked=(replace(result.stocked[0], best=wrong),))
        assert any(said in fault for fault in overs_faults(KIT, spoilt))
