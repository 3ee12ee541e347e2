"""A month whose brads come from two suppliers and whose card has incremental breaks: its pages and papers."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from io import BytesIO

import pytest
from pypdf import PdfReader

from kits.catalogue import Breaks, Offer, PriceBreak, Supplier
from planning.documents.pdf import purchase_order
from planning.documents.workbook.buy import buy_table
from planning.month import Month
from planning.run import Planned, make_plan
from planning.views import buying
from tests.support.months import tiny_month


def month() -> Month:
    """Return the tiny month: 55 brads, of which BITS has 30 at 0.02 and MORE any number at 0.03; 10 cards at 0.40, 0.30."""
    tiny = tiny_month()
    materials = tuple(replace(one, split=one.code == "BRADS") for one in tiny.materials)
    offers = tuple(
        replace(
            one,
            pack=1 if one.code == "B-BRADS" else one.pack,
            maximum=30 if one.code == "B-BRADS" else None,
            breaks=Breaks.INCREMENTAL if one.code == "M-CARD" else one.breaks,
        )
        for one in tiny.offers
    )
    kept = [one for one in tiny.price_breaks if one.offer not in ("B-BRADS", "M-CARD")]
    prices = (
        PriceBreak(offer="B-BRADS", from_quantity=1, price=Decimal("0.02")),
        PriceBreak(offer="M-BRADS", from_quantity=1, price=Decimal("0.03")),
        PriceBreak(offer="M-CARD", from_quantity=1, price=Decimal("0.40")),
        PriceBreak(offer="M-CARD", from_quantity=7, price=Decimal("0.30")),
    )
    return replace(
        tiny,
        materials=materials,
        suppliers=(*tiny.suppliers, Supplier(code="MORE", name="More Bits")),
        offers=(*offers, Offer(code="M-BRADS", supplier="MORE", material="BRADS", lead_days=3)),
        price_breaks=(*kept, *prices),
    )


MONTH = month()


@pytest.fixture(scope="module")
def planned() -> Planned:
    return make_plan(MONTH, 1, datetime(2027, 3, 1, 9, tzinfo=UTC))


def test_it_buys_all_there_is_of_the_cheaper_and_prices_band_by_band(planned: Planned) -> None:
    lines = {line.need.material: line for line in planned.plan.buying.lines}
    assert [(one.offer.code, one.quantity) for one in lines["BRADS"].bought] == [
        ("B-BRADS", 30),
        ("M-BRADS", 25),
    ]
    assert lines["BRADS"].cost == Decimal("1.35")  # 0.60 + 0.75
    assert lines["CARD"].cost == Decimal("3.60")  # 6 at 0.40, 4 at 0.30


def test_the_workbook_has_a_row_for_each_supplier_and_formulas_that_hold(planned: Planned) -> None:
    table = buy_table(MONTH, planned.plan)
    columns = {column.key: column for column in table.columns}
    brads = [row for row in table.rows if row.line.need.material == "BRADS"]
    assert [[columns[key].figure(row) for key in ("needed", "ordered", "amount")] for row in brads] == [
        [55, 30, Decimal("0.60")],
        [None, 25, Decimal("0.75")],
    ]
    assert columns["needed"].cell(brads[1]).formula == ""
    (card,) = (row for row in table.rows if row.line.need.material == "CARD")
    assert columns["amount"].cell(card).formula == "=ROUND(6*0.40+({ordered}-6)*0.30,2)"
    assert columns["price"].figure(card) == Decimal("0.36")


def test_the_order_says_which_units_have_which_price(planned: Planned) -> None:
    order = next(one for one in planned.plan.buying.orders if one.supplier.code == "MILL")
    pages = PdfReader(BytesIO(purchase_order(MONTH, order, planned.stamp, "TINY-1"))).pages
    text = " ".join("".join(page.extract_text() for page in pages).split())
    assert "6 at 0.40, 4 at 0.30" in text
    assert "0.36 3.60" in text  # on average, and in all


def test_the_page_has_a_table_for_each_supplier(planned: Planned) -> None:
    (section,) = (one for one in buying.page(planned).sections if one.title.startswith("What to order"))
    brads = {
        table.caption: line.cells[1:3] + line.cells[4:6]
        for table in section.tables
        for line in table.lines
        if getattr(line.cells[0], "text", "") == "Brass brads"
    }
    assert brads == {
        "From Bits & Bobs, to be ordered by Wed 24 Mar 2027": ("55", "30", "0.02", "0.60"),
        "From More Bits, to be ordered by Tue 30 Mar 2027": ("55", "25", "0.03", "0.75"),
    }


def test_the_costs_add_up(planned: Planned) -> None:
    bought = sum((line.goods for line in planned.plan.buying.lines), Decimal(0))
    assert planned.plan.cost.bought == bought + Decimal("0.75")  # the gift on its way


def test_the_page_tells_what_leftovers_are_worth_where_the_club_says_so(planned: Planned) -> None:
    club = replace(MONTH.club, leftover_percent=Decimal(50))
    figures = buying.page(make_plan(replace(MONTH, club=club), 1, planned.stamp.made_at)).figures
    # 8 large cards of ten at half of 0.50 each, less nothing for the money in them
    assert [one.value for one in figures if "leftovers" in one.unit] == ["2.00"]
    assert not any("leftovers" in one.unit for one in buying.page(planned).figures)
