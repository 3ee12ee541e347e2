"""What rules put into the boxes of the tiny month, worked by hand, from the rows to the books and the slips."""

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache, partial

import pytest

from planning.calendar import YearMonth
from planning.contents import Box, Extra, contents_faults, plan_contents
from planning.contents.check import expected
from planning.contents.model import Goods
from planning.demo import demo_month
from planning.documents.pdf.contents import content_lines
from planning.documents.workbook.rules import rules_table
from planning.flow import MonthPlan, checked, plan_month
from planning.month import Month
from planning.names import contents_words, names_of
from planning.problems import contents_problem, profiles, roster_problem
from planning.problems.items import item_of
from planning.roster import OneOffOrder, Part, Subscriber, contents_for
from tests.contents.ruled import RIBBON, ruled
from tests.support.effort import FULL


@pytest.fixture(scope="module")
def plan() -> MonthPlan:
    return plan_month(ruled())


def test_boxes_hold_what_the_rows_say(plan: MonthPlan) -> None:
    assert {(one.name, one.boxes) for one in plan.roster.classes} == {
        ("FULL + 4 x BRADS (promotion) + 1 x GIFT (anniversary) to home", 1),
        (
            "FULL + without 1 x RIBBON@1500 mm (country) + 2 x BRADS instead of RIBBON@1500 mm (country) to near",
            2,
        ),
        (
            "HALF + without 3 x MAT (every box) + 5 x BRADS (add-on order) + 1 x BRADS (replacement) to home",
            1,
        ),
        ("HALF + 1 x GIFT (first box) + without 3 x MAT (every box) to home", 1),
    }


def test_what_is_needed_bought_and_packed_follows_and_balances(plan: MonthPlan) -> None:
    # 5 x 10 brads, 4 by promotion, 2 x 2 for ribbons, 5 ordered, 1 replaced; ribbon for S1 alone; mats for 3 full kits
    need = {"material:BRADS": 64, f"length:{RIBBON}": 1, "piece:MAT": 9, "material:GIFT": 2}
    assert need == {line.item: line.good for line in plan.requirements.lines if line.item in need}
    packed = Counter[str]()
    for spec in plan.packing.boxes:
        for line in spec.lines:
            packed[line.item.item] += line.count * spec.boxes
    assert {name: packed[name] for name in need} == need
    brads = next(line for line in plan.balance.materials if line.material == "BRADS")
    assert (brads.in_boxes, brads.ordered, brads.left_over) == (64, 100, 36)


def test_orders_and_replacements_are_not_paid_by_the_tier(plan: MonthPlan) -> None:
    # of 64 brads at 0.02 FULL has 3 x 10 + 4 + 4, HALF 2 x 10, orders 5 + 1
    goods = [one for one in plan.cost.entries if one.what == "Brass brads"]
    assert {one.column: str(one.amount) for one in goods} == {
        "FULL": "0.76",
        "HALF": "0.40",
        "one-off orders": "0.12",
    }


def test_conflicts_and_rules_without_a_box_need_somebody(plan: MonthPlan) -> None:
    assert plan.contents.needs == (
        "rules HALF and MORE are at odds over MAT in 2 boxes and have the same priority: HALF counted; give one a "
        "higher priority",
        "rule MORE changes no box: rules at odds with it count before it",
        "rule NINTH changes no box: no box of the month has that number",
    )


def test_slips_show_what_is_besides_and_what_is_not_there(plan: MonthPlan) -> None:
    specs = {contents_words(spec.contents, names_of(ruled())): spec for spec in plan.packing.boxes}
    near = next(spec for words, spec in specs.items() if "instead of" in words)
    half = next(spec for words, spec in specs.items() if "replacement" in words)
    assert [f"{line.count} {line.name}".strip() for line in content_lines(near)][-5:] == [
        "10 Brass brads", "Besides", "2 Brass brads instead of Green ribbon, 1500 mm (country)", "Wrapping", "1 Flat carton",
    ]  # fmt: skip
    assert [f"{line.count} {line.name}".strip() for line in content_lines(half)] == [
        "2 White card", "1 Daisy print", "2 tag (DAISY)", "10 Brass brads", "Besides", "5 Brass brads (add-on order)",
        "1 Brass brads (replacement)", "Not in this box", "3 Photo mat (every box)", "Wrapping", "1 Flat carton",
    ]  # fmt: skip


def test_the_workbook_tells_what_each_rule_came_to(plan: MonthPlan) -> None:
    rows = {one.rule: (one.words, one.boxes) for one in rules_table(plan).rows}
    assert rows["FR"] == ("country: substitute RIBBON@1500 mm by 2 x BRADS each, in FR", 2)
    assert rows["SPRING"] == ("promotion SPRING: add 4 x BRADS", 1)
    assert rows["HALF"] == ("every box: leave out MAT, HALF only", 2)
    assert rows["NINTH"] == ("nth box 9: add 1 x GIFT", 0)


# --- Every box of a large month, filled again from the row of its own subscriber ---

BOXES = 100_000 if FULL else 6_000


def test_every_box_of_a_large_month_holds_what_its_own_rows_say() -> None:
    month = demo_month(BOXES)
    people = roster_problem(month)
    contents = checked(plan_contents, contents_faults, contents_problem(month, people))
    goods, filled = {one.held: one.contents.goods for one in contents.boxes}, dict(contents.filled)
    orders = defaultdict[str, list[OneOffOrder]](list)
    for order in month.orders:
        orders[order.subscriber].append(order)
    rows, found = Rows(month), 0
    for one, profile in profiles(month):
        boxes = [
            (each.tier, goods[each])
            for each, count in contents_for(profile, month.club.month, people.occasions, filled)
            for _ in range(count)
        ]
        assert boxes == list(rows.boxes(one, orders[one.reference])), one.reference
        found += len(boxes)
    assert found == BOXES
    assert len(contents.boxes) < BOXES / 20  # and all this is decided on few kinds of boxes


class Rows:
    """The rules, applied to one subscriber's rows at a time: without profiles, and with all that is known of them."""

    def __init__(self, month: Month) -> None:
        self.month, self.this = month, month.club.month
        self.tiers = {tier.code for tier in month.tiers}
        self.problem = contents_problem(month, roster_problem(replace(month, subscribers=(), orders=())))
        self.goods = lru_cache(maxsize=None)(partial(expected, self.problem))

    def boxes(self, one: Subscriber, orders: list[OneOffOrder]) -> Iterator[tuple[str, Goods]]:
        """Yield tier and goods of each box of a subscriber."""
        waits = one.joined is not None and YearMonth.of(one.joined) > self.this
        sends = 0 if not one.active or waits or self.this in one.skips else one.quantity
        own = [order for order in orders if order.item not in self.tiers]
        extras = tuple(
            sorted(
                Extra(box="", kind=order.why, item=item_of(order.item, self.month), count=order.count)
                for order in own
            )
        )
        if sends or own:
            part = Part.MAIN if sends else Part.GOODS
            yield one.tier, self.goods(self.box(one, one.tier, part), extras)
        kits = [(order.item, order.count) for order in orders if order.item in self.tiers]
        for tier, count in [(one.tier, sends - 1), *sorted(kits)]:
            for _ in range(count):
                yield tier, self.goods(self.box(one, tier, Part.FURTHER), ())

    def box(self, one: Subscriber, tier: str, part: Part) -> Box:
        """Return a box with everything the row says, whether a rule asks or not; months are counted one by one."""
        joined, number = YearMonth.of(one.joined) if one.joined else None, None
        if one.sent is not None:
            number = one.sent + 1
        elif joined is not None:
            years = range(joined.year, self.this.year + 1)
            months = [YearMonth(year, month) for year in years for month in range(1, 13)]
            number = sum(joined <= each <= self.this and each not in one.skips for each in months) or None
        return Box(
            code="",
            tier=tier,
            country=one.country,
            part=part,
            day=self.month.club.packing_starts,
            number=number,
            joined=joined,
            codes=frozenset(one.promotions),
        )
