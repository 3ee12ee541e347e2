"""A table's digest tells rows and their order, and is found from the rows that change alone."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from kits.kit import Tier
from planning.digests import FIRST, changed, digest, mark
from tests.web.small_month import SMALL_MONTH

FULL, HALF = SMALL_MONTH.tiers
tiers = st.lists(
    st.builds(Tier, code=st.sampled_from("abc"), name=st.just("x"), price=st.just(FULL.price)), max_size=6
)


def test_rows_in_another_order_are_another_table() -> None:
    assert digest([FULL, HALF]) != digest([HALF, FULL]) != digest([HALF]) != digest([])


@given(tiers, tiers)
def test_what_gave_way_and_what_came_make_the_digest_of_the_whole(
    before: list[Tier], after: list[Tier]
) -> None:
    def links(rows: list[Tier]) -> list[tuple[bytes, bytes]]:
        return list(pairwise([FIRST, *map(mark, rows)]))

    assert changed(digest(before), links(before), links(after)) == digest(after)
