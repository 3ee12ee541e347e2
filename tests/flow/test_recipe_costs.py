"""What a recipe takes of the month's papers, and what that costs."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from kits.catalogue import OpenOrder, StockLine
from kits.measures import INCH
from kits.recipe import paper_cost
from planning.flow import plan_month
from planning.recipe_costs import paper_prices, role_papers
from planning.recipes import designs
from tests.support.months import designed_month, tiny_month


def test_it_works() -> None:
    """Card at 0.15, print at 0.30; two tags of twelve to a sheet of print take a sixth of one."""
    month = designed_month()
    base, printed = role_papers(month, plan_month(month))
    assert (base.name, base.sheets) == ("White card", 2)
    assert (base.taken, base.cost) == (Fraction(2), Fraction(3, 10))
    assert (printed.for_pieces, printed.cost) == (Fraction(1, 6), Fraction(35, 100))
    # 12 x 3 of 12 x 12 in is used
    assert (base.used, printed.used) == (base.area, 36 * INCH**2)
    assert [(each.part.width, each.part.height) for each in printed.offcuts or ()] == [(12 * INCH, 9 * INCH)]


def test_the_sheets_that_are_posted_cost_what_the_recipe_itself_says() -> None:
    month = designed_month()
    papers = role_papers(month, plan_month(month))
    prices = {one.role: one.price for one in papers if one.price is not None}
    posted = sum(one.sheets * Fraction(prices[one.role]) for one in papers)
    assert posted == Fraction(paper_cost(designs(month)["DAISY"], prices))


def test_a_recipe_known_by_its_rows_uses_as_much_and_its_offcuts_are_not_known() -> None:
    plain, designed = tiny_month(), designed_month()
    by_rows = role_papers(plain, plan_month(plain))
    by_text = role_papers(designed, plan_month(designed))
    assert [one.used for one in by_rows] == [one.used for one in by_text]
    assert [one.cost for one in by_rows] == [one.cost for one in by_text]
    assert [one.offcuts for one in by_rows] == [None, None]


def test_without_an_order_the_price_is_that_of_an_open_order_or_of_the_shelf() -> None:
    month = tiny_month()
    prices = paper_prices(month, plan_month(month).buying)
    assert prices["CARD"] == Decimal("0.15")
    assert prices["GIFT"] == Decimal("0.75")  # its one is on order
    on_shelf = replace(month, stock=(StockLine(item="CARD", on_hand=500, value_each=Decimal("0.11")),))
    assert paper_prices(on_shelf, plan_month(on_shelf).buying)["CARD"] == Decimal("0.11")
    order = OpenOrder(
        reference="P",
        supplier="MILL",
        material="CARD",
        quantity=9,
        price=Decimal("0.12"),
        due=date(2027, 3, 9),
    )
    coming = replace(on_shelf, open_orders=(order,))
    assert paper_prices(coming, plan_month(coming).buying)["CARD"] == Decimal("0.12")


def test_a_paper_without_any_price_has_no_cost() -> None:
    month = designed_month()
    unsold = replace(month, offers=tuple(one for one in month.offers if one.material != "CARD"))
    base, _ = role_papers(unsold, plan_month(unsold))
    assert base.price is None
    assert base.cost is None
