"""The slips are compared with the very same marks."""

import re
from functools import partial

import pytest

from planning.bench import lists, rates, slips
from planning.demo import demo_month
from planning.documents.listing import list_boxes
from planning.documents.pdf import packing_slips
from planning.flow import plan_month


def test_the_hand_writes_the_very_bytes_and_the_canvas_draws_every_text() -> None:
    month = demo_month(60)
    plan = plan_month(month)
    boxes = [box for box in list_boxes(month, plan) if box.wave == 1]
    _, pages = slips.parts_of(packing_slips(month, plan, plan.waves[0], boxes, slips.STAMP))
    assert len(pages) == len(boxes)
    assert [slips.written(slips.told(page)) for page in pages] == pages
    for page, (forms, texts, bars) in zip(pages, slips.recorded(month, plan, boxes), strict=True):
        assert page.count("/FormXob.") == len(forms)
        assert page.count(" re") == len(bars)
        assert len(re.findall(r"\) Tj", page)) == len(texts)


def test_a_row_says_the_ratio(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(slips, "PEOPLE", 60)
    monkeypatch.setattr(slips, "SLIPS", 10)
    monkeypatch.setattr(lists, "PEOPLE", 60)
    monkeypatch.setattr(lists, "ROWS", 10)
    monkeypatch.setattr(rates, "ROUNDS", 1)
    rows = [*slips.slip_rows(), *lists.list_rows()]
    assert [bool(re.match(r"\d+\.\d\d \((reached|missed): ", row.ended)) for row in rows] == [True] * 4


def test_the_ways_take_turns() -> None:
    said: list[str] = []
    rates.cpu_medians(partial(said.append, "a"), partial(said.append, "b"))
    assert said == ["a", "b"] * rates.ROUNDS
