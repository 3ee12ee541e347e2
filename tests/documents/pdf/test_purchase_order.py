from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from io import BytesIO

import pytest
from pypdf import PdfReader

from kits.measures import format_amount
from planning.buying import SupplierOrder
from planning.documents.pdf import purchase_order
from planning.documents.pdf.purchase_order import order_pdf
from planning.documents.pdf.words import day
from planning.flow import MonthPlan
from planning.month import Month
from planning.orders import differences, with_quantity
from tests.documents.small_month import MONTH, STAMP
from tests.orders.test_orders import CARD, ORDER

Texts = Callable[[bytes], list[str]]
HEADS = "Offer Material Needed by Quantity Unit In packs Price each Amount"


@pytest.fixture
def mill(plan: MonthPlan) -> SupplierOrder:
    """The order that holds a late line: blue print takes 25 working days."""
    return next(order for order in plan.buying.orders if order.supplier.code == "MILL")


def long_order(order: SupplierOrder, lines: int) -> tuple[Month, SupplierOrder]:
    """Return a month and an order of many materials."""
    codes = [f"M{number:03}" for number in range(lines)]
    material, line = MONTH.materials[0], order.lines[0]
    assert line.offer is not None
    bought = tuple(
        replace(line, need=replace(line.need, material=code), offer=replace(line.offer, code=f"O-{code}"))
        for code in codes
    )
    materials = tuple(replace(material, code=code, name=f"Paper {code}") for code in codes)
    return replace(MONTH, materials=materials), replace(order, lines=bought)


def test_an_order_says_where_the_goods_go(mill: SupplierOrder, texts: Texts) -> None:
    assert "Deliver to" not in texts(purchase_order(MONTH, mill, STAMP, "PO-7"))[0]
    moved = replace(MONTH, club=replace(MONTH.club, address="Łukasz's Barn\n\n1 Mill Lane"))
    assert "Deliver to Łukasz's Barn 1 Mill Lane" in texts(purchase_order(moved, mill, STAMP, "PO-7"))[0]


def test_an_order_names_supplier_lines_and_sums_of_the_plan(mill: SupplierOrder, texts: Texts) -> None:
    [page] = texts(purchase_order(MONTH, mill, STAMP, "PO-7"))
    assert "Purchase order PO-7" in page
    assert "Mühle & Söhne" in page
    assert f"Order by {day(mill.order_by)}" in page
    for line in mill.lines:
        assert line.offer is not None
        assert line.offer.code in page
        assert line.need.name in page
        assert f"{line.quantity:,} {line.need.unit}" in page
        assert f"{format_amount(line.price)} {format_amount(line.goods)}" in page
    assert f"Goods {mill.goods} Set-up, O2 15.00 Freight {mill.freight} Total in EUR {mill.total}" in page
    assert mill.goods + mill.setup + mill.freight == mill.total


def test_the_currency_stands_in_the_heading_and_at_the_total_only(mill: SupplierOrder, texts: Texts) -> None:
    [page] = texts(purchase_order(MONTH, mill, STAMP, "PO-7"))
    assert page.count("EUR") == 2
    assert "All amounts in EUR" in page


def test_a_line_that_comes_late_asks_for_it_sooner_and_others_do_not(
    mill: SupplierOrder, texts: Texts
) -> None:
    late = [line for line in mill.lines if line.late]
    [page] = texts(purchase_order(MONTH, mill, STAMP, "PO-7"))
    assert late
    assert page.count("Needed sooner") == len(late)
    assert f"Needed sooner: as usual it would come {day(late[0].arrives)}." in page
    assert "Please tell us the earliest day." in page
    in_time = tuple(replace(line, arrives=line.need.need_by) for line in mill.lines)
    [page] = texts(purchase_order(MONTH, replace(mill, lines=in_time), STAMP, "PO-7"))
    assert "sooner" not in page


def test_yen_have_no_decimals(mill: SupplierOrder, texts: Texts) -> None:
    line = replace(mill.lines[0], goods=Decimal(1200), setup=Decimal(0))
    yen = replace(mill, lines=(line,), freight=Decimal(0))
    [page] = texts(
        purchase_order(replace(MONTH, club=replace(MONTH.club, currency="JPY")), yen, STAMP, "PO-7")
    )
    assert "Goods 1,200 " in page


TAXED = replace(ORDER, currency="EUR", email="orders@mill.example")


def test_tax_stands_by_its_rates_above_the_total(texts: Texts) -> None:
    [page] = texts(order_pdf(MONTH.club, TAXED, STAMP))
    assert "Goods 15.10 Set-up, Brass brads 2.00 Freight 3.00" in page
    assert "Without tax 20.10 Tax, 20 % of 13.00 2.60 Tax, 5 % of 5.10 0.26 Total in EUR 22.96" in page


def test_an_amended_order_says_what_it_changes(texts: Texts) -> None:
    more = replace(TAXED, version=2, lines=(with_quantity(CARD, 60, 2), *TAXED.lines[1:]))
    [page] = texts(order_pdf(MONTH.club, more, STAMP, differences(TAXED, more)))
    assert f"Amended purchase order {TAXED.number}, version 2" in page
    assert (
        "this order takes the place of the one before Line What Before Now White card quantity 40 60" in page
    )


def test_a_long_order_repeats_its_heads_and_counts_its_pages(mill: SupplierOrder, texts: Texts) -> None:
    month, order = long_order(mill, 60)
    pages = texts(purchase_order(month, order, STAMP, "PO-8"))
    assert len(pages) > 2
    for number, page in enumerate(pages, 1):
        assert ("O-M" in page) == (HEADS in page)
        assert f"page {number} of {len(pages)}" in page
        assert STAMP.text in page
    assert sum(page.count("O-M") for page in pages) == 60


def test_no_row_is_torn_apart(mill: SupplierOrder, texts: Texts) -> None:
    """Each line has its code in the first row of its cell and its grain in the last: both stand on one page."""
    month, order = long_order(mill, 60)
    for page in texts(purchase_order(month, order, STAMP, "PO-8")):
        assert page.count("O-M") == page.count("grain along")


def test_the_same_order_is_the_same_file(mill: SupplierOrder) -> None:
    assert purchase_order(MONTH, mill, STAMP, "PO-7") == purchase_order(MONTH, mill, STAMP, "PO-7")


def test_title_author_and_language_are_set(mill: SupplierOrder) -> None:
    reader = PdfReader(BytesIO(purchase_order(MONTH, mill, STAMP, "PO-7")))
    assert reader.metadata is not None
    assert reader.metadata.title == "Purchase order PO-7"
    assert reader.metadata.author == MONTH.club.name
    assert str(reader.root_object["/Lang"]) == "en"


def test_the_page_is_the_clubs_own_paper(mill: SupplierOrder) -> None:
    """A4 is 210 x 297 mm (ISO 216), Letter 8 1/2 x 11 in; a point is 1/72 in."""
    for paper, wide, high in (("A4", 210 / 25.4 * 72, 297 / 25.4 * 72), ("Letter", 612, 792)):
        month = replace(MONTH, club=replace(MONTH.club, paper=paper))
        box = PdfReader(BytesIO(purchase_order(month, mill, STAMP, "PO-7"))).pages[0].mediabox
        assert (float(box.width), float(box.height)) == pytest.approx((wide, high), abs=0.01)


def test_every_font_is_embedded(mill: SupplierOrder) -> None:
    pdf = purchase_order(MONTH, mill, STAMP, "PO-7")
    assert pdf.count(b"/BaseFont") == pdf.count(b"/FontFile2") == 2


def test_names_in_any_script_and_of_any_length_still_make_an_order(mill: SupplierOrder, texts: Texts) -> None:
    supplier = replace(mill.supplier, name="紙 <b>& Söhne</b>", address="Řada 1\nΑθήνα\n" + "x\n" * 3000)
    line = replace(mill.lines[0], need=replace(mill.lines[0].need, name="Very long name " * 2000))
    page = texts(purchase_order(MONTH, replace(mill, supplier=supplier, lines=(line,)), STAMP, "PO-7"))[0]
    assert "? <b>& Söhne</b> Řada 1 Αθήνα" in page
