from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from planning.shipping.picks import ShortPick, short_picks
from tests.documents.small_month import small_plan

PLAN = small_plan()
NAMES = sorted({line.item.item for spec in PLAN.packing.boxes for line in spec.lines})


def taken() -> dict[int, Counter[str]]:
    """What each wave takes, box by box."""
    found: dict[int, Counter[str]] = {}
    for wave in PLAN.waves:
        found[wave.number] = Counter()
        for part in wave.parts:
            spec = PLAN.packing.of(part.box_class.contents)
            for _ in range(part.boxes):
                found[wave.number].update({line.item.item: line.count for line in spec.lines})
    return found


@given(st.dictionaries(st.sampled_from(NAMES), st.integers(0, 120)))
def test_an_item_is_short_from_the_wave_in_which_it_runs_out(there: dict[str, int]) -> None:
    each = taken()
    expected: dict[str, tuple[int, int]] = {}
    for item, units in there.items():
        used = 0
        for wave, took in each.items():
            used += took[item]
            if used > units and item not in expected:
                expected[item] = wave, sum(one[item] for one in each.values()) - units
    found = list(short_picks(PLAN.waves, PLAN.packing, there))
    assert {one.item: (one.wave, one.lacking) for one in found} == expected
    assert [one.wave for one in found] == sorted(one.wave for one in found)


def test_a_carton_runs_short_too() -> None:
    """Four boxes a wave, and nine cartons: the third wave lacks the tenth."""
    boxes = sum(wave.boxes for wave in PLAN.waves)
    [one] = short_picks(PLAN.waves, PLAN.packing, {"material:BOX": 9})
    assert isinstance(one, ShortPick)
    reached = 0
    for wave in PLAN.waves:
        reached += wave.boxes
        if reached > 9:
            break
    assert (one.wave, one.wanted, one.lacking) == (wave.number, boxes, boxes - 9)
