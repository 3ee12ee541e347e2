"""Who uses the app in its tests: the desk, who is signed in; and nobody, the plain `client`."""

from collections.abc import Iterator

import pytest
from django.conf import settings as live_settings
from django.contrib.auth.models import User
from django.test import Client
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from kits.models import Month
from planning import jobs, save
from planning.models import Plan
from tests.web.small_month import SMALL_MONTH

PASSWORD = "walnut-kettle-ribbon"


@pytest.fixture
def desk(db: None, client: Client) -> Client:
    """The desk: signed in, works on months."""
    client.force_login(User.objects.create_user("desk", password=PASSWORD))
    return client


@pytest.fixture
def month(db: None) -> Month:
    """A month that is taken in and not planned yet."""
    return save.month(SMALL_MONTH)


@pytest.fixture
def plan(month: Month) -> Plan:
    """Its plan, with one order and one box late, and its papers."""
    jobs.work_on(jobs.enqueue("plan", month).pk, "tests")
    return month.plans.get()


@pytest.fixture
def at_desk(desk: Client, page: Page, live_server: LiveServer) -> Page:
    """A browser in which the desk is signed in; what it complains of, and whom it asks, is kept in `page.complaints`."""
    session = desk.cookies[live_settings.SESSION_COOKIE_NAME].value
    page.context.add_cookies(
        [{"name": live_settings.SESSION_COOKIE_NAME, "value": session, "url": live_server.url}]
    )
    return page


@pytest.fixture
def complaints(page: Page, live_server: LiveServer) -> Iterator[list[str]]:
    """Fail the test where the browser complains of a page, or is made to ask anybody else."""
    heard: list[str] = []
    page.on("console", lambda said: heard.append(said.text) if said.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: heard.append(str(error)))
    page.on(
        "request",
        lambda asked: heard.append(asked.url) if not asked.url.startswith(live_server.url) else None,
    )
    yield heard
    assert heard == []
