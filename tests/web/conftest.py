"""Who uses the app in its tests: the desk, who is signed in; and nobody, the plain `client`."""

import os
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, ExitStack
from pathlib import Path
from urllib.request import urlopen

import pytest
from django.conf import settings as live_settings
from django.contrib.auth.models import User
from django.test import Client
from playwright.sync_api import Page
from pytest_django.live_server_helper import LiveServer

from kits.models import Month
from planning import save
from planning.models import Person, Plan
from planning.rights.table import Role
from tests.web.planned import plan_of
from tests.web.small_month import SMALL_MONTH

MANAGE = Path(__file__).parents[2] / "manage.py"
PASSWORD = "walnut-kettle-ribbon"


@pytest.fixture
def desk(db: None, client: Client) -> Client:
    """The desk: signed in, works on months."""
    client.force_login(somebody("desk", Role.OWNER))
    return client


def somebody(name: str, role: Role | None) -> User:
    """Somebody who can sign in."""
    user = User.objects.create_user(name, password=PASSWORD)
    if role:
        Person.objects.create(user=user, role=role)
    return user


@pytest.fixture
def month(db: None) -> Month:
    """A month that is taken in and not planned yet."""
    return save.month(SMALL_MONTH)


@pytest.fixture
def plan(month: Month) -> Plan:
    """Its plan, with one order and one box late, and its papers."""
    return plan_of(month)


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


@pytest.fixture
def serving(
    alongside: Callable[..., AbstractContextManager[subprocess.Popen[bytes]]], tmp_path: Path
) -> Iterator[Callable[[], str]]:
    """Return serve(): the URL of the program as `manage.py serve` starts it, on data of its own with cleo in it."""
    with ExitStack() as running, socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
        probe.close()
        url = f"http://127.0.0.1:{port}"

        def serve() -> str:
            running.enter_context(
                alongside([sys.executable, MANAGE, "serve", "--port", str(port)], lambda: answers(url))
            )
            words = ["createsuperuser", "--noinput", "--username=cleo", "--email=cleo@heron.example"]
            said = {"DJANGO_SUPERUSER_PASSWORD": PASSWORD, "KITS_DATA_DIR": str(tmp_path / "data")}
            subprocess.run(
                [sys.executable, MANAGE, *words], env=os.environ | said, check=True, capture_output=True
            )
            return url

        yield serve


def answers(url: str) -> bool:
    """Whether the program at the URL says that it is well."""
    try:
        with urlopen(f"{url}/healthz", timeout=2) as answer:  # noqa: S310
            return bool(answer.status == 200)
    except OSError:
        return False
