"""An order as a workbook: its figures are the order's, and LibreOffice works every formula out to the same."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from io import BytesIO
from pathlib import Path

import openpyxl
import pytest

from planning.documents.workbook.order import order_workbook
from planning.orders import Order, gross, line_taxes, tax_table
from tests.documents.small_month import MONTH, STAMP
from tests.orders.test_orders import CARD, FREIGHT, ORDER
from tests.support.effort import thorough

IN_STEPS = replace(CARD, quantity=30, price=Decimal("0.333333"), amount=Decimal("10.01"))
ORDERS = {
    "taxed at two rates": ORDER,
    "prices in steps": replace(ORDER, lines=(IN_STEPS, FREIGHT)),
    "without tax": replace(ORDER, lines=(replace(CARD, tax_rate=Decimal(0)),)),
    "in yen": replace(
        ORDER, currency="JPY", lines=(replace(CARD, amount=Decimal(10), price=Decimal("0.25")),)
    ),
}


def figures(made: bytes) -> list[list[object]]:
    book = openpyxl.load_workbook(BytesIO(made), data_only=True)
    return [
        [cell.value for row in book[name].iter_rows(min_row=4) for cell in row] for name in ("Order", "Sums")
    ]


@pytest.mark.parametrize("order", ORDERS.values(), ids=ORDERS)
def test_it_says_what_the_order_says(order: Order) -> None:
    lines, sums = figures(order_workbook(MONTH.club, order, STAMP))
    assert [float(line.amount) for line in order.lines] == [
        float(str(one)) for one in lines[7::10][: len(order.lines)]
    ]
    assert float(str(sums[-1])) == float(gross(order))
    assert sum(line_taxes(order).values()) == sum(one.tax for one in tax_table(order))


def test_the_same_order_is_the_same_file() -> None:
    assert order_workbook(MONTH.club, ORDER, STAMP) == order_workbook(MONTH.club, ORDER, STAMP)


def test_words_that_look_like_formulas_stay_words() -> None:
    odd = replace(ORDER, lines=(replace(CARD, name="=1+1", about="@x"),))
    lines, _ = figures(order_workbook(MONTH.club, odd, STAMP))
    assert lines[:2] == ["=1+1", "@x"]


@thorough
@pytest.mark.parametrize("order", ORDERS.values(), ids=ORDERS)
def test_a_spreadsheet_program_comes_to_the_same_figures(
    order: Order, libreoffice: Callable[[Path, str], Path], tmp_path: Path
) -> None:
    made = order_workbook(MONTH.club, order, STAMP)
    (tmp_path / "order.xlsx").write_bytes(made)
    again = libreoffice(tmp_path / "order.xlsx", "xlsx").read_bytes()
    for mine, theirs in zip(figures(made), figures(again), strict=True):
        assert [float(one) for one in mine if isinstance(one, int | float)] == pytest.approx(
            [float(one) for one in theirs if isinstance(one, int | float)]
        )
