from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from kits.measures import MM
from planning.shipping.pallets import Ends, Pallet, Stacked, stack_on

# 1,200 x 800 mm is the deck of a common European pallet (EN 13698-1, from memory)
PALLET = Pallet(length=1_200 * MM, width=800 * MM, height=1_200 * MM, load=Fraction(400_000))


def sides(*millimetres: int) -> tuple[int, int, int]:
    long, wide, deep = (side * MM for side in millimetres)
    return long, wide, deep


def test_flat_boxes_by_hand() -> None:
    """1,200 / 327 = 3, 800 / 327 = 2: 6 a layer. 1,200 / 47 = 25 layers: 150; 400 cartons are two pallets and 100 more."""
    assert stack_on(PALLET, sides(327, 327, 47), Fraction(700), 400) == Stacked(
        cartons=400, a_layer=6, layers=25, each=150, pallets=3, ends=Ends.HEIGHT
    )
    assert stack_on(PALLET, sides(327, 327, 47), Fraction(700), 400).last == 100


def test_a_turned_layer_holds_more() -> None:
    """600 x 400 mm: 2 x 2 = 4 one way, 3 x 1 = 3 the other."""
    assert stack_on(PALLET, sides(400, 600, 300), Fraction(1), 1).a_layer == 4
    assert stack_on(PALLET, sides(600, 400, 300), Fraction(1), 1).a_layer == 4


def test_weight_ends_a_stack_before_its_height() -> None:
    """400 kg / 16 kg = 25 cartons, in layers of 4: seven, the last one not full."""
    stacked = stack_on(PALLET, sides(600, 400, 100), Fraction(16_000), 25)
    assert (stacked.each, stacked.layers, stacked.pallets, stacked.ends) == (25, 7, 1, Ends.LOAD)


def test_what_is_larger_than_the_deck_stands_on_no_pallet() -> None:
    stacked = stack_on(PALLET, sides(1_300, 700, 100), Fraction(1_000), 9)
    assert (stacked.each, stacked.pallets, stacked.last, stacked.ends) == (0, 0, 0, Ends.DECK)


@given(
    st.tuples(st.integers(50, 900), st.integers(50, 900), st.integers(5, 900)),
    st.integers(1, 60_000),
    st.integers(1, 5_000),
)
def test_no_pallet_is_too_high_or_too_heavy_and_every_carton_stands_on_one(
    size: tuple[int, int, int], grams: int, cartons: int
) -> None:
    stacked = stack_on(PALLET, sides(*size), Fraction(grams), cartons)
    if stacked.each:
        assert stacked.each * grams <= PALLET.load
        assert stacked.layers * size[2] <= 1_200
        assert stacked.a_layer * size[0] * size[1] <= 1_200 * 800
        assert (stacked.pallets - 1) * stacked.each < cartons <= stacked.pallets * stacked.each
        assert 0 < stacked.last <= stacked.each
