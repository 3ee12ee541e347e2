from collections.abc import Callable, Sequence

from planning.documents.exceptions import Held
from planning.documents.listing import Box
from planning.documents.pdf.short_picks import MOST_NAMED, boxes_by_wave, short_picks, wave_words
from planning.documents.short_boxes import short_boxes
from planning.flow import MonthPlan
from tests.documents.small_month import MONTH, STAMP

Texts = Callable[[bytes], list[str]]


def test_short_picks_count_the_very_boxes_that_go_without(
    plan: MonthPlan, boxes: Sequence[Box], texts: Texts
) -> None:
    short = list(short_boxes(plan, Held(MONTH, boxes)))
    assert short
    counted = boxes_by_wave(short, plan)
    for wave, lines in counted.items():
        for (without, instead), by_units in lines.items():
            lacking = [
                one for one in short if (one.box.wave, one.without, one.instead) == (wave, without, instead)
            ]
            assert by_units.total() == len(lacking)
            units = sum(
                line.count
                for one in lacking
                for line in plan.packing.of(one.box.box_class.contents).lines
                if line.item.name == without
            )
            assert sum(each * number for each, number in by_units.items()) == units
    page = " ".join(texts(short_picks(MONTH, plan, Held(MONTH, boxes), STAMP)))
    assert all(one.without in page for one in short)


def test_a_line_names_only_so_many_waves() -> None:
    assert wave_words({1: 2, 4: 1_000}) == "1 (2), 4 (1,000)"
    assert wave_words(dict.fromkeys(range(1, MOST_NAMED + 4), 1)).endswith(
        f"{MOST_NAMED} (1) and 3 more waves"
    )
