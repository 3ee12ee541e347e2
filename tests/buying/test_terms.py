from datetime import date
from decimal import Decimal
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from kits.catalogue import Breaks, Offer, PriceBreak, Terms

PRICES = ((1, "100"), (301, "90"), (601, "80"))


def terms(*breaks: tuple[int, str], **fields: Any) -> Terms:
    offer = Offer(code="O", supplier="S", material="M", **fields)
    rows = tuple(PriceBreak(offer="O", from_quantity=start, price=Decimal(price)) for start, price in breaks)
    return Terms(offer=offer, breaks=rows)


def test_an_incremental_break_reprices_the_units_from_there_on_and_an_all_units_break_the_whole_order() -> (
    None
):
    steps, whole = terms(*PRICES, breaks=Breaks.INCREMENTAL), terms(*PRICES)
    # 300 at 100, 300 at 90, 50 at 80
    assert list(steps.bands(650)) == [(300, Decimal(100)), (300, Decimal(90)), (50, Decimal(80))]
    assert steps.goods(650, 2) == Decimal(61_000)
    assert whole.goods(650, 2) == Decimal(52_000)
    assert [steps.goods(count, 2) for count in (300, 301)] == [Decimal(30_000), Decimal(30_090)]


@given(st.integers(1, 900))
def test_the_bands_of_an_order_are_its_units_one_by_one(quantity: int) -> None:
    steps = terms(*PRICES, breaks=Breaks.INCREMENTAL)
    one_by_one = sum(80 if unit > 600 else 90 if unit > 300 else 100 for unit in range(1, quantity + 1))
    assert steps.exact_goods(quantity) == one_by_one
    assert sum(units for units, _ in steps.bands(quantity)) == quantity


def test_no_order_is_larger_than_what_the_supplier_has() -> None:
    offer = terms((1, "1"), (500, "0.5"), pack=40, maximum=450)
    assert offer.most == 440
    assert offer.worth_weighing(130) == (160,)
    assert offer.worth_weighing(441) == ()
    assert terms((1, "1"), order_until=date(2027, 3, 1)).most > 10**9
