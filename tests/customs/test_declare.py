from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from planning.customs import CustomsLine, ItemFact, declare
from planning.packing import PackItem, PackLine

PRINT = ItemFact(words="printed paper", hs_code="491191", origin="IE", value=Fraction("0.625"))
CARD = ItemFact(words="card", hs_code="482390", origin="SE", value=Fraction("0.28"))
CUT = ItemFact(words="card, cut to size", hs_code="482390", origin="SE", value=Fraction(1, 30))


def line(item: str, count: int, weight: int = 10, *, packaging: bool = False) -> PackLine:
    return PackLine(
        item=PackItem(item=item, name=item.title(), weight=Fraction(weight), packaging=packaging), count=count
    )


def test_goods_of_one_code_and_origin_share_a_line_and_wrapping_is_left_out() -> None:
    """By hand: 3 x 0.625 = 1.875, half up 1.88; 2 x 0.28 + 4 / 30 = 0.6933, so 0.69."""
    declared = declare(
        [line("a", 3), line("b", 2, 16), line("c", 4, 2), line("tissue", 1, packaging=True), line("d", 1)],
        {"a": PRINT, "b": CARD, "c": CUT, "tissue": CARD},
        2,
    )
    assert declared.lines == (
        CustomsLine(
            words="printed paper",
            hs_code="491191",
            origin="IE",
            pieces=3,
            weight=Fraction(30),
            value=Decimal("1.88"),
        ),
        CustomsLine(
            words="card, card, cut to size",
            hs_code="482390",
            origin="SE",
            pieces=6,
            weight=Fraction(40),
            value=Decimal("0.69"),
        ),
    )
    assert declared.missing == ("D",)
    assert declared.value == Decimal("2.57")


def test_a_line_is_worth_at_least_the_smallest_coin() -> None:
    [one] = declare([line("a", 1)], {"a": replace(CARD, value=Fraction(0))}, 2).lines
    assert one.value == Decimal("0.01")
    [yen] = declare([line("a", 1)], {"a": CARD}, 0).lines
    assert yen.value == Decimal(1)


facts = st.dictionaries(st.sampled_from("abcd"), st.sampled_from([PRINT, CARD, CUT]))
held = st.lists(st.tuples(st.sampled_from("abcd"), st.integers(1, 9)), unique_by=lambda one: one[0])


@given(held, facts)
def test_every_piece_is_declared_once_or_named_as_missing(
    boxes: list[tuple[str, int]], known: dict[str, ItemFact]
) -> None:
    declared = declare([line(*one) for one in boxes], known, 2)
    assert sum(one.pieces for one in declared.lines) == sum(n for item, n in boxes if item in known)
    assert list(declared.missing) == [item.title() for item, _ in boxes if item not in known]
    keys = [(one.hs_code, one.origin) for one in declared.lines]
    assert len(set(keys)) == len(keys)
    worth = sum((known[item].value * n for item, n in boxes if item in known), Fraction(0))
    assert abs(declared.value - Decimal(worth.numerator) / worth.denominator) <= Decimal("0.01") * len(keys)
