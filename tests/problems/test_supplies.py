"""Where the sheets for cutting come from, as the cutting step is told."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from kits.catalogue import Offer, OpenOrder, PriceBreak, StockLine
from planning.cutting import Supply
from planning.flow import plan_month
from planning.month import Month
from planning.problems import cutting_problem, requirements_problem, roster_problem
from planning.requirements import plan_requirements
from planning.roster import plan_roster
from tests.support.months import tiny_month

MONTH = tiny_month()
# packed from Monday 5 April; one day to take in and two to cut make Wednesday 31 March (29 March is a day off)
BEGINS = date(2027, 3, 31)
OFFER = Offer(code="X-BIG", supplier="BITS", material="BIG", lead_days=30)
PRICE = PriceBreak(offer="X-BIG", from_quantity=1, price=Decimal("0.01"))


def supply(code: str, month: Month = MONTH) -> Supply:
    needs = plan_requirements(requirements_problem(month, plan_roster(roster_problem(month))))
    (found,) = (one for one in cutting_problem(month, needs).supplies if one.material == code)
    return found


def test_sheets_posted_whole_are_taken_off_before_any_is_cut() -> None:
    assert [supply(code).whole for code in ("CARD", "PRINT", "BIG")] == [10, 5, 0]


def test_the_shelf_and_orders_due_by_the_day_cutting_begins_are_there_in_time() -> None:
    order = OpenOrder(reference="P1", supplier="MILL", material="BIG", quantity=3, due=BEGINS)
    late = replace(order, reference="P2", quantity=4, due=date(2027, 4, 1))
    shelf = StockLine(item="BIG", on_hand=2)
    found = supply("BIG", replace(MONTH, stock=(*MONTH.stock, shelf), open_orders=(order, late)))
    assert (found.in_time, found.coming) == (5, 4)


def test_an_offer_in_time_leaves_late_ones_aside_and_of_late_ones_the_soonest_counts() -> None:
    # from Monday 1 March to 31 March are 21 working days (26 and 29 are days off): 30 is late, 5 in time
    both = replace(MONTH, offers=(*MONTH.offers, OFFER), price_breaks=(*MONTH.price_breaks, PRICE))
    assert [one.offer.code for one in supply("BIG", both).terms] == ["M-BIG"]
    slow = tuple(replace(one, lead_days=40) if one.material == "BIG" else one for one in MONTH.offers)
    found = supply("BIG", replace(both, offers=(*slow, OFFER)))
    assert ([one.offer.code for one in found.terms], found.is_late) == (["X-BIG"], True)


def test_what_nobody_sells_has_no_terms() -> None:
    none = tuple(one for one in MONTH.offers if one.material != "BIG")
    assert supply("BIG", replace(MONTH, offers=none)) == Supply(material="BIG")


def test_a_pre_cut_is_cut_from_the_sheet_that_is_sold() -> None:
    # CARD and BIG both yield the mat; nobody sells BIG any more, and it was free before
    none = tuple(one for one in MONTH.offers if one.material != "BIG")
    mat = replace(MONTH.pre_cuts[0], cut_from=("BIG", "CARD"))
    plan = plan_month(replace(MONTH, offers=none, pre_cuts=(mat,)))
    assert [one.source for one in plan.cutting.tickets if one.name == "Photo mat"] == ["CARD"]
    assert plan.buying.short == ()


def test_what_cutting_expects_to_pay_is_what_buying_pays() -> None:
    # card 20 x 0.15 instead of 10 x 0.40; print 5 whole and 1 cut, 6 x 0.30; large card 2 of a pack of 10 x 0.50
    plan = plan_month(MONTH)
    cut = {one.source: one.sheets for one in plan.cutting.tickets}
    paid = {line.need.material: line.cost for line in plan.buying.lines}
    for code, cost in (("CARD", "3.00"), ("PRINT", "1.80"), ("BIG", "5.00")):
        assert supply(code).order(cut.get(code, 0)).cost == paid[code] == Decimal(cost)
