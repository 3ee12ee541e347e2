"""Orders: tax by rate, landed cost to the cent, what each state allows, what an amendment changes, what to chase."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planning.orders import (
    Act,
    LineKind,
    Order,
    OrderLine,
    OrderStateError,
    Placed,
    Received,
    State,
    allow,
    amendment_faults,
    as_planned,
    cost,
    differences,
    due,
    expected_receipts,
    gross,
    keyed_like,
    landed,
    line_taxes,
    money_faults,
    order_faults,
    state_of,
    tax_table,
    to_chase,
    total_tax,
    value_of,
    with_quantity,
    with_taxes,
)
from tests.support.effort import examples

MARCH = date(2027, 3, 1)
CARD = OrderLine(
    key=1,
    material="CARD",
    name="White card",
    offer="M-CARD",
    unit="sheet",
    pack=10,
    quantity=40,
    price=Decimal("0.25"),
    amount=Decimal("10.00"),
    tax_rate=Decimal(20),
    recovered=True,
    need_by=date(2027, 3, 22),
    expected=date(2027, 3, 18),
)
BRADS = OrderLine(
    key=2,
    material="BRADS",
    name="Brass brads",
    offer="B-BRADS",
    unit="each",
    quantity=30,
    price=Decimal("0.17"),
    amount=Decimal("5.10"),
    tax_rate=Decimal(5),
    recovered=False,
    need_by=date(2027, 3, 22),
    expected=date(2027, 3, 25),
)
SETUP = OrderLine(
    key=3,
    kind=LineKind.SETUP,
    material="BRADS",
    name="Set-up, Brass brads",
    price=Decimal(2),
    amount=Decimal("2.00"),
)
FREIGHT = OrderLine(
    key=4,
    kind=LineKind.FREIGHT,
    name="Freight",
    price=Decimal(3),
    amount=Decimal("3.00"),
    tax_rate=Decimal(20),
    recovered=False,
)
ORDER = Order(
    number="TINY-2704-1",
    month="2027-04",
    supplier="MILL",
    supplier_name="Millbrook Paper",
    currency="GBP",
    order_by=date(2027, 3, 4),
    lines=(CARD, BRADS, SETUP, FREIGHT),
)


# --- Tax ---


def test_tax_is_rounded_once_for_each_rate_and_shared_among_its_lines() -> None:
    """20 % of 10.00 + 3.00 is 2.60, shared 2.00 and 0.60; 5 % of 5.10 is 0.255, half up 0.26 (EN 16931-1, BR-CO-17)."""
    assert line_taxes(ORDER) == {1: Decimal("2.00"), 2: Decimal("0.26"), 3: Decimal(0), 4: Decimal("0.60")}
    assert [(one.rate, one.base, one.tax, one.recovered, one.cost) for one in tax_table(ORDER)] == [
        (Decimal(20), Decimal("13.00"), Decimal("2.60"), Decimal("2.00"), Decimal("0.60")),
        (Decimal(5), Decimal("5.10"), Decimal("0.26"), Decimal(0), Decimal("0.26")),
    ]
    assert (ORDER.net, total_tax(ORDER), gross(ORDER)) == (
        Decimal("20.10"),
        Decimal("2.86"),
        Decimal("22.96"),
    )


def test_three_small_lines_are_taxed_on_their_sum() -> None:
    """Three lines of 0.03 at 20 %: 0.006 each would round to 0.03 in all; their sum of 0.09 is taxed 0.02."""
    lines = tuple(replace(CARD, key=key, amount=Decimal("0.03")) for key in (1, 2, 3))
    assert total_tax(replace(ORDER, lines=lines)) == Decimal("0.02")
    assert sorted(line_taxes(replace(ORDER, lines=lines)).values()) == [0, Decimal("0.01"), Decimal("0.01")]


def test_rates_written_differently_are_one_rate() -> None:
    lines = (CARD, replace(BRADS, tax_rate=Decimal("20.0")))
    assert len(tax_table(replace(ORDER, lines=lines))) == 1


def test_tax_that_is_not_recovered_is_cost() -> None:
    assert cost(ORDER) == Decimal("20.10") + Decimal("0.60") + Decimal("0.26")


# --- Landed cost ---


def test_landed_cost_is_price_charges_and_tax_that_stays() -> None:
    """Freight 3.00 + 0.60 tax by amount, 10.00 : 5.10, is 2.38 : 1.22. Card 10.00 + 2.38 (its tax comes back); brads
    5.10 + 0.26 tax + 2.00 set-up + 1.22 (IAS 2, paragraph 11)."""
    assert landed(ORDER) == {1: Decimal("12.38"), 2: Decimal("8.58")}
    assert sum(landed(ORDER).values()) == cost(ORDER)


def test_receipts_in_parts_add_up_to_the_landed_cost() -> None:
    first = value_of(ORDER, CARD, 13)
    second = value_of(ORDER, CARD, 13, Received(good=13, value=first))
    last = value_of(ORDER, CARD, 14, Received(good=26, value=first + second))
    assert (first, second, last) == (Decimal("4.02"), Decimal("4.03"), Decimal("4.33"))
    assert first + second + last == landed(ORDER)[1]


def test_units_beyond_the_order_cost_their_price_and_tax_alone() -> None:
    assert value_of(ORDER, CARD, 44) == Decimal("12.38") + Decimal("1.00")


def test_an_amended_price_is_made_good_by_what_comes_after() -> None:
    dearer = replace(CARD, price=Decimal("0.50"), amount=Decimal("20.00"))
    amended = replace(ORDER, lines=(dearer, BRADS, SETUP, FREIGHT))
    before = Received(good=20, value=value_of(ORDER, CARD, 20))
    rest = value_of(amended, dearer, 20, before)
    assert before.value + rest == landed(amended)[1]


LINES = st.builds(
    OrderLine,
    key=st.just(0),
    kind=st.sampled_from(LineKind),
    material=st.sampled_from(("A", "B", "C")),
    name=st.just("Line"),
    quantity=st.integers(1, 50),
    price=st.just(Decimal(1)),
    amount=st.decimals(0, 1000, places=2),
    tax_rate=st.sampled_from([Decimal(rate) for rate in ("0", "5", "5.5", "20", "19.6")]),
    recovered=st.booleans(),
)


@settings(max_examples=examples(300))
@given(st.lists(LINES, min_size=1, max_size=7))
def test_any_order_adds_up(lines: list[OrderLine]) -> None:
    keyed = tuple(replace(line, key=key) for key, line in enumerate([CARD, *lines], 1))
    order = replace(ORDER, lines=keyed)
    assert list(money_faults(order, line_taxes(order), landed(order))) == []
    assert (
        gross(order) - sum(one.recovered for one in tax_table(order))
        == cost(order)
        == sum(landed(order).values())
    )


@settings(max_examples=examples(200))
@given(st.lists(st.integers(0, 15), max_size=8))
def test_however_a_delivery_is_parted_it_costs_the_same(parts: list[int]) -> None:
    came, value = 0, Decimal(0)
    for part in parts:
        value += value_of(ORDER, CARD, part, Received(good=came, value=value))
        came += part
    assert value == (value_of(ORDER, CARD, came) if came else 0)


# --- States ---


def test_an_order_goes_from_draft_to_closed() -> None:
    half, all_of_it = {1: Received(good=40)}, {1: Received(good=40), 2: Received(good=31)}
    assert state_of(ORDER, {}, sent=False, closed=False) is State.DRAFT
    assert state_of(ORDER, {}, sent=True, closed=False) is State.SENT
    assert state_of(ORDER, half, sent=True, closed=False) is State.PART_RECEIVED
    assert state_of(ORDER, all_of_it, sent=True, closed=False) is State.CLOSED
    assert state_of(ORDER, half, sent=True, closed=True) is State.CLOSED


def test_damaged_goods_are_still_due() -> None:
    assert due(ORDER, {1: Received(good=30, damaged=10)}) == {1: 10, 2: 30}


@pytest.mark.parametrize(
    ("state", "act", "advice"),
    [
        (State.SENT, Act.EDIT, "amend it instead"),
        (State.SENT, Act.DROP, "amend it instead"),
        (State.PART_RECEIVED, Act.SEND, "amend it instead"),
        (State.DRAFT, Act.RECEIVE, "check and send it first"),
        (State.DRAFT, Act.CLOSE, "check and send it first"),
        (State.CLOSED, Act.RECEIVE, "make another order"),
        (State.CLOSED, Act.AMEND, "make another order"),
    ],
)
def test_what_a_state_does_not_allow_is_refused_with_what_to_do(state: State, act: Act, advice: str) -> None:
    with pytest.raises(OrderStateError, match=advice):
        allow("TINY-2704-1", state, act)


# --- Amendments ---


def test_an_amendment_says_what_differs() -> None:
    more = with_quantity(CARD, 55, 2)
    assert (more.quantity, more.amount) == (60, Decimal("15.00"))  # whole packs of 10
    other = replace(BRADS, price=Decimal("0.16"), tax_rate=Decimal(0), expected=None)
    extra = replace(BRADS, key=9, name="Steel brads", offer="B-STEEL")
    found = differences(ORDER, replace(ORDER, lines=(more, other, extra, FREIGHT)))
    assert [(one.line, one.what, one.before, one.after, one.change) for one in found] == [
        ("White card", "quantity", "40", "60", "+20"),
        ("Brass brads", "price each", "0.17", "0.16", ""),
        ("Brass brads", "tax", "5 %, not recovered", "no tax", ""),
        ("Brass brads", "expected", "25 Mar 2027", "no day", ""),
        ("Set-up, Brass brads", "line", "2.00", "dropped", ""),
        ("Steel brads", "line", "not ordered", "30 at 0.17", ""),
    ]
    assert differences(ORDER, ORDER) == ()


def test_what_came_cannot_be_unordered() -> None:
    fewer = replace(ORDER, lines=(replace(CARD, quantity=10),))
    came = {1: Received(good=20), 2: Received(good=0)}
    assert [key for key, _ in amendment_faults(ORDER, fewer, came)] == [1]


def test_a_fresh_draft_keeps_keys_and_taxes_of_lines_alike() -> None:
    fresh = replace(
        ORDER,
        number="",
        lines=(replace(BRADS, key=1, tax_rate=Decimal(0)), replace(CARD, key=2, offer="NEW")),
    )
    asked = keyed_like(ORDER, fresh)
    assert [(one.key, one.offer, one.tax_rate) for one in asked.lines] == [
        (2, "B-BRADS", Decimal(5)),
        (5, "NEW", Decimal(20)),
    ]
    assert asked.number == ORDER.number


def test_taxes_are_as_they_were_on_the_last_order() -> None:
    plain = tuple(
        replace(one, tax_rate=Decimal(0), recovered=True)
        for one in (CARD, replace(BRADS, offer="B-NEW"), FREIGHT)
    )
    taxed = with_taxes(replace(ORDER, lines=plain), [CARD, BRADS, FREIGHT])
    assert [(one.tax_rate, one.recovered) for one in taxed.lines] == [
        (Decimal(20), True),
        (Decimal(5), False),
        (Decimal(20), False),
    ]


# --- Beside the plan ---


def planned(*quantities: tuple[OrderLine, int]) -> Order:
    return replace(ORDER, lines=(*(with_quantity(line, units, 2) for line, units in quantities), FREIGHT))


def test_a_plan_that_wants_more_asks_for_more() -> None:
    asked = as_planned(planned((CARD, 60), (BRADS, 30)), ORDER, {})
    assert asked is not None
    assert [(one.key, one.quantity) for one in asked.goods] == [(1, 60), (2, 30)]


def test_what_the_plan_counts_on_is_wanted_still() -> None:
    """The plan took the order for what is on its way and wants 10 sheets more: 50 in all, at the order's price."""
    asked = as_planned(planned((replace(CARD, price=Decimal("0.40")), 10)), ORDER, {"CARD": 40, "BRADS": 30})
    assert asked is not None
    assert [(one.quantity, one.price) for one in asked.goods] == [
        (50, Decimal("0.25")),
        (30, Decimal("0.17")),
    ]


def test_what_other_orders_bring_is_not_asked_twice() -> None:
    asked = as_planned(planned((CARD, 60), (BRADS, 30)), None, {"CARD": -35, "BRADS": -30})
    assert asked is not None
    assert [(one.material, one.quantity) for one in asked.goods] == [("CARD", 30)]  # 25, in packs of 10
    assert asked.lines[-1].kind is LineKind.FREIGHT


def test_a_plan_that_agrees_leaves_the_order_as_it_is() -> None:
    assert as_planned(None, ORDER, {"CARD": 40, "BRADS": 30}) == ORDER
    assert as_planned(None, None, {}) is None
    dropped = as_planned(None, ORDER, {})
    assert dropped is not None
    assert dropped.lines == ()


# --- The checker ---


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ((FREIGHT,), "asks for no goods"),
        ((CARD, replace(BRADS, key=1)), "line 1 stands 2 times"),
        ((replace(CARD, quantity=0),), "0 cannot be ordered"),
        ((replace(CARD, quantity=45),), "no whole number of packs of 10"),
        ((replace(CARD, material=""),), "no material"),
        ((replace(CARD, amount=Decimal("1.005")),), "no whole number of coins"),
        ((replace(CARD, tax_rate=Decimal(101)),), "out of bounds"),
    ],
)
def test_an_order_that_cannot_be_sent_is_told_why(lines: tuple[OrderLine, ...], said: str) -> None:
    assert said in "; ".join(order_faults(replace(ORDER, lines=lines)))
    assert list(order_faults(ORDER)) == []


def test_money_that_does_not_add_up_is_told() -> None:
    taxes, costs = dict(line_taxes(ORDER)), dict(landed(ORDER))
    assert list(money_faults(ORDER, taxes | {1: Decimal(3)}, costs)) != []
    assert list(money_faults(ORDER, taxes, costs | {1: Decimal(3)})) != []


# --- Expected, and what to chase ---


def test_what_is_due_stands_on_its_day() -> None:
    one = Placed(order=ORDER, state=State.PART_RECEIVED, received={1: Received(good=15)})
    assert [
        (each.when, each.line.material, each.quantity, each.is_late) for each in expected_receipts([one])
    ] == [
        (date(2027, 3, 18), "CARD", 25, False),
        (date(2027, 3, 25), "BRADS", 30, True),
    ]
    assert expected_receipts([replace(one, state=State.CLOSED), replace(one, state=State.DRAFT)]) == ()


def chased(
    state: State, today: date, received: dict[int, Received] | None = None, order: Order = ORDER
) -> list[str]:
    placed = Placed(order=order, state=state, received=received or {})
    return [f"{one.about}: {one.words}" for one in to_chase([placed], today)]


def test_a_draft_is_chased_from_three_days_before_it_must_go_out() -> None:
    assert chased(State.DRAFT, date(2027, 2, 28)) == []
    assert chased(State.DRAFT, MARCH) == ["The whole order: to be sent by 4 Mar 2027"]
    assert chased(State.DRAFT, date(2027, 3, 5)) == [
        "The whole order: not sent yet, and had to be sent by 4 Mar 2027"
    ]


def test_an_order_nobody_confirmed_is_chased_after_three_days() -> None:
    sent = Placed(order=replace(ORDER, lines=(CARD,)), state=State.SENT, sent_on=MARCH)
    assert to_chase([sent], date(2027, 3, 3)) == ()
    [chase] = to_chase([sent], date(2027, 3, 4))
    assert chase.words == "sent 1 Mar 2027 and not confirmed: ask for quantities, prices and the day"
    assert to_chase([replace(sent, is_confirmed=True)], date(2027, 3, 4)) == ()
    begun = replace(sent, state=State.PART_RECEIVED, received={1: Received(good=1)})
    assert to_chase([begun], date(2027, 3, 4)) == ()


def test_a_sent_order_is_chased_for_what_is_overdue_or_comes_too_late() -> None:
    late = "Brass brads: 30 expected 25 Mar 2027, needed by 22 Mar 2027: ask for a quicker delivery"
    assert chased(State.SENT, MARCH) == [late]
    assert chased(State.SENT, date(2027, 3, 19), {2: Received(good=30)}) == [
        "White card: 40 sheets were due 18 Mar 2027, 1 day ago; needed by 22 Mar 2027"
    ]
    assert chased(State.SENT, date(2027, 3, 24), {2: Received(good=30)}) == [
        "White card: 40 sheets were due 18 Mar 2027, 6 days ago; needed by 22 Mar 2027, which is past"
    ]


def test_goods_without_a_day_damaged_goods_and_surplus_are_chased() -> None:
    no_day = replace(
        ORDER, lines=(replace(CARD, expected=None, need_by=None), replace(BRADS, expected=date(2027, 3, 9)))
    )
    came = {1: Received(good=30, damaged=10), 2: Received(good=32)}
    assert chased(State.PART_RECEIVED, MARCH, came, no_day) == [
        "White card: 10 sheets have no day of delivery: ask for one",
        "White card: 10 came damaged: ask for others or for a credit",
        "Brass brads: 2 more came than ordered: agree what becomes of them",
    ]


@given(st.integers(-30, 60))
def test_nothing_is_chased_of_a_closed_order(days: int) -> None:
    assert chased(State.CLOSED, MARCH + timedelta(days=days)) == []
