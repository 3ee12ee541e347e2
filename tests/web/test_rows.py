"""The month's sheets in the app: found, changed, pasted, taken in, taken back."""

import re
from dataclasses import fields
from decimal import Decimal
from html import unescape
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from kits.models import Month, Tier
from planning import load
from planning.changing import changing
from planning.documents.codes import box_code
from planning.models import Box, Plan, Subscriber
from planning.monthfile.sheets import BY_TABLE, SHEETS, TABLES
from planning.rights.table import Act, Rights, Role, sheet_area
from planning.run import fingerprint
from tests.web.conftest import somebody
from tests.web.small_month import SMALL_MONTH


def at(month: Month, page: str, /, **asks: object) -> str:
    query = "&".join(f"{name}={value}" for name, value in asks.items())
    return f"/months/{month.pk}/{page}?{query}"


def text_of(html: bytes) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub("<[^>]+>", " ", html.decode())))


def form_of(desk: Client, url: str) -> dict[str, str]:
    """Return what a row's form would send as it is shown."""
    form = desk.get(url).context["form"]
    return {one.name: one.value for one in form.fields} | dict(form.hidden)


def rows_of(table: str) -> object:
    return SMALL_MONTH.club if table == "club" else getattr(SMALL_MONTH, table)


FILLED = [sheet.table for sheet in SHEETS if rows_of(sheet.table)]
PAGES: tuple[tuple[str, dict[str, object]], ...] = (
    ("rows", {}),
    ("row", {}),
    ("row", {"at": 0}),
    ("rows-paste", {}),
    ("rows-file", {}),
    ("rows-export", {"empty": "yes"}),
)


def test_every_sheet_has_its_pages(desk: Client, month: Month) -> None:
    assert desk.get(at(month, "sheets")).status_code == 200
    for sheet in SHEETS:
        for page, asks in PAGES:
            if (sheet.table == "club" and page != "row") or ("at" in asks and not rows_of(sheet.table)):
                continue
            asked = at(month, page, sheet=sheet.table, **asks)
            assert desk.get(asked).status_code == 200, asked


def test_a_form_sent_as_it_was_shown_changes_nothing(desk: Client, month: Month) -> None:
    for table in FILLED:
        url = at(month, "row", sheet=table, at=0)
        answer = desk.post(url, form_of(desk, url), follow=True)
        assert "nothing is changed" in text_of(answer.content), table
    assert load.month(month.pk) == SMALL_MONTH


def test_a_sheet_downloaded_and_taken_in_changes_nothing(desk: Client, month: Month) -> None:
    for sheet in TABLES:
        if sheet.table not in FILLED:
            continue
        made = desk.get(at(month, "rows-export", sheet=sheet.table)).content
        sent = {"file": SimpleUploadedFile("rows.xlsx", made), "replaces": "yes"}
        answer = desk.post(at(month, "rows-file", sheet=sheet.table), sent, follow=True)
        count = len(getattr(SMALL_MONTH, sheet.table))
        figures = [figure.value for figure in answer.context["figures"][:4]]
        assert (figures, answer.context["button"]) == (["0", "0", str(count), "0"], ""), sheet.table


# --- Found ---


def test_rows_are_found_sorted_and_told_how_many(desk: Client, month: Month) -> None:
    found = desk.get(at(month, "rows", sheet="price_breaks", find="shore"))
    assert "Price breaks, 2 of 5 shown" in text_of(found.content)
    assert "Clear filters" in text_of(found.content)
    chosen = desk.get(at(month, "rows", sheet="materials", **{"is-kind": "sheet", "sort": "-name"}))
    assert [row.code for _, row in chosen.context["found"].rows] == ["SHORE"]
    for sort, expected in (("price", ["0.2", "0.28"]), ("-price", ["4.10", "0.55"])):
        ordered = desk.get(at(month, "rows", sheet="price_breaks", sort=sort)).context["found"].rows
        assert [str(row.price) for _, row in ordered[:2]] == expected


def test_people_are_found_by_name_reference_and_postcode(desk: Client, month: Month) -> None:
    for find, expected in (
        ("dvo", ["S1"]),
        ("s2", ["S2"]),
        ("S2", ["S2"]),
        ("eriksen troms", ["S4"]),
        ("ba5 chidi", ["S3"]),
    ):
        found = desk.get(at(month, "rows", sheet="subscribers", find=find)).context["found"]
        assert [row.reference for _, row in found.rows] == expected, find
        assert (found.count, found.all) == (len(expected), 5)
    resting = desk.get(at(month, "rows", sheet="subscribers", **{"is-active": "no"})).context["found"]
    assert [row.reference for _, row in resting.rows] == ["S5"]


# --- One row ---


def test_a_price_may_be_typed_as_people_write_it(desk: Client, month: Month) -> None:
    url = at(month, "row", sheet="tiers", at=0)
    desk.post(url, form_of(desk, url) | {"price": "£1,024.50"})
    assert load.month(month.pk).tiers[0].price == Decimal("1024.50")


def test_a_form_with_faults_says_what_where_and_keeps_what_was_typed(desk: Client, month: Month) -> None:
    url = at(month, "row", sheet="price_breaks")
    answer = desk.post(url, {"offer": "MILL-SHOR", "from_quantity": "many", "price": "-1"})
    assert answer.status_code == 422
    form = answer.context["form"]
    wrong = {one.name: one.error for one in form.errors}
    assert set(wrong) == {"from_quantity", "price"}
    assert {one.name: one.value for one in form.fields}["offer"] == "MILL-SHOR"
    answer = desk.post(url, {"offer": "MILL-SHOR", "from_quantity": "5", "price": "1"})
    assert "Did you mean MILL-SHORE?" in text_of(answer.content)
    assert b"<title>Error: " in answer.content
    assert load.month(month.pk) == SMALL_MONTH


def test_a_row_is_added_duplicated_and_deleted_with_what_names_it_told(desk: Client, month: Month) -> None:
    like = form_of(desk, at(month, "row", sheet="materials", like=3))
    assert like["code"] == ""
    desk.post(at(month, "row", sheet="materials"), like | {"code": "CARTON-2", "name": "Deep carton"})
    assert load.month(month.pk).materials[-1].name == "Deep carton"
    asked = desk.get(at(month, "row-delete", sheet="materials", at=0))
    said = text_of(asked.content)
    assert "Offers Material 1 MILL-SHORE" in said
    assert "Pre-cuts Cut from 1 TAG" in said
    answer = desk.post(
        at(month, "row-delete", sheet="materials", at=0), dict(asked.context["form"].hidden), follow=True
    )
    assert "In the way of a plan" in text_of(answer.content)
    assert [one.code for one in load.month(month.pk).materials] == ["RIBBON", "FOLD", "CARTON", "CARTON-2"]
    for done in ("SHORE deleted", "CARTON-2 added"):
        edits = desk.get(at(month, "rows", sheet="materials")).context["edits"]
        [edit] = [each for each in edits if each.name == f"Materials: {done}"]
        desk.post(at(month, "rows-undo"), {"edit": edit.pk})
    assert load.month(month.pk) == SMALL_MONTH


def test_a_form_filled_in_from_an_older_row_is_refused_and_shows_both(desk: Client, month: Month) -> None:
    url = at(month, "row", sheet="tiers", at=0)
    mine, theirs = form_of(desk, url), form_of(desk, url)
    desk.post(url, theirs | {"name": "Theirs"})
    answer = desk.post(url, mine | {"name": "Mine"})
    assert answer.status_code == 422
    assert "desk changed this row since you opened it" in text_of(answer.content)
    assert "Name Mine Theirs" in text_of(answer.content)
    assert Tier.objects.get(month=month, code="FULL").name == "Theirs"
    again = {one.name: one.value for one in answer.context["form"].fields} | dict(
        answer.context["form"].hidden
    )
    desk.post(url, again)
    assert Tier.objects.get(month=month, code="FULL").name == "Mine"


def test_the_settings_are_changed_but_for_what_the_month_is_known_by(desk: Client, month: Month) -> None:
    url = at(month, "row", sheet="club")
    desk.post(
        url, form_of(desk, url) | {"cart_boxes": "1,000", "code": "OTHER", "address": "1 Mill Lane\r\nWells"}
    )
    club = load.month(month.pk).club
    assert (club.cart_boxes, club.code, club.address) == (1000, "HERON", "1 Mill Lane\nWells")


def test_two_people_may_not_have_one_reference(desk: Client, month: Month) -> None:
    url = at(month, "row", sheet="subscribers", at=1)
    answer = desk.post(url, form_of(desk, url) | {"reference": "S1"})
    assert "S1 stands here already" in text_of(answer.content)
    assert Subscriber.objects.filter(reference="S1").count() == 1


# --- Many ---


def test_a_block_is_looked_at_made_and_taken_back(desk: Client, month: Month) -> None:
    block = "Code\tName\tPrice a box\nFULL\tFull\t25\nGOLD\tGold\t40\nHALF\tHalf\t14\nBAD\tBad\tmuch"
    seen = desk.post(at(month, "rows-paste", sheet="tiers"), {"block": block}, follow=True)
    assert [figure.value for figure in seen.context["figures"]] == ["1", "1", "1", "1"]
    assert "Add 1, change 1, leave out 1" in text_of(seen.content)
    assert "5 C Price a box much" in text_of(seen.content)
    assert load.month(month.pk) == SMALL_MONTH
    refused = desk.get(seen.wsgi_request.get_full_path().replace("rows-preview", "rows-refused"))
    assert refused.content.startswith(b"PK")
    done = desk.post(
        seen.wsgi_request.get_full_path(), {"fingerprint": seen.context["month"].fingerprint}, follow=True
    )
    assert [f"{one.code} {one.price}" for one in load.month(month.pk).tiers] == [
        "FULL 25",
        "HALF 14",
        "GOLD 40",
    ]
    [edit] = done.context["edits"]
    assert edit.name == "Tiers: a pasted block, 1 new, 1 changed"
    desk.post(at(month, "rows-undo"), {"edit": edit.pk})
    assert load.month(month.pk) == SMALL_MONTH
    fixed = SimpleUploadedFile("faults.xlsx", refused.content)
    again = desk.post(at(month, "rows-file", sheet="tiers"), {"file": fixed}, follow=True)
    assert [figure.value for figure in again.context["figures"]] == ["0", "0", "0", "1"]


def test_what_was_looked_at_before_the_month_was_changed_is_looked_at_again(
    desk: Client, month: Month
) -> None:
    seen = desk.post(at(month, "rows-paste", sheet="tiers"), {"block": "GOLD\tGold\t40"}, follow=True)
    url = at(month, "row", sheet="tiers", at=0)
    desk.post(url, form_of(desk, url) | {"name": "Theirs"})
    again = desk.post(
        seen.wsgi_request.get_full_path(), {"fingerprint": seen.context["month"].fingerprint}, follow=True
    )
    assert "The month was changed since you looked" in text_of(again.content)
    assert len(load.month(month.pk).tiers) == 2


def test_a_block_that_cannot_be_read_comes_back_as_it_was_pasted(desk: Client, month: Month) -> None:
    answer = desk.post(at(month, "rows-paste", sheet="tiers"), {"block": "Name\tPrice a box\nFull\t2"})
    assert answer.status_code == 422
    assert "Name\tPrice a box" in unescape(answer.content.decode())
    assert 'the heading "Code" is missing' in text_of(answer.content)


@pytest.mark.parametrize("page", ["rows", "row", "row-delete", "rows-paste", "rows-file", "rows-export"])
def test_a_sheet_that_is_not_there_is_told_so(desk: Client, month: Month, page: str) -> None:
    assert desk.get(at(month, page, sheet="secrets")).status_code == 404
    assert desk.get(at(month, page)).status_code == 404


def test_another_month_s_edit_is_none_of_this_one(desk: Client, month: Month) -> None:
    seen = desk.post(at(month, "rows-paste", sheet="tiers"), {"block": "GOLD\tGold\t40"}, follow=True)
    other = Month.objects.get(pk=month.pk)
    other.pk, other.month = None, "2027-05"
    other.save()
    assert desk.get(at(other, "rows-preview", edit=seen.context["edit"].pk)).status_code == 404


def test_every_field_of_a_form_says_how_to_fill_it_in(desk: Client, month: Month) -> None:
    form = desk.get(at(month, "row", sheet="materials")).context["form"]
    assert [one.name for one in form.fields] == [one.name for one in fields(BY_TABLE["materials"].row_type)]
    assert all(one.hint for one in form.fields)


# --- The roster ---


def buttons(desk: Client, url: str) -> dict[str, str]:
    return dict(desk.get(url).context["form"].hidden)


def test_somebody_rests_skips_a_month_and_gets_a_gift(desk: Client, month: Month) -> None:
    url = at(month, "row", sheet="subscribers", at=0)
    for act, field, expected in (
        ("pause", "active", False),
        ("resume", "active", True),
        ("skip", "skips", (SMALL_MONTH.club.month,)),
        ("unskip", "skips", ()),
    ):
        desk.post(url, buttons(desk, url) | {"act": act})
        assert getattr(load.month(month.pk).subscribers[0], field) == expected, act
    gift = desk.get(url).context["gift"]
    asked = desk.get(gift).context["form"]
    texts = {one.name: one.value for one in asked.fields}
    assert (texts["reference"], texts["subscriber"], texts["count"]) == ("GIFT-2704-1", "S1", "1")
    assert "TAG" in [value for one in asked.fields if one.name == "item" for value, _ in one.choices]
    desk.post(gift, texts | {"item": "TAG"})
    assert load.month(month.pk).orders[-1].item == "TAG"
    assert "GIFT-2704-1" in text_of(desk.get(url).content)
    assert "GIFT-2704-2" in desk.get(url).context["gift"]


def test_a_button_pressed_on_an_older_page_does_nothing(desk: Client, month: Month) -> None:
    url = at(month, "row", sheet="subscribers", at=0)
    older = buttons(desk, url)
    desk.post(url, form_of(desk, url) | {"city": "Bath"})
    assert desk.post(url, older | {"act": "pause"}).status_code == 422
    assert load.month(month.pk).subscribers[0].active
    assert desk.post(url, buttons(desk, url) | {"act": "dance"}).status_code == 404


def test_of_a_long_roster_only_the_rows_of_the_page_are_read(
    desk: Client, month: Month, django_assert_max_num_queries: Any
) -> None:
    people = [
        Subscriber(
            month=month,
            position=10 + number,
            **{
                each.name: getattr(SMALL_MONTH.subscribers[0], each.name)
                for each in fields(SMALL_MONTH.subscribers[0])
                if each.name != "reference"
            },
            reference=f"P{number:04}",
        )
        for number in range(450)
    ]
    Subscriber.objects.bulk_create(people)
    with changing(month, "subscribers"):
        pass
    desk.get(at(month, "rows", sheet="tiers"))  # what is found of the month's small sheets is kept
    with django_assert_max_num_queries(15):
        last = desk.get(at(month, "rows", sheet="subscribers", page=9)).context["found"]
    assert [row.reference for _, row in last.rows][:2] == ["P0395", "P0396"]
    assert (len(last.rows), last.all) == (50, 455)
    url = at(month, "row", sheet="subscribers", at=200)
    with django_assert_max_num_queries(90):
        desk.post(url, buttons(desk, url) | {"act": "pause"})
    month.refresh_from_db()
    assert month.fingerprint == fingerprint(load.month(month.pk))


# --- Who may ---


def test_a_sheet_is_shown_and_changed_by_whom_its_area_is_for(month: Month) -> None:
    for role in Role:
        client = Client()
        client.force_login(somebody(f"the-{role}", role))
        listed = {
            cell.href
            for line in client.get(at(month, "sheets")).context["table"].lines
            for cell in line.cells[:1]
        }
        for sheet in SHEETS:
            may = Rights(role).may
            look, change = (may(act, sheet_area(sheet.table)) for act in (Act.LOOK, Act.CHANGE))
            page = "row" if sheet.table == "club" else "rows"
            assert (client.get(at(month, page, sheet=sheet.table)).status_code == 200) == look, (
                role,
                sheet.table,
            )
            assert (at(month, "rows", sheet=sheet.table) in listed) == look
            if sheet.table != "club":
                assert (client.get(at(month, "rows-paste", sheet=sheet.table)).status_code == 200) == change
                assert (client.post(at(month, "row", sheet=sheet.table), {}).status_code == 403) != change
        found = text_of(client.get("/search?find=dvo").content)
        assert ("Dvořáková" in found) == Rights(role).may_look(sheet_area("subscribers")), role


# --- One field for everything ---


def test_one_field_finds_everything_of_a_month(desk: Client, plan: Plan) -> None:
    cases = {
        "reedbed": ("Months", f"/months/{plan.month_id}/"),
        "shore white": ("Materials", f"/months/{plan.month_id}/row?sheet=materials&at=0"),
        "trimmings": ("Suppliers", "sheet=suppliers&at=1"),
        "two herons": ("Recipes", "recipe?code=R1"),
        "RIBBON": ("Kit", "sheet=kit_lines&at=2"),
        "half": ("Tiers", "sheet=tiers&at=1"),
        "s2": ("Roster", "sheet=subscribers&at=1"),
        "o’hare": ("Roster", "sheet=subscribers&at=1"),
        "workbook": ("Papers", "/papers/"),
    }
    for find, (title, href) in cases.items():
        answer = desk.get("/search", {"find": find, "month": str(plan.month_id)})
        [table] = [one for one in answer.context["tables"] if one.caption.split(",")[0] == title]
        assert any(href in line.cells[0].href for line in table.lines), (
            find,
            [line.cells[0].href for line in table.lines],
        )
    assert "Nothing is called that" in text_of(desk.get("/search", {"find": "zzz"}).content)
    assert desk.get("/search").status_code == 200
    assert desk.get("/search", {"find": "a", "month": "x"}).status_code == 404


def test_a_box_is_found_by_its_code(desk: Client, plan: Plan) -> None:
    Box.objects.create(plan=plan, serial=3, box_class=0, wave=2, place=1, reference="S1")
    code = box_code("HERON", SMALL_MONTH.club.month, 3)
    for typed in (code, f" {code[:5].lower()}-{code[5:]} "):
        assert "Wave 2, place 1" in text_of(desk.get("/search", {"find": typed}).content)
    wrong = code[:-1] + ("A" if code[-1] != "A" else "B")
    assert "Wave 2" not in text_of(desk.get("/search", {"find": wrong}).content)
