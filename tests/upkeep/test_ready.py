"""Is this server ready: what is looked at, and what is said when something is the matter."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest
from django.db import connection
from django.db.backends.postgresql.base import DatabaseWrapper
from django.test import Client
from pytest_django.fixtures import Settings

from planning import save
from planning.models import Job, State
from planning.upkeep.ready import broker, check_database, oldest_job
from tests.web.small_month import SMALL_MONTH

pytestmark = pytest.mark.django_db

NOW = datetime(2027, 3, 1, 9, tzinfo=UTC)
ALL_WELL = dict.fromkeys(("database", "broker", "migrations", "oldest job"), "ok")


def test_it_works(client: Client) -> None:
    answer = client.get("/readyz")
    assert (answer.status_code, answer.json()) == (200, {"ready": True, "checks": ALL_WELL})
    assert "no-store" in answer["Cache-Control"]


def test_a_database_of_another_version_is_not_ready_and_its_rows_are_left_alone(client: Client) -> None:
    with connection.cursor() as cursor:
        cursor.execute("DELETE FROM django_migrations WHERE app = 'planning'")
    answer = client.get("/readyz")
    assert answer.status_code == 503
    assert answer.json()["checks"] == ALL_WELL | {
        "migrations": "the database is of another version: run manage.py migrate",
        "oldest job": "not looked for",
    }


def test_a_database_that_is_gone_does_not_answer(free_port: int) -> None:
    told = connection.settings_dict | {"HOST": "127.0.0.1", "PORT": free_port, "NAME": "kits", "OPTIONS": {}}
    assert check_database(DatabaseWrapper(told, "gone")).said == "does not answer"


def test_a_broker_that_is_gone_does_not_answer(client: Client, settings: Settings, free_port: int) -> None:
    settings.REDIS_URL = f"redis://127.0.0.1:{free_port}/0"
    answer = client.get("/readyz")
    assert (answer.status_code, answer.json()["ready"]) == (503, False)
    assert answer.json()["checks"]["broker"] == "does not answer: jobs wait in their rows"


def test_a_broker_that_answers_is_well(redis_server: str) -> None:
    assert broker(redis_server) == "ok"


@pytest.fixture
def job() -> Callable[..., Job]:
    """Return job(**columns): a job of the small month."""
    month = save.month(SMALL_MONTH)

    def make(**columns: object) -> Job:
        return Job.objects.create(kind="plan", month=month, **columns)

    return make


@pytest.mark.parametrize(
    ("asked", "quiet", "said"),
    [
        (4, None, "ok"),  # somebody may come yet
        (6, None, "a job has waited for minutes and nobody works: is any worker running?"),
        (60, 1, "ok"),  # it waits for its turn
        (60, 3, "a worker gave no sign of life for minutes: is any worker running?"),
    ],
)
def test_a_job_may_wait_for_its_turn_but_not_for_a_worker(
    job: Callable[..., Job], asked: int, quiet: int | None, said: str
) -> None:
    """asked: minutes since a job was asked for that waits; quiet: minutes since the worker of another gave a sign."""
    job(key="waits", created_at=NOW - timedelta(minutes=asked))
    if quiet is not None:
        job(key="runs", state=State.RUNNING, heartbeat=NOW - timedelta(minutes=quiet))
    assert oldest_job(NOW) == said
