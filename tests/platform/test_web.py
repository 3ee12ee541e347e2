"""What every answer of the web server carries, and the health check."""

import pytest
from django.contrib.auth.models import User
from django.http import HttpRequest, HttpResponse
from django.test import Client
from django.urls import path

# A request looks whether its thread's connection is still good, also where the page asks the database nothing.
pytestmark = pytest.mark.django_db

OURSELVES = {"connect-src", "font-src", "form-action", "img-src", "media-src", "script-src", "style-src"}
NOBODY = {"base-uri", "default-src", "frame-ancestors"}


def test_it_works(client: Client) -> None:
    answer = client.get("/healthz")
    assert (answer.status_code, answer.content) == (200, b"ok\n")
    assert "no-store" in answer["Cache-Control"]


def test_the_health_check_only_reads(client: Client) -> None:
    assert client.post("/healthz").status_code == 405


def test_pages_may_load_from_this_server_alone_and_hold_no_inline_code(client: Client) -> None:
    policy = dict(
        part.split(" ", 1) for part in client.get("/nowhere")["Content-Security-Policy"].split("; ")
    )
    assert policy == dict.fromkeys(OURSELVES, "'self'") | dict.fromkeys(NOBODY, "'none'")


def test_browsers_are_told_to_guess_nothing_frame_nothing_and_tell_nobody(client: Client) -> None:
    answer = client.get("/nowhere")
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["X-Frame-Options"] == "DENY"
    assert answer["Referrer-Policy"] == "same-origin"
    assert answer["Cross-Origin-Opener-Policy"] == "same-origin"


def test_style_and_scripts_are_served_without_a_step_of_their_own_and_to_this_server_alone(
    client: Client,
) -> None:
    answer = client.get("/static/admin/css/base.css")
    assert (answer.status_code, answer["Content-Type"]) == (200, 'text/css; charset="utf-8"')
    assert "Access-Control-Allow-Origin" not in answer
    answer.close()


def page_that_says_nothing_of_who_may_see_it(request: HttpRequest) -> HttpResponse:
    return HttpResponse("the month")


urlpatterns = [
    path("month", page_that_says_nothing_of_who_may_see_it),
    path("sign-in", page_that_says_nothing_of_who_may_see_it, name="sign_in"),
]


@pytest.mark.urls(__name__)
def test_a_page_asks_who_is_there_unless_it_says_otherwise(client: Client) -> None:
    answer = client.get("/month")
    assert (answer.status_code, answer["Location"]) == (302, "/sign-in?next=/month")
    client.force_login(User.objects.create_superuser("cleo"))
    assert client.get("/month").content == b"the month"


def test_passwords_are_kept_by_argon2() -> None:
    assert User.objects.create_user("cleo", password="walnut-kettle-ribbon").password.startswith(
        "argon2$argon2id$"
    )
