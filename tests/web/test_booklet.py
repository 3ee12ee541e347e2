"""The booklet as a page: all that is printed, in an order that can be listened to."""

import re
from html import unescape
from html.parser import HTMLParser

import pytest
from django.test import Client
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from kits.models import Month
from planning import load, save
from planning.demo import demo_month
from planning.documents.booklet import booklet
from planning.documents.booklet.words import CAUTIONS
from tests.support.effort import thorough
from tests.support.months import DAISY, designed_month
from tests.web.planned import plan_of
from tests.web.test_browser import look_at


@pytest.fixture
def daisies(db: None) -> Month:
    return save.month(designed_month())


class Outline(HTMLParser):
    """The heads of a page by level, its drawings, and the words that name them."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.heads: list[int] = []
        self.drawings: list[dict[str, str | None]] = []
        self.ids: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        known = dict(attrs)
        if name := known.get("id"):
            self.ids.append(name)
        if re.fullmatch("h[1-6]", tag):
            self.heads.append(int(tag[1]))
        if tag == "svg":
            self.drawings.append(known)


def words_of(page: str) -> str:
    return " ".join(unescape(re.sub("<[^>]*>", " ", page)).split())


def test_it_works(desk: Client, daisies: Month) -> None:
    said = words_of(desk.get(f"/months/{daisies.pk}/booklet").content.decode())
    for words in (
        "Tiny Paper Club Daisies",
        "Spread 1: Daisies on a fence The rail runs over both pages.",
        "White card 12 × 12 in 2 sheets",
        "4 cuts, 3 turns, on a trimmer that cuts 12 in, up to 2 sheets at once",
        "sheet 1 of Daisy print 12 × 9 in",
        "Sheet 1 of White card and sheet 2 of White card, cut together: 3 cuts",
        *CAUTIONS,
    ):
        assert words in said


def test_heads_follow_each_other_and_every_drawing_is_said_in_words(desk: Client, daisies: Month) -> None:
    outline = Outline(desk.get(f"/months/{daisies.pk}/booklet").content.decode())
    assert outline.heads[0] == 1
    assert outline.heads.count(1) == 1
    assert all(after <= before + 1 for before, after in zip(outline.heads, outline.heads[1:], strict=False))
    # the spread, 3 sheets, 4 cuts, 2 pages
    assert len(outline.drawings) == 1 + 3 + 4 + 2
    for drawing in outline.drawings:
        assert drawing["role"] == "img"
        assert drawing["aria-labelledby"] in outline.ids
        assert drawing["aria-describedby"] in outline.ids
    assert len(outline.ids) == len(set(outline.ids))


def test_the_cuts_are_one_list_numbered_through(desk: Client, daisies: Month) -> None:
    page = desk.get(f"/months/{daisies.pk}/booklet").content.decode()
    assert re.findall(r'<ol class="cuts" start="(\d+)">', page) == ["1", "4"]


def test_it_says_all_that_the_printed_one_says_of_the_demo(desk: Client, db: None) -> None:
    month = save.month(demo_month(10))
    said = words_of(desk.get(f"/months/{month.pk}/booklet").content.decode())
    for one in booklet(load.without_people(month)).chapters:
        assert one.work is not None
        assert one.note in said
        for left in one.work.left:
            assert f"{left.sheet} {left.size}" in said
        assert f"{one.work.cuts} cuts" in said


def test_it_leads_to_the_printed_ones_and_the_papers_to_it(desk: Client, daisies: Month) -> None:
    plan = plan_of(daisies)
    page = desk.get(f"/months/{daisies.pk}/booklet").content.decode()
    for paper in plan.papers.filter(name__startswith="booklet/"):
        assert f'href="/papers/{paper.pk}"' in page
    for path in ("documents", "", "requirements"):
        assert (
            f'href="/months/{daisies.pk}/booklet"'
            in desk.get(f"/months/{daisies.pk}/{path}").content.decode()
        )


def test_the_club_sees_what_the_papers_of_a_kit_cost(desk: Client, daisies: Month) -> None:
    """Two sheets of card at 0.15, one of print at 0.30, a sixth of one more for the tags: 3.2 sheets, 0.65 a kit."""
    address = f"/months/{daisies.pk}/booklet"
    assert "what the papers cost" not in desk.get(address).content.decode()
    plan_of(daisies, with_papers=False)
    # 2 x 144 and 36 of 432 square inches are used: 75 %
    assert "Daisies on a fence 3.2 75 % 0.65 All 3.2 75 % 0.65" in words_of(
        desk.get(address).content.decode()
    )


def test_a_recipe_that_is_not_finished_is_told_so(desk: Client, db: None) -> None:
    broken = save.month(designed_month(DAISY.replace("cut at 3: offcut", "cut at 13: offcut")))
    assert "This recipe is not finished" in desk.get(f"/months/{broken.pk}/booklet").content.decode()


def test_a_month_with_recipes_by_rows_alone_has_a_booklet(desk: Client, month: Month) -> None:
    said = words_of(desk.get(f"/months/{month.pk}/booklet").content.decode())
    assert "How its sheets are cut is not drawn." in said
    assert "strip 1 × 12 in 1 to spare ready cut" in said


def test_nobody_sees_it_who_is_not_signed_in(client: Client, daisies: Month) -> None:
    assert client.get(f"/months/{daisies.pk}/booklet").status_code == 302


@thorough
def test_a_browser_finds_no_fault_in_it_at_any_width(
    at_desk: Page, live_server: LiveServer, daisies: Month, complaints: list[str]
) -> None:
    look_at(at_desk, f"{live_server.url}/months/{daisies.pk}/booklet")
    at_desk.emulate_media(media="print")
    expect(at_desk.get_by_role("heading", name="Spread 1: Daisies on a fence")).to_be_visible()
    expect(at_desk.get_by_role("navigation").first).to_be_hidden()
