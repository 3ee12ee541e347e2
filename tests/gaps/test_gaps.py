"""What a month leaves unsaid is told, figure by figure, and with it what its papers cannot print."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from planning.customs import CustomsFact
from planning.gaps import gaps
from planning.month import Month
from planning.run import all_gaps, make_plan
from planning.summary import needs
from tests.support.months import person, tiny_month, with_rows

FACTS: dict[str, Any] = {
    "words": "paper goods",
    "hs_code": "4823.90",
    "origin": "GB",
    "value": Decimal("0.10"),
}
UNDECLARED = tiny_month()
TINY = replace(UNDECLARED, customs=tuple(CustomsFact(item=one.code, **FACTS) for one in UNDECLARED.materials))
AT = datetime(2027, 3, 1, 9, tzinfo=UTC)
CARD, RIBBON, BRADS, GIFT, CARTON = 0, 3, 4, 5, 6


def material(index: int, **changes: Any) -> Month:
    """Return the tiny month with one material changed."""
    rows = list(TINY.materials)
    rows[index] = replace(rows[index], **changes)
    return with_rows(TINY, "materials", rows)


def test_a_month_that_says_all_has_no_gap() -> None:
    assert all_gaps(TINY) == ()


@pytest.mark.parametrize(
    ("month", "told"),
    [
        (
            material(CARD, weight=None),
            "Weight missing: White card. Counted as 0 g, so boxes weigh more and postage may cost more than planned.",
        ),
        (
            material(CARTON, weight=None),
            "Weight missing: Flat carton. Counted as 0 g, so boxes weigh more and postage may cost more than planned.",
        ),
        (
            material(CARD, thickness=None),
            "Thickness missing: White card. Counted as 0 mm, so the stack is higher than planned; sheets are cut one at a "
            "time.",
        ),
        (
            material(RIBBON, thickness=None),
            "Thickness missing: Green ribbon. Counted as 0 mm, so the stack is higher than planned; sheets are cut one at "
            "a time.",
        ),
        (
            material(GIFT, weight=Fraction(31), thickness=Fraction(1)),
            "Size missing: Welcome gift. Whether they fit into the carton was not looked at.",
        ),
    ],
)
def test_what_is_not_said_is_told(month: Month, told: str) -> None:
    assert list(map(str, gaps(month))) == [told]
    assert told in needs(make_plan(month, 1, AT))


def test_goods_that_may_leave_the_country_have_customs_facts() -> None:
    """Cartons are not declared; where no carrier leaves the country, nothing is."""
    [one] = gaps(UNDECLARED)
    assert (one.what, one.count) == ("Customs facts missing", len(UNDECLARED.materials) - 1)
    home = tuple(zone for zone in UNDECLARED.zones if zone.country == UNDECLARED.club.country)
    assert gaps(replace(UNDECLARED, zones=home)) == ()


def test_a_weight_of_nothing_is_said_and_small_things_need_no_size() -> None:
    assert gaps(material(BRADS, weight=Fraction(0))) == ()


def test_what_goes_into_no_box_is_not_asked_about() -> None:
    assert gaps(replace(material(CARD, weight=None), kit_lines=TINY.kit_lines[1:])) == ()


def test_the_outside_of_a_carton_matters_where_a_carrier_charges_by_volume() -> None:
    month = material(CARTON, width=None, height=None)
    assert gaps(month) == ()
    by_volume = replace(month, services=(replace(TINY.services[0], divisor=Decimal(5000)),))
    assert [one.what for one in gaps(by_volume)] == ["Outside size missing"]


def test_many_are_told_on_one_line() -> None:
    month = with_rows(TINY, "materials", [replace(one, weight=None) for one in TINY.materials])
    [weights, *others] = gaps(month)
    assert weights.count == 7
    assert weights.which == "White card, Daisy print, Large card, Green ribbon, Brass brads and 2 more"
    assert [one.what for one in others] == ["Thickness missing", "Size missing"]


def test_what_the_papers_cannot_print_is_told_of_things_and_of_people() -> None:
    """The typeface of the papers holds no Japanese."""
    month = replace(
        material(CARD, name="白 card"), subscribers=(*TINY.subscribers, person("S9", "山田 Taro", "FULL"))
    )
    assert list(map(str, all_gaps(month))) == [
        "Characters not printed: 白 card. The papers show ? for 白. Write them in Latin, Greek or Cyrillic letters.",
        "Characters not printed: S9. The papers show ? for 山 田. Copy these addresses by hand; the roster exceptions name "
        "every one.",
    ]
