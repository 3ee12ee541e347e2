"""The slips are compared with the very same marks."""

import re
from functools import partial

from planning.bench import lists, rates, slips
from planning.documents.listing import list_boxes
from planning.documents.pdf import packing_slips
from tests.documents.small_month import MONTH, small_plan


def test_the_hand_writes_the_very_bytes_and_the_canvas_draws_every_text() -> None:
    plan = small_plan()
    boxes = [box for box in list_boxes(MONTH, plan) if box.wave == 1]
    _, pages = slips.parts_of(packing_slips(MONTH, plan, plan.waves[0], boxes, slips.STAMP))
    assert len(pages) == len(boxes)
    assert [slips.written(slips.told(page)) for page in pages] == pages
    for page, (forms, texts, bars) in zip(pages, slips.recorded(MONTH, plan, boxes), strict=True):
        assert page.count("/FormXob.") == len(forms)
        assert page.count(" re") == len(bars)
        assert len(re.findall(r"\) Tj", page)) == len(texts)


def test_a_row_says_the_ratio() -> None:
    rows = [*slips.compared(MONTH, small_plan(), 10), *lists.compared(MONTH, small_plan(), 10)]
    assert [bool(re.match(r"\d+\.\d\d \((reached|missed): ", row.ended)) for row in rows] == [True] * 4


def test_the_ways_take_turns() -> None:
    said: list[str] = []
    rates.cpu_medians(partial(said.append, "a"), partial(said.append, "b"))
    assert said == ["a", "b"] * rates.ROUNDS
