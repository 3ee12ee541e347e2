"""What every answer of the web server carries, and the health check."""

import pytest
from django.conf import settings
from django.test import Client

OURSELVES = {"connect-src", "font-src", "form-action", "img-src", "media-src", "script-src", "style-src"}
NOBODY = {"base-uri", "default-src", "frame-ancestors"}


@pytest.mark.django_db
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


def test_a_page_asks_who_is_there_unless_it_says_otherwise() -> None:
    assert "django.contrib.auth.middleware.LoginRequiredMiddleware" in settings.MIDDLEWARE


@pytest.mark.django_db
def test_passwords_are_kept_by_argon2() -> None:
    from django.contrib.auth.models import User

    assert User.objects.create_user("cleo", password="walnut-kettle-ribbon").password.startswith(
        "argon2$argon2id$"
    )
