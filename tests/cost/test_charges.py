"""What a month costs besides goods and work, by hand in the month of `tests.support.months`; and that everything adds up."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from planning.cost import ONE_OFF, Heading, cost_faults
from planning.cost.rows import Charge, ChargeKind
from planning.curve import scaled_roster
from planning.flow import decide, plan_month
from planning.month import Month
from planning.problems import cost_problem
from tests.support.effort import examples
from tests.support.months import tiny_month

D = Decimal
MONTH = tiny_month()
PLAN = plan_month(MONTH)
money = st.decimals(0, 500, places=2)


def amounts(month: Month, heading: Heading) -> dict[str, Decimal]:
    columns = plan_month(month).cost.columns
    return {one.code: dict(one.by_heading)[heading] for one in columns if dict(one.by_heading)[heading]}


def test_a_payment_fee_is_of_the_price_and_of_each_kit() -> None:
    # 3 full kits at 20: 1.5 % of 60 is 0.90, and 3 x 0.20; 2 half ones at 12: 0.36 and 0.40
    fee = Charge(kind=ChargeKind.PAYMENT, name="Cards", percent=D("1.5"), each=D("0.20"))
    assert amounts(replace(MONTH, charges=(fee,)), Heading.FEES) == {"FULL": D("1.50"), "HALF": D("0.76")}


def test_what_is_paid_once_is_shared_by_the_kits_of_those_who_bear_it() -> None:
    design = Charge(kind=ChargeKind.DESIGN, name="Designer", once=D(10))
    assert amounts(replace(MONTH, charges=(design,)), Heading.DESIGN) == {"FULL": D(6), "HALF": D(4)}
    own = replace(design, tiers=("HALF",))
    assert amounts(replace(MONTH, charges=(own,)), Heading.DESIGN) == {"HALF": D(10)}


def test_damage_costs_again_what_is_in_the_box_its_work_and_its_postage() -> None:
    damage = Charge(kind=ChargeKind.DAMAGE, name="Again", percent=D(10))
    again = (
        Heading.PAPER,
        Heading.CUTTING,
        Heading.EXTRAS,
        Heading.PACKAGING,
        Heading.PACKING,
        Heading.POSTAGE,
    )
    column = next(one for one in PLAN.cost.columns if one.code == "FULL")
    tenth = sum((dict(column.by_heading)[heading] for heading in again), D(0)) / 10
    found = amounts(replace(MONTH, charges=(damage,)), Heading.DAMAGE)["FULL"]
    assert abs(found - tenth) <= D("0.005")


def test_a_month_without_kits_still_pays_what_is_paid_once() -> None:
    fixed = Charge(kind=ChargeKind.FIXED, name="Room", once=D(9))
    empty = plan_month(replace(MONTH, subscribers=(), orders=(), charges=(fixed,))).cost
    assert empty.total == D(9)
    assert all(column.each is None for column in empty.columns)
    nobody = replace(MONTH, subscribers=(), orders=(), tiers=(), kit_lines=(), charges=(fixed,))
    assert [column.code for column in plan_month(nobody).cost.columns] == [ONE_OFF]


@settings(max_examples=examples(1000), deadline=None)
@given(
    st.lists(
        st.builds(
            Charge,
            kind=st.sampled_from(ChargeKind),
            name=st.just("Charge"),
            tiers=st.sampled_from([(), ("FULL",), ("HALF", "FULL")]),
            percent=st.decimals(0, 100, places=3),
            each=st.decimals(0, 9, places=4),
            once=money,
        ),
        max_size=4,
    ),
    st.lists(money, min_size=2, max_size=2),
    st.integers(0, 400),
    st.decimals(0, 40, places=2),
)
def test_headings_and_columns_of_any_month_sum_to_its_total(
    charges: list[Charge], prices: list[Decimal], boxes: int, wage: Decimal
) -> None:
    """And every other sum of the checker holds."""
    month = replace(
        MONTH,
        charges=tuple(charges),
        club=replace(MONTH.club, crew_cost_per_hour=wage),
        tiers=tuple(replace(one, price=each) for one, each in zip(MONTH.tiers, prices, strict=True)),
    )
    done = decide(month, PLAN.contents, scaled_roster(PLAN.roster, boxes), known=PLAN.cutting)
    cost = done.cost
    assert sum(cost.heading_total(heading) for heading in Heading) == cost.total
    assert sum(column.total for column in cost.columns) == cost.total
    problem = cost_problem(
        month, done.roster, done.requirements, done.cutting, done.buying, done.packing, done.shipping
    )
    assert cost_faults(problem, cost) == ()
