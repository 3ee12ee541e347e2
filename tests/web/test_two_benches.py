"""Two benches pack one wave at the same time in two browsers, and the network goes away twice: every count is exact."""

import os
from collections import Counter, deque
from collections.abc import Iterator
from dataclasses import replace

import pytest
from django.conf import settings as live_settings
from django.test import Client
from playwright.sync_api import Browser, Page, Route, expect
from pytest_django.live_server_helper import LiveServer

from kits.models import Month
from planning.at_bench.boxes import state_of
from planning.at_bench.people import add_packer
from planning.models import Bench, BoxAct, BoxWork
from planning.packed import Act, BoxEvent, Status, packed_faults
from tests.at_bench.conftest import AtBench, release_month
from tests.web.small_month import SMALL_MONTH, subscriber
from tests.web.test_bench_browser import scan, signed_in

pytestmark = pytest.mark.django_db(transaction=True)
BOXES = int(os.environ.get("BENCH_BOXES", "10"))  # 500 take some minutes


@pytest.fixture
def one_wave(db: None) -> Month:
    """A month whose boxes are all in one wave, half of them of each tier."""
    people = [
        subscriber(one, f"Reader {one}", tier="FULL" if one % 2 else "HALF") for one in range(1, BOXES + 1)
    ]
    week = tuple(replace(one, minutes=30_000) for one in SMALL_MONTH.week)
    club = replace(SMALL_MONTH.club, cart_boxes=BOXES)
    book = replace(SMALL_MONTH, club=club, subscribers=tuple(people), orders=(), week=week, crew_days=())
    month = release_month(book)
    add_packer(month.code, "Anna", "2580")
    add_packer(month.code, "Ben", "8520")
    return month


@pytest.fixture
def second(browser: Browser, desk: Client, live_server: LiveServer) -> Iterator[Page]:
    """Another tablet: a browser with a session of its own."""
    from django.contrib.auth.models import User

    other = Client()
    other.force_login(User.objects.get(username="desk"))
    session = other.cookies[live_settings.SESSION_COOKIE_NAME].value
    with browser.new_context() as context:
        context.set_default_timeout(30_000)
        context.add_cookies(
            [{"name": live_settings.SESSION_COOKIE_NAME, "value": session, "url": live_server.url}]
        )
        yield context.new_page()


def take(page: Page, code: str) -> None:
    """Scan a box, which closes a complete one before it, and wait for its list."""
    page.locator("#code").fill(code)  # at once, as a quick scanner does
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name=code)).to_be_visible(timeout=30_000)


def fill(page: Page) -> None:
    """Tick every line."""
    page.evaluate("for (const one of document.querySelectorAll('#lines [aria-pressed=false]')) one.click()")
    expect(page.locator("#mark")).to_have_text("All is in. Close the box.")


def lose_the_answer(route: Route) -> None:
    """Let the server hear a request and the browser no answer."""
    route.fetch()
    route.abort()


def test_two_browsers_pack_one_wave_and_the_network_is_cut_twice(
    at_desk: Page, second: Page, live_server: LiveServer, one_wave: Month
) -> None:
    anna = signed_in(at_desk, live_server, one_wave, "Anna", "2580", "Bench 1")
    ben = signed_in(second, live_server, one_wave, "Ben", "8520", "Bench 2")
    code = AtBench(one_wave, Bench()).code
    left = deque(range(1, BOXES + 1))
    for turn in range(BOXES // 2):
        mine, theirs = left.popleft(), left.pop()
        take(anna, code(mine))
        take(ben, code(theirs))
        if turn == 1:  # the same box at both benches
            scan(ben, code(mine))
            expect(ben.locator("#mark")).to_contain_text("is in hand: close it, or put it back first")
            ben.get_by_role("button", name="Put this box back").click()
            scan(ben, code(mine))
            expect(ben.locator("#mark")).to_contain_text("Anna has this box in hand at Bench 1")
            take(ben, code(theirs))
        if turn == 2:  # no network: the box in hand is finished, and the next one is asked for
            anna.context.set_offline(True)
            fill(anna)
            scan(anna, code(left[0]))
            expect(anna.locator("#waits")).to_contain_text("wait to be sent: no network")
            expect(anna.get_by_role("heading", name=code(mine))).to_be_hidden()
            fill(ben)
            anna.context.set_offline(False)
            expect(anna.get_by_role("heading", name=code(left[0]))).to_be_visible(timeout=30_000)
            continue  # with the box it asked for: taking it once more changes nothing
        if turn == 4:  # the server hears what the browser has no answer to
            anna.route("**/bench-acts", lose_the_answer)
            ben.context.set_offline(True)
            fill(anna)
            fill(ben)
            expect(anna.locator("#waits")).to_be_visible()
            anna.unroute("**/bench-acts")
            ben.context.set_offline(False)
            expect(anna.locator("#waits")).to_be_hidden(timeout=30_000)
            expect(ben.locator("#waits")).to_be_hidden(timeout=30_000)
        fill(anna)
        fill(ben)
    for page in (anna, ben):
        page.get_by_role("button", name="Close the box").click()
        expect(page.locator("#box")).to_be_hidden()
    expect(ben.locator("#wave-left")).to_have_text("0", timeout=30_000)
    for page in (anna, ben):
        page.evaluate("send()")
        expect(page.locator("#wave-left")).to_have_text("0", timeout=30_000)
        expect(page.locator("#wave-done")).to_have_text(f"{BOXES:,} of {BOXES:,}")
        assert page.evaluate("localStorage.length") == 0
    exact(one_wave)


def exact(month: Month) -> None:
    """Every box is closed once, by the bench that had it, with its list in it."""
    released = AtBench(month, Bench()).released
    events: dict[int, list[BoxEvent]] = {}
    for one in BoxAct.objects.filter(plan=released.plan):
        events.setdefault(one.serial, []).append(event_of(one))
    works = {work.serial: work for work in BoxWork.objects.filter(plan=released.plan)}
    assert sorted(works) == list(range(1, BOXES + 1))
    for serial, work in works.items():
        [kind] = released.plan.listed.filter(serial=serial).values_list("box_class", flat=True)
        spec = released.specs[released.planned.plan.roster.classes[kind].contents]
        assert work.status == Status.CLOSED
        assert packed_faults(released.list_of(spec), events[serial], state_of(work)) == ()
    closed = Counter(one.bench for one in BoxAct.objects.filter(act=Act.CLOSE))
    assert closed.total() == BOXES
    assert set(closed) == {"Bench 1", "Bench 2"}


def event_of(row: BoxAct) -> BoxEvent:
    """Return an act that counts as plain data."""
    return BoxEvent(
        id=str(row.uid),
        act=Act(row.act),
        bench=row.bench,
        who=row.who,
        at=row.at,
        item=row.item,
        count=row.count,
    )
