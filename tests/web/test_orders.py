"""Orders in the app: from the month's plan to a sent order, amended, received, closed; and what of it is refused."""

import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from io import BytesIO
from typing import Any

import icalendar
import openpyxl
import pytest
from django.contrib.messages import get_messages
from django.test import Client
from django.utils.timezone import now
from pypdf import PdfReader

from kits.measures import round_money
from planning import load, ordering, save
from planning.models import OrderLine, OrderVersion, Plan, PurchaseOrder, StockEntry
from planning.orders import State, cost, gross
from tests.web.planned import plan_of
from tests.web.small_month import SMALL_MONTH


class Desk:
    """Who buys: opens pages, fills in forms."""

    def __init__(self, client: Client, plan: Plan) -> None:
        self.client, self.plan = client, plan
        self.month = plan.month

    def url(self, page: str, number: str = "", **more: object) -> str:
        asked = "&".join(
            f"{name}={value}" for name, value in ({"number": number} if number else {} | more).items()
        )
        return f"/months/{self.month.pk}/{page}" + (f"?{asked}" if asked else "")

    def see(self, page: str, number: str = "") -> str:
        answer = self.client.get(self.url(page, number))
        assert answer.status_code == 200, answer
        return text(answer)

    def send(self, page: str, number: str = "", /, **fields: object) -> str:
        """Send a form as its page gives it, some fields filled in otherwise; return what is said of it then."""
        answer = self.answer(page, number, fields)
        assert answer.status_code == 302, text(answer)
        return " ".join(str(said) for said in get_messages(answer.wsgi_request))

    def refused(self, page: str, number: str = "", /, **fields: object) -> str:
        """Send a form that must be refused, and return the page it comes back on."""
        answer = self.answer(page, number, fields)
        assert answer.status_code == 422, text(answer)
        return text(answer)

    def answer(self, page: str, number: str, fields: Mapping[str, object]) -> Any:
        before = self.client.get(self.url(page, number))
        given = hidden(before.content.decode()) if before.status_code == 200 else {}
        filled = given | {name: str(value) for name, value in fields.items()}
        return self.client.post(self.url(page, number), filled)

    def draft(self) -> list[str]:
        self.send("orders")
        return [one.number for one in PurchaseOrder.objects.order_by("number")]

    def kept(self, number: str) -> ordering.Kept:
        [one] = ordering.kept(PurchaseOrder.objects.select_related("book").filter(number=number))
        return one

    def sent(self) -> str:
        """Draft the plan's orders and send the mill's."""
        [number, *_] = self.draft()
        self.send("order-check", number)
        return number


def text(answer: Any) -> str:
    page = re.sub(r"<[^>]+>", " ", answer.content.decode())
    return " ".join(page.replace("&#x27;", "'").split())


def hidden(page: str) -> dict[str, str]:
    """Return what a page's forms send without anybody typing: inputs with their values, boxes that are ticked."""
    given: dict[str, str] = {}
    for tag in re.findall(r"<input[^>]*>", page):
        said = dict(re.findall(r'([\w-]+)="([^"]*)"', tag))
        if said.get("type") == "checkbox" and "checked" not in tag:
            continue
        if "name" in said and said["name"] != "csrfmiddlewaretoken":
            given[said["name"]] = said.get("value", "").replace("&amp;", "&")
    for name, options in re.findall(r'<select id="[^"]*" name="([^"]+)"[^>]*>(.*?)</select>', page):
        chosen = re.search(r'<option value="([^"]*)" selected', options) or re.search(
            r'value="([^"]*)"', options
        )
        given[name] = chosen.group(1) if chosen else ""
    return given


@pytest.fixture
def buyer(desk: Client, plan: Plan) -> Desk:
    return Desk(desk, plan)


# --- From the plan to a sent order ---


def test_it_works(buyer: Desk) -> None:
    assert "2 orders of the plan not drafted." in buyer.see("")
    assert "Make 2 drafts from the plan" in buyer.see("orders")
    assert buyer.draft() == ["HERON-2704-1", "HERON-2704-2"]
    page = buyer.see("order-check", "HERON-2704-1")
    one = buyer.kept("HERON-2704-1")
    assert (
        f"Record as sent: {len(one.order.goods)} materials, {gross(one.order)} GBP" in page
        or "1 material" in page
    )
    said = buyer.send("order-check", "HERON-2704-1")
    assert said == "Order HERON-2704-1 is recorded as sent."
    one = buyer.kept("HERON-2704-1")
    assert (one.state, one.versions[0].sent_by) == (State.SENT, "desk")
    assert "1 draft, 1 sent" in buyer.see("")


def test_drafts_are_what_the_plan_decided(buyer: Desk) -> None:
    buyer.draft()
    bought = load.planned(buyer.plan).plan.buying
    drafted = [one.order for one in ordering.all_orders(buyer.month)]
    assert [(one.supplier, one.net, one.order_by) for one in drafted] == [
        (each.supplier.code, each.total, each.order_by) for each in bought.orders
    ]
    assert ordering.wishes(buyer.month, load.planned(buyer.plan), ordering.all_orders(buyer.month)) == ()


def test_drafting_twice_makes_nothing_twice(buyer: Desk) -> None:
    assert len(buyer.draft()) == len(buyer.draft()) == 2


def test_recording_twice_is_recorded_once(buyer: Desk) -> None:
    [number, _] = buyer.draft()
    form = hidden(buyer.client.get(buyer.url("order-check", number)).content.decode())
    for _ in range(2):
        assert buyer.client.post(buyer.url("order-check", number), form).status_code == 302
    assert OrderVersion.objects.filter(sent_at__isnull=False).count() == 1


def test_what_was_changed_since_it_was_checked_is_not_sent(buyer: Desk) -> None:
    [number, _] = buyer.draft()
    form = hidden(buyer.client.get(buyer.url("order-check", number)).content.decode())
    buyer.send("order-edit", number, **{"quantity-1": 250})
    answer = buyer.client.post(buyer.url("order-check", number), form)
    assert answer.status_code == 422
    assert "was changed since you checked it" in text(answer)
    assert buyer.kept(number).state is State.DRAFT


# --- Lines and tax ---


def test_tax_on_every_line_goes_into_the_total_and_into_cost_where_it_stays(buyer: Desk) -> None:
    [number, _] = buyer.draft()
    buyer.send("order-edit", number, rate_all="20 %", recovered_all="no")
    order = buyer.kept(number).order
    assert gross(order) == cost(order) == round_money(order.net * Decimal("1.2"))
    buyer.send("order-edit", number, recovered_all="yes")
    order = buyer.kept(number).order
    assert (gross(order), cost(order)) == (round_money(order.net * Decimal("1.2")), order.net)


def test_the_next_order_is_taxed_as_the_last_one_was(buyer: Desk) -> None:
    [number, _] = buyer.draft()
    buyer.send("order-edit", number, rate_all="20")
    buyer.send("order-check", number)
    buyer.send("order-close", number, why="mill shut")
    [_, _, third] = buyer.draft()
    assert {line.tax_rate for line in buyer.kept(third).order.lines} == {Decimal(20)}


def test_an_empty_price_is_the_list_price_of_the_quantity(buyer: Desk) -> None:
    [number, _] = buyer.draft()
    key = OrderLine.objects.get(version__order__number=number, material="SHORE").key
    buyer.send("order-edit", number, **{f"quantity-{key}": "75", f"price-{key}": ""})
    line = next(one for one in buyer.kept(number).order.goods if one.material == "SHORE")
    assert (line.price, line.amount) == (Decimal("0.3125"), Decimal("23.44"))
    buyer.send("order-edit", number, **{f"quantity-{key}": "1,000", f"price-{key}": ""})
    line = next(one for one in buyer.kept(number).order.goods if one.material == "SHORE")
    assert (line.price, line.amount) == (Decimal("0.28"), Decimal("280.00"))


def test_a_quantity_of_0_drops_a_line_and_another_material_can_be_added(buyer: Desk) -> None:
    [_, other] = buyer.draft()
    one = buyer.kept(other).order
    ribbon = next(line.key for line in one.goods if line.material == "RIBBON")
    buyer.send("order-edit", other, **{f"quantity-{ribbon}": 0})
    assert "RIBBON" not in {line.material for line in buyer.kept(other).order.goods}
    assert "Reed Ribbon (TRIM-RIBBON)" in buyer.see("order-edit", other)
    buyer.send("order-edit", other, add="TRIM-RIBBON", add_quantity=2, act="add")
    added = next(line for line in buyer.kept(other).order.goods if line.material == "RIBBON")
    assert (added.quantity, added.price) == (2, Decimal("4.1"))


UNREADABLE = [
    ("quantity", "many", "'many' is not a count"),
    ("quantity", "", "Write how many."),
    ("quantity", "-3", "negative"),
    ("price", "0.1234567", "more than 6 decimals"),
    ("rate", "120", "Write a rate from 0 to 100."),
    ("expected", "2027-13-40", "is not a day"),
    ("expected", "1492-01-01", "not a day of this century"),
]


def test_what_cannot_be_read_is_named_and_all_typed_is_kept(buyer: Desk) -> None:
    [number, _] = buyer.draft()
    form = hidden(buyer.client.get(buyer.url("order-edit", number)).content.decode())
    for field, typed, said in UNREADABLE:
        other = "price-2" if field != "price" else "quantity-2"
        answer = buyer.client.post(buyer.url("order-edit", number), form | {f"{field}-1": typed, other: "77"})
        assert answer.status_code == 422
        assert said in text(answer)
        assert "The lines were not saved" in text(answer)
        assert f'href="#{field}-1"' in answer.content.decode()
        assert 'value="77"' in answer.content.decode()
    assert buyer.kept(number).order.lines == ordering.order_of(*first_version(number)).lines


def first_version(number: str) -> tuple[PurchaseOrder, OrderVersion]:
    row = PurchaseOrder.objects.get(number=number)
    return row, row.versions.get(version=1)


def test_a_draft_somebody_else_saved_is_shown_and_not_overwritten(buyer: Desk) -> None:
    [number, _] = buyer.draft()
    form = hidden(buyer.client.get(buyer.url("order-edit", number)).content.decode())
    buyer.send("order-edit", number, **{"quantity-1": 250})
    answer = buyer.client.post(buyer.url("order-edit", number), form | {"quantity-1": "300"})
    assert answer.status_code == 422
    assert "Somebody else saved order" in text(answer)
    assert 'value="250"' in answer.content.decode()
    assert buyer.kept(number).order.goods[0].quantity == 250


def test_an_order_that_asks_for_broken_packs_is_not_sent(buyer: Desk) -> None:
    [number, _] = buyer.draft()
    buyer.send("order-edit", number, **{"quantity-1": 26})
    assert "no whole number of packs of 25" in buyer.see("order-check", number)
    said = buyer.refused("order-check", number, version=1, edits=1)
    assert "cannot be sent" in said
    assert buyer.kept(number).state is State.DRAFT


# --- Amended orders ---


def test_a_change_after_sending_shows_the_difference_and_asks_for_an_amended_order(buyer: Desk) -> None:
    number = buyer.sent()
    assert "amend it to change its lines" in buyer.send("order-edit", number)
    buyer.send("order", number, act="amend")
    quantity = buyer.kept(number).order.goods[0].quantity
    buyer.send("order-edit", number, **{"quantity-1": f"{quantity + 25}"})
    page = buyer.see("order-check", number)
    assert f"quantity: {quantity} → {quantity + 25} (+25)" in page
    assert buyer.kept(number).order.goods[0].quantity == quantity  # not before it is sent
    assert buyer.send("order-check", number) == f"Order {number}, version 2, is recorded as sent."
    one = buyer.kept(number)
    assert (one.order.version, one.order.goods[0].quantity) == (2, quantity + 25)


def test_a_price_that_was_agreed_is_no_difference_to_the_plan(buyer: Desk) -> None:
    [number, _] = buyer.draft()
    buyer.send("order-edit", number, **{"price-1": "0.29"})
    assert "asks for something else" not in buyer.see("order", number)
    buyer.send("order-edit", number, **{"quantity-1": 50})
    assert "asks for something else" in buyer.see("order", number)
    buyer.send("order", number, act="follow")
    assert buyer.kept(number).order.goods[0].quantity == 25


def test_an_amended_order_of_goods_that_are_all_in_can_be_dropped(buyer: Desk) -> None:
    number = buyer.sent()
    buyer.send("order", number, act="amend")
    lines = buyer.kept(number).order.goods
    buyer.send("receive", number, **{f"good-{line.key}": line.quantity for line in lines})
    assert buyer.kept(number).state is State.CLOSED
    buyer.send("order", number, act="drop")
    assert buyer.kept(number).drafted is None


def test_an_amended_order_cannot_ask_for_less_than_came(buyer: Desk) -> None:
    number = buyer.sent()
    buyer.send("receive", number, **{"good-1": 30, "more": "yes"})
    buyer.send("order", number, act="amend")
    buyer.send("order-edit", number, **{"price-1": "0.30"})
    assert "30 have come already" in buyer.see("order-check", number)
    buyer.send("order", number, act="drop")
    assert buyer.kept(number).drafted is None


def test_a_plan_that_wants_more_than_was_sent_asks_for_an_amended_order(buyer: Desk) -> None:
    number = buyer.sent()
    before = {line.material: line.quantity for line in buyer.kept(number).order.goods}
    more = tuple(replace(one, quantity=one.quantity + 40) for one in SMALL_MONTH.subscribers)
    plan_of(save.month(replace(SMALL_MONTH, subscribers=more)))
    assert f"Order {number} to Mill & Daughters is not what the plan asks for." in buyer.see("").replace(
        "&amp;", "&"
    )
    assert "The plan asks for something else" in buyer.see("order", number)
    buyer.send("order", number, act="follow")
    one = buyer.kept(number)
    assert one.sent is not None
    assert one.drafted is not None
    wanted = {
        line.need.material: line.quantity
        for line in load.planned(buyer.month.plans.all()[0]).plan.buying.lines
    }
    assert {line.material: line.quantity for line in one.drafted.goods} == {
        material: wanted[material] for material in before
    }
    assert {line.material: line.quantity for line in one.sent.goods} == before
    buyer.send("order-check", number)
    assert "asks for something else" not in buyer.see("order", number)


# --- Received and closed ---


def test_goods_come_short_damaged_and_over(buyer: Desk) -> None:
    number = buyer.sent()
    shore = buyer.kept(number).order.goods[0]
    said = buyer.send("receive", number, **{"good-1": shore.quantity - 10, "damaged-1": 2})
    assert "Entry 1 is in the stock book; still to come: 10 of" in said
    assert "2 came damaged" in buyer.see("orders")
    refused = buyer.refused("receive", number, **{"good-1": 12})
    assert "More came than is due" in refused
    assert StockEntry.objects.count() == 1
    rest = {f"good-{line.key}": line.quantity for line in buyer.kept(number).order.goods[1:]}
    said = buyer.send("receive", number, **{"good-1": 12, "more": "yes"}, **rest)
    assert "the order is complete and closed" in said
    assert f"2 of {shore.name.lower()} more than ordered" in said.lower()
    assert buyer.kept(number).state is State.CLOSED
    assert "2 over" in buyer.see("order", number)


def test_a_receipt_sent_twice_is_entered_once(buyer: Desk) -> None:
    number = buyer.sent()
    form = hidden(buyer.client.get(buyer.url("receive", number)).content.decode()) | {"good-1": "5"}
    for _ in range(2):
        assert buyer.client.post(buyer.url("receive", number), form).status_code == 302
    assert StockEntry.objects.count() == 1


def test_nothing_that_came_is_no_receipt(buyer: Desk) -> None:
    number = buyer.sent()
    assert "Nothing came" in buyer.refused("receive", number)


def test_the_days_a_supplier_tells_are_no_change_of_the_order(buyer: Desk) -> None:
    number = buyer.sent()
    buyer.send("order-days", number, **{"day-1": "2027-03-24"})
    one = buyer.kept(number)
    assert one.order.goods[0].expected == date(2027, 3, 24)
    assert one.order.version == 1
    assert one.placed.is_confirmed
    assert "Wed 24 Mar 2027" in buyer.see("receipts")


def test_an_order_is_closed_short_with_the_reason(buyer: Desk) -> None:
    number = buyer.sent()
    assert "Say why" in buyer.refused("order-close", number)
    assert "Charges of 6.00 GBP" in buyer.see("order-close", number)
    buyer.send("order-close", number, why="discontinued")
    assert "desk" in buyer.see("order", number)
    assert "discontinued" in buyer.see("order", number)
    assert "Mill &amp; Daughters" in buyer.client.get(buyer.url("orders")).content.decode()


def test_overdue_goods_stand_on_the_chase_list_and_the_month_page(buyer: Desk) -> None:
    number = buyer.sent()
    OrderLine.objects.filter(version__order__number=number).update(expected=now().date() - timedelta(days=3))
    assert "3 days ago" in buyer.see("orders")
    assert "3 days ago" in buyer.see("")
    assert "Overdue" in buyer.see("receipts")


# --- Papers ---


def paper(buyer: Desk, number: str, form: str, version: int = 1) -> bytes:
    answer = buyer.client.get(f"{buyer.url('order-paper', number)}&version={version}&form={form}")
    assert answer.status_code == 200
    assert "attachment" in answer["Content-Disposition"]
    return bytes(answer.content)


def test_an_order_is_printed_with_its_tax_and_what_an_amended_one_changes(buyer: Desk) -> None:
    [number, _] = buyer.draft()
    buyer.send("order-edit", number, rate_all="20")
    buyer.send("order-check", number)
    order = buyer.kept(number).order
    [page] = [
        " ".join(each.extract_text().split())
        for each in PdfReader(BytesIO(paper(buyer, number, "pdf"))).pages
    ]
    assert f"Purchase order {number}" in page
    assert f"Tax, 20 % of {order.net} " in page
    assert f"Total in GBP {gross(order)}" in page
    assert f"Order {number}, version 1, " in page
    buyer.send("order", number, act="amend")
    buyer.send("order-edit", number, **{"quantity-1": 250})
    again = PdfReader(BytesIO(paper(buyer, number, "pdf", 2))).pages[0].extract_text()
    assert f"Amended purchase order {number}, version 2" in again
    assert paper(buyer, number, "pdf") == paper(buyer, number, "pdf")


def test_an_order_is_a_workbook_with_live_sums(buyer: Desk) -> None:
    [number, _] = buyer.draft()
    buyer.send("order-edit", number, rate_all="20")
    made = paper(buyer, number, "xlsx")
    order = buyer.kept(number).order
    figures = openpyxl.load_workbook(BytesIO(made), data_only=True)
    formulas = openpyxl.load_workbook(BytesIO(made))
    assert figures["Order"]["D4"].value == order.goods[0].quantity
    assert str(formulas["Order"]["H4"].value).startswith("=ROUND(")
    assert "SUMIFS" in str(formulas["Sums"]["C5"].value)
    total = figures["Sums"]["C6"].value
    assert Decimal(str(total)).quantize(Decimal("0.01")) == gross(order)


@pytest.mark.parametrize("asked", ["version=9&form=pdf", "version=1&form=exe", "version=0&form=pdf"])
def test_a_paper_there_is_not_is_not_found(buyer: Desk, asked: str) -> None:
    [number, _] = buyer.draft()
    assert buyer.client.get(f"{buyer.url('order-paper', number)}&{asked}").status_code == 404


def test_expected_receipts_are_a_calendar(buyer: Desk) -> None:
    number = buyer.sent()
    read = icalendar.Calendar.from_ical(buyer.client.get(buyer.url("receipts-calendar")).content)
    lines = buyer.kept(number).order.goods
    assert sorted(event.decoded("DTSTART") for event in read.walk("VEVENT")) == sorted(
        line.expected for line in lines if line.expected
    )
    before = {str(event["UID"]) for event in read.walk("VEVENT")}
    buyer.send("order-days", number, **{"day-1": "2027-03-25"})
    again = icalendar.Calendar.from_ical(buyer.client.get(buyer.url("receipts-calendar")).content)
    assert {str(event["UID"]) for event in again.walk("VEVENT")} == before


# --- What is not there ---


@pytest.mark.parametrize(
    "page", ["order", "order-edit", "order-check", "receive", "order-days", "order-close"]
)
def test_an_order_there_is_not_is_not_found(buyer: Desk, page: str) -> None:
    assert buyer.client.get(buyer.url(page, "NO-1")).status_code == 404


def test_a_month_without_a_plan_says_what_comes_first(desk: Client, month: object) -> None:
    pk = getattr(month, "pk", 0)
    assert "plan the month first" in text(desk.get(f"/months/{pk}/orders"))
    assert desk.post(f"/months/{pk}/orders").status_code == 302
    assert not PurchaseOrder.objects.exists()
