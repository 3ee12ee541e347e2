"""What waits for somebody is said alike in the terminal, in the workbook and on the month's page.

In the month of `tests.support.months`: 55 brads wanted, 60 late on their way; ribbon nobody sells; a knife that holds
no strip below 5 in; card whose price rises.
"""

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from kits.catalogue import OpenOrder
from kits.measures import INCH
from planning.documents.workbook.buy import buy_table
from planning.documents.workbook.cost import cost_table
from planning.documents.workbook.needs import needs_table
from planning.month import Month
from planning.run import Planned, make_plan
from planning.summary import summary
from planning.views import buying, cost, cutting
from tests.support.months import tiny_month

TINY = tiny_month()
LATE = OpenOrder(reference="P9", supplier="BITS", material="BRADS", quantity=60, due=date(2027, 4, 8))
MONTH: Month = replace(
    TINY,
    open_orders=(*TINY.open_orders, LATE),
    offers=tuple(one for one in TINY.offers if one.material != "RIBBON"),
    price_breaks=tuple(
        replace(one, price=Decimal("0.45")) if one.from_quantity == 20 else one for one in TINY.price_breaks
    ),
    guillotines=tuple(replace(one, smallest_strip=5 * INCH) for one in TINY.guillotines),
)
NEEDS = {
    # sold in hundreds: 100 at 0.02 = 2.00
    "Brass brads": "waits for 60 on order, due 8 Apr 2027; ordered again, 100 from Bits & Bobs would be in time and "
    "cost 2.00 more",
    "Green ribbon": "no supplier offers it; 3 boxes hold it, FULL",
    "White card": "the price of Millbrook Paper rises at 20, to 0.45: a slip in the list, or two orders are cheaper",
    "Ticket 1, Photo mat": "a cut would hold a strip of 4 in, and The guillotine is set for 5 in or more",
}


@pytest.fixture(scope="module")
def planned() -> Planned:
    return make_plan(MONTH, 1, datetime(2027, 3, 1, 9, tzinfo=UTC))


def test_the_terminal_says_it(planned: Planned) -> None:
    said = summary(planned)
    for which, words in NEEDS.items():
        assert (
            sum(1 for line in said.splitlines() if line.startswith(f"  - {which}: ") and words in line) == 1
        )
    assert "Not in the cost:\n  - Green ribbon: 1 short, at a price nobody knows" in said


def test_the_workbook_says_it(planned: Planned) -> None:
    rows = {one.which: one.words for one in needs_table(MONTH, planned.plan, ()).rows}
    for which, words in NEEDS.items():
        assert words.lower() in rows[which].lower()
    assert "Green ribbon, 1 short, at a price nobody knows." in cost_table(MONTH, planned.plan).says
    states = {
        line.need.name: state
        for line in planned.plan.buying.lines
        if (state := state_of(planned, line.need.name))
    }
    assert states == {"Brass brads": "late", "Green ribbon": "short 1"}


def state_of(planned: Planned, name: str) -> str:
    table = buy_table(MONTH, planned.plan)
    (column,) = (column for column in table.columns if column.key == "state")
    return str(next(column.figure(row) for row in table.rows if row.line.need.name == name))


def test_the_pages_say_it(planned: Planned) -> None:
    said = [*buying.strip(planned).needs, *cutting.strip(planned).needs]
    for which, words in NEEDS.items():
        assert any(one.startswith(f"{which}: ") and words in one for one in said)
    assert cost.strip(planned).words.endswith(
        "Not in the cost: Green ribbon, 1 short, at a price nobody knows."
    )
    (section,) = (one for one in cost.page(planned).sections if one.title == "Not in the cost")
    assert section.tables[0].lines[0].cells == ("Green ribbon", "1", "–", "–", "–", "3 boxes hold it, FULL.")
    (section,) = (one for one in buying.page(planned).sections if one.title == "On order, but late")
    assert section.tables[0].lines[0].cells[:4] == ("Brass brads", "2 Apr 2027", "60", "8 Apr 2027")


def test_one_of_everything_is_said_in_the_singular() -> None:
    # one person, one box, one order, one sheet into nine mats
    people = tuple(one for one in TINY.subscribers if one.reference == "S1")
    only = tuple(one for one in TINY.kit_lines if one.item == "MAT")
    month = replace(TINY, subscribers=people, orders=(), kit_lines=only, open_orders=())
    said = summary(make_plan(month, 1, datetime(2027, 3, 1, 9, tzinfo=UTC)))
    for words in (
        "1  box for 1 person, 0 get none",
        "1  sheet, into 9 pieces and lengths;",
        "GBP in 1 order\n",
        "1  wave;",
        "1  box in time, 0 late, 0 not sent",
    ):
        assert words in said


def test_names_with_line_breaks_stay_on_their_line() -> None:
    broken = tuple(replace(one, name=f"{one.name}\r\nand\x1b[31m more") for one in TINY.tiers)
    club = replace(TINY.club, name="Tiny\nClub")
    said = summary(make_plan(replace(TINY, tiers=broken, club=club), 1, datetime(2027, 3, 1, 9, tzinfo=UTC)))
    assert said.startswith("Daisies, April 2027, Tiny Club\nPlan TINY-")
    assert "\nThe full kit and [31m more " in said
    rows = [line for line in said.splitlines() if " and [31m more" in line]
    assert len({len(row) for row in rows}) == 1
