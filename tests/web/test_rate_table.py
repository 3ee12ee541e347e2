"""A rate table as carriers print it: taken in from a day on, looked at first, and asked from that day."""

from datetime import date
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from kits.measures import LengthUnit
from kits.models import Month
from planning import load
from planning.editing.rate_table import rows_of_rate_table
from planning.monthfile.codecs import Habits
from planning.monthfile.problems import MonthFileError
from planning.monthfile.xlsx import Row

TABLE = b"Small packet,home,near\n,,\n500,3.40,\n1 lb,3.90,8.00\n"
HABITS = Habits(LengthUnit.INCH, "GBP")


def test_a_table_becomes_a_row_for_each_price() -> None:
    grid: list[Row] = [
        (2, {1: "Up to", 3: "home", 4: "near"}),
        (3, {1: "500", 3: "3.40"}),
        (4, {1: "1 lb", 4: "8"}),
    ]
    _, *rows = rows_of_rate_table(iter(grid), "ECO", date(2027, 6, 1), HABITS)
    assert rows == [
        (3, {1: "ECO", 2: "home", 3: "500", 4: "3.40", 6: date(2027, 6, 1)}),
        (4, {1: "ECO", 2: "near", 3: "1 lb", 4: "8", 6: date(2027, 6, 1)}),
    ]


@pytest.mark.parametrize("grid", [[], [(1, {1: "Prices"})], [(11, {1: "Up to", 2: "home"})]])
def test_a_file_without_zones_is_refused(grid: list[Row]) -> None:
    with pytest.raises(MonthFileError):
        list(rows_of_rate_table(iter(grid), "ECO", None, HABITS))


@pytest.mark.django_db
def test_it_is_looked_at_first_and_then_holds_from_its_day(desk: Client, month: Month) -> None:
    page = f"/months/{month.pk}/rate-table?sheet=rates"
    assert b"Take in a rate table" in desk.get(page).content
    before = tuple(load.rows("rates", month))
    service = before[0].service
    zones = list(dict.fromkeys(row.zone for row in before if row.service == service))[:2]
    file = "\n".join(["Up to," + ",".join(zones), "250," + ",".join(["1.10"] * len(zones))])
    sent = {"service": service, "first": "2027-04-08", "file": SimpleUploadedFile("new.csv", file.encode())}
    preview = desk.post(page, sent, follow=True)
    assert "8 Apr 2027" in preview.content.decode()
    assert tuple(load.rows("rates", month)) == before
    edit = preview.context["edit"]
    said = {"act": "make", "fingerprint": preview.context["month"].fingerprint}
    desk.post(f"/months/{month.pk}/rows-preview?edit={edit.pk}", said)
    new = [row for row in load.rows("rates", month) if row.valid_from == date(2027, 4, 8)]
    assert [(row.zone, row.up_to, row.price) for row in new] == [
        (zone, 250, Decimal("1.10")) for zone in zones
    ]


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"service": "NONE"}, "no service was chosen"),
        ({"file": ""}, "no file was chosen"),
        ({"first": "soon"}, "soon is no day"),
        ({"file": SimpleUploadedFile("x.csv", b"nothing here")}, "no zones were found"),
    ],
)
def test_what_cannot_be_taken_is_told(
    desk: Client, month: Month, changes: dict[str, object], said: str
) -> None:
    service = next(iter(load.rows("services", month))).code
    sent = {"service": service, "first": "", "file": SimpleUploadedFile("x.csv", TABLE)} | changes
    answer = desk.post(f"/months/{month.pk}/rate-table?sheet=rates", sent)
    assert answer.status_code == 422
    assert said in answer.content.decode().casefold()
