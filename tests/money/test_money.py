"""Variances, prices, promotions and what happened, worked by hand; and that nothing divides by nothing."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from planning.cost import ONE_OFF, Heading
from planning.cost.rows import (
    Actual,
    ActualKind,
    BudgetLine,
    ChangeKind,
    Charge,
    ChargeKind,
    PricePoint,
    Promotion,
    TierAim,
    VariantLine,
)
from planning.curve import what_if
from planning.flow import plan_month
from planning.money import (
    Side,
    budget_side,
    learned,
    outcomes,
    plan_side,
    promotion_costs,
    tier_prices,
    to_point,
    variances,
    with_learned,
)
from planning.problems import roster_problem
from tests.support.months import tiny_month

D = Decimal
MONTH = tiny_month()
PLAN = plan_month(MONTH)
amounts = st.decimals(0, 9_999, places=2)
sides = st.builds(
    Side,
    st.dictionaries(st.sampled_from("ABC"), st.integers(1, 900)),
    st.dictionaries(st.tuples(st.sampled_from(["A", "B", "C", ONE_OFF]), st.sampled_from(Heading)), amounts),
)


def test_more_kits_other_kits_and_dearer_kits_are_told_apart() -> None:
    # then: 10 A at 4 and 10 B at 2, 60 in all, 3 a kit. Now: 18 A at 5 and 12 B at 2, 114. Ten kits more at 3 are 30;
    # of 30 kits 15 A and 15 B would cost 90, but 18 A and 12 B at the same cost 72 + 24 = 96, 6 more; 18 A at 1 more are 18
    then = Side({"A": 10, "B": 10}, {("A", Heading.PAPER): D(40), ("B", Heading.PAPER): D(20)})
    now = Side({"A": 18, "B": 12}, {("A", Heading.PAPER): D(90), ("B", Heading.PAPER): D(24)})
    [one] = variances(now, then, 2)
    assert (one.difference, one.quantity, one.mix, one.price) == (D(54), D(30), D(6), D(18))


@given(sides, sides)
def test_the_parts_of_a_variance_sum_to_the_difference(now: Side, then: Side) -> None:
    found = list(variances(now, then, 2))
    assert sum(one.quantity + one.mix + one.price for one in found) == now.total - then.total


def test_a_month_compared_with_nothing_is_all_quantity() -> None:
    found = list(variances(plan_side(PLAN.cost), budget_side((), ()), 2))
    assert all(one.mix == 0 for one in found)
    assert sum(one.difference for one in found) == PLAN.cost.total


def test_a_budget_is_held_against_its_boxes() -> None:
    side = budget_side(
        (TierAim(tier="FULL", boxes=3),), (BudgetLine(tier="FULL", heading=Heading.PAPER, amount=D(9)),)
    )
    assert (side.boxes, side.total) == ({"FULL": 3}, D(9))


def test_prices_are_rounded_up_to_the_clubs_points() -> None:
    points = (
        PricePoint(start=D(0), step=D("0.50")),
        PricePoint(start=D(20), step=D(1), less=D("0.05")),
    )
    assert [
        to_point(Fraction(price), points, 2) for price in ("12.01", "12.50", "19.80", "20.01", "21.96")
    ] == [
        D("12.50"),
        D("12.50"),
        D("20.95"),  # 20.00 is where the next row begins, and its first price is 20.95
        D("20.95"),
        D("22.95"),
    ]
    assert to_point(Fraction(1, 3), (), 2) == D("0.34")


def test_a_price_pays_the_fee_and_leaves_the_aim() -> None:
    # a full kit costs so much each; of the price 2 % are the fee and 18 % the aim, so 80 % must pay the rest
    charges = (Charge(kind=ChargeKind.PAYMENT, name="Cards", percent=D(2)),)
    month = replace(MONTH, charges=charges)
    cost = plan_month(month).cost
    full = next(
        one
        for one in tier_prices(cost, (TierAim(tier="FULL", margin=D(18)),), charges, ())
        if one.tier == "FULL"
    )
    column = cost.columns[0]
    rest = Fraction(column.total) / column.boxes - Fraction(2, 5)  # 2 % of 20
    assert full.member is not None
    assert Fraction(full.member) * Fraction(4, 5) >= rest > Fraction(full.member - D("0.01")) * Fraction(4, 5)
    assert full.single is None


def test_what_cannot_be_priced_has_no_price() -> None:
    charges = (Charge(kind=ChargeKind.PAYMENT, name="Cards", percent=D(60)),)
    free = replace(MONTH, tiers=tuple(replace(one, price=D(0)) for one in MONTH.tiers), charges=charges)
    aims = (TierAim(tier="FULL", margin=D(40), single_margin=D(99)),)
    for one in tier_prices(plan_month(free).cost, aims, charges, ()):
        assert (one.member, one.single, one.most_off, one.free_from) == (None, None, None, None)


def test_a_promotion_costs_what_it_gives_away_less_what_it_brings() -> None:
    # 2 off each of the 3 full kits is 6 given; a kit more brings 18 less what it adds
    cost = PLAN.cost
    [one] = promotion_costs(cost, (Promotion(name="May", tier="FULL", off=D(2), extra=4),), ())
    adds = Fraction(cost.columns[0].total) / 3
    assert (one.given, one.kits, one.off) == (D(6), 3, D(2))
    assert abs(Fraction(one.brings) - 4 * (18 - adds)) <= Fraction(1, 200)


def test_what_happened_stands_beside_the_plan_and_teaches_rates() -> None:
    # mats: 15 good, 3 spoiled are 20 %; the bench took 5 boxes 20 min longer than its 25
    month = replace(
        MONTH,
        actuals=(
            Actual(kind=ActualKind.SPOILED, item="MAT", quantity=D(3)),
            Actual(kind=ActualKind.PACKING, quantity=2 * PLAN.packing.minutes),
            Actual(kind=ActualKind.BOUGHT, item="PRINT", quantity=D(6), amount=D("1.92")),
        ),
    )
    mats, bench, prints = outcomes(month, PLAN)
    assert (mats.planned, bench.planned) == (D(0), PLAN.packing.minutes)
    assert (prints.planned, prints.planned_amount, prints.amount) == (D(6), D("1.80"), D("1.92"))
    rates = list(learned(month, PLAN))
    assert [(one.field, one.used, one.learned) for one in rates] == [
        ("overs_percent", D(0), D("20.0")),
        ("minutes_per_box", D(2), D("4.000")),
        ("minutes_per_line", D("0.5"), D("1.000")),
    ]
    after = with_learned(MONTH, rates)
    assert (after.pre_cuts[0].overs_percent, after.club.minutes_per_box) == (D("20.0"), D(4))


def test_what_if_leaves_the_month_alone_and_tells_what_differs() -> None:
    # ten boxes instead of five cost more and bring twice as much; a dearer full kit brings 3 more
    people = roster_problem(MONTH)
    twice = what_if(
        "Ten", (VariantLine(variant="Ten", change=ChangeKind.BOXES, value="10"),), MONTH, people, PLAN.cutting
    )
    found = {one.what: (one.before, one.after) for one in twice.changed}
    assert (found["Boxes"], found["Price of all kits"]) == ((D(5), D(10)), (D(84), D(168)))
    assert twice.month == MONTH
    lines = (VariantLine(variant="Up", change=ChangeKind.PRICE, item="FULL", value="21"),)
    dearer = what_if("Up", lines, MONTH, people, PLAN.cutting)
    assert {one.what: one.difference for one in dearer.changed} == {
        "Price of all kits": D(3),
        "What is left": D(3),
        "Margin of one kit, The full kit": D(1),
    }
