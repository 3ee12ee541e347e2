"""Signing in and out."""

from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client

from tests.web.conftest import PASSWORD

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def cleo() -> User:
    return User.objects.create_superuser("cleo", password=PASSWORD)


def sign_in(client: Client, password: str = PASSWORD, goes_to: str = "") -> Any:
    return client.post("/sign-in", {"username": "cleo", "password": password, "next": goes_to})


def test_it_works(client: Client) -> None:
    assert client.get("/sign-in").status_code == 200
    answer = sign_in(client)
    assert (answer.status_code, answer["Location"]) == (302, "/")
    assert client.get("/").status_code == 200


def test_a_wrong_password_is_told_and_the_name_is_kept(client: Client) -> None:
    answer = sign_in(client, "wrong")
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "<title>Error: " in page
    assert 'value="cleo"' in page
    assert "wrong" not in page.replace("was wrong", "")
    assert client.get("/").status_code == 302


def test_it_leads_where_somebody_wanted_to_go(client: Client) -> None:
    assert client.get("/upload")["Location"] == "/sign-in?next=/upload"
    assert sign_in(client, goes_to="/upload")["Location"] == "/upload"


@pytest.mark.parametrize("elsewhere", ["https://example.com/", "//example.com", "javascript:alert(1)"])
def test_it_never_leads_elsewhere(client: Client, elsewhere: str) -> None:
    assert sign_in(client, goes_to=elsewhere)["Location"] == "/"


def test_signing_out_ends_it(client: Client) -> None:
    sign_in(client)
    assert client.post("/sign-out")["Location"] == "/sign-in"
    assert client.get("/").status_code == 302
