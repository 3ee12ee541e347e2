"""The same jobs on a real Celery worker, a real Redis and a real PostgreSQL."""

import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from pathlib import Path

import psycopg
import pytest
from redis import Redis

from tests.support.effort import in_ci

CHECKOUT = Path(__file__).parents[2]
CELERY = [sys.executable, "-m", "celery", "-A", "planning.celery"]
ASK = """
from kits.models import Month
from planning import jobs, save
from tests.web.small_month import SMALL_MONTH
month = Month.objects.first() or save.month(SMALL_MONTH)
print(jobs.enqueue("plan", month).pk)
"""


class Many:
    """A program spread over many processes, as its environment makes it."""

    def __init__(self, database: str, redis: str, data: Path) -> None:
        self.database = database
        self.redis = redis
        self.said = {"DATABASE_URL": database, "REDIS_URL": redis, "KITS_DATA_DIR": str(data)}

    def manage(self, *words: str) -> str:
        """Return what a command prints."""
        command = [sys.executable, "manage.py", *words]
        run = subprocess.run(
            command, cwd=CHECKOUT, env=os.environ | self.said, check=True, capture_output=True, text=True
        )
        return run.stdout

    def ask(self) -> int:
        """Ask for the small month to be planned; return the job's number."""
        return int(self.manage("shell", "-v0", "-c", ASK))

    def query(self, sql: str, *values: object) -> list[tuple[object, ...]]:
        """Ask the database itself."""
        with psycopg.connect(self.database, autocommit=True) as connection:
            cursor = connection.execute(sql, values)
            return cursor.fetchall() if cursor.description else []

    def until_done(self, job: int, seconds: float = 60) -> None:
        """Wait for a job to be done."""
        latest = time.monotonic() + seconds
        while (state := self.query("SELECT state, error FROM planning_job WHERE id = %s", job)[0])[
            0
        ] != "done":
            assert time.monotonic() < latest, state
            time.sleep(0.2)


@pytest.fixture
def many(
    postgres_database: str,
    redis_server: str,
    tmp_path: Path,
    alongside: Callable[..., AbstractContextManager[subprocess.Popen[bytes]]],
) -> Iterator[Many]:
    """Return the program with one worker at work."""
    many = Many(postgres_database, redis_server, tmp_path / "data")
    Redis.from_url(redis_server).flushall()
    many.manage("migrate", "-v0")

    # Nobody waits until it answers: what is asked of it meanwhile lies in the queue.
    with alongside([*CELERY, "worker", "--concurrency=1"], lambda: True, **many.said):
        yield many


def test_a_job_is_done_once_however_often_its_message_comes(many: Many, tmp_path: Path) -> None:
    job = many.ask()
    many.until_done(job)
    papers = many.query("SELECT path, size FROM planning_artefact")
    assert papers
    assert all((tmp_path / "data" / "artefacts" / str(path)).stat().st_size == size for path, size in papers)
    before = many.query("SELECT * FROM planning_job"), many.query("SELECT * FROM planning_plan")
    twice = f"from planning.tasks import work_on; work_on.delay({job}); work_on.delay({job})"
    second = int(many.manage("shell", "-v0", "-c", twice + ASK))  # comes after those two in the queue
    many.until_done(second)
    assert (
        many.query("SELECT * FROM planning_job WHERE id = %s", job),
        many.query("SELECT * FROM planning_plan WHERE job_id = %s", job),
    ) == before
    assert many.query("SELECT version FROM planning_plan ORDER BY version") == [(1,), (2,)]


DEAD_BEFORE_ITS_FIRST_WORD = f"""
from datetime import timedelta
from django.conf import settings
from django.db.models.functions import Now
from django.db.transaction import atomic
from planning.models import Job, JobPart
settings.REDIS_URL = None  # no message is sent
with atomic():
    {ASK.strip().replace(chr(10), chr(10) + "    ")}
    Job.objects.filter(state="queued").update(state="running", owner="dead")
    JobPart.objects.filter(job__state="running").update(
        state="taken", owner="dead", attempt=1, heartbeat=Now() - timedelta(minutes=5)
    )
"""


@in_ci
def test_a_job_whose_message_was_lost_and_one_whose_worker_died_are_taken_up(many: Many) -> None:
    unsent = f"from django.conf import settings; settings.REDIS_URL = None\n{ASK}"
    lost = int(many.manage("shell", "-v0", "-c", unsent))
    many.until_done(lost)
    left = int(many.manage("shell", "-v0", "-c", DEAD_BEFORE_ITS_FIRST_WORD))
    many.until_done(left)
    assert many.query("SELECT attempt, owner <> 'dead' FROM planning_job WHERE id = %s", left) == [(2, True)]
    assert many.query("SELECT version FROM planning_plan ORDER BY version") == [(1,), (2,)]
