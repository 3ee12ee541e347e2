"""Whether this server can do its work: its database, its tables, its broker, and whether anybody works on what is asked."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.conf import settings
from django.db import DatabaseError, InterfaceError, connection
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.migrations.exceptions import InconsistentMigrationHistory

from planning.management.database import is_behind
from planning.models import Job, State

ANSWERS = 2  # seconds a broker may take
WAITS = timedelta(
    minutes=5
)  # a job nobody has begun after so long, while nobody works on any other, waits for a worker
QUIET = timedelta(minutes=2)  # a worker that gave no sign of life for so long is dead, and nobody noticed

OK = "ok"


@dataclass(frozen=True, slots=True)
class Check:
    """One thing looked at. said: "ok", or what is the matter, in words that name no server and nobody."""

    name: str
    said: str

    @property
    def is_ok(self) -> bool:
        """Whether there is nothing the matter."""
        return self.said == OK


def look(now: datetime) -> list[Check]:
    """Return what was found; what lies in a database that does not answer is not looked for."""
    database = check_database(connection)
    found = [database, Check("broker", broker(settings.REDIS_URL))]
    return [*found, *tables(now)] if database.is_ok else found


def check_database(database: BaseDatabaseWrapper) -> Check:
    """Ask the database for anything at all."""
    try:
        with database.cursor() as cursor:
            cursor.execute("SELECT 1")
    except (DatabaseError, InterfaceError):
        return Check("database", "does not answer")
    return Check("database", OK)


def tables(now: datetime) -> Iterator[Check]:
    """Look at what lies in the database."""
    try:
        behind = is_behind()
    except InconsistentMigrationHistory:
        behind = True
    yield Check("migrations", "the database is of another version: run manage.py migrate" if behind else OK)
    yield Check("oldest job", "not looked for" if behind else oldest_job(now))


def broker(url: str | None) -> str:
    """Ask the broker; without one, jobs are taken from their rows."""
    if url is None:
        return OK
    from redis import Redis, RedisError

    try:
        with Redis.from_url(url, socket_connect_timeout=ANSWERS, socket_timeout=ANSWERS) as client:
            client.ping()
    except RedisError:
        return "does not answer: jobs wait in their rows"
    return OK


def oldest_job(now: datetime) -> str:
    """Say whether a job waits for a worker, or a worker died and nobody took its job up."""
    running = Job.objects.filter(state=State.RUNNING)
    if running.filter(heartbeat__lt=now - QUIET).exists():
        return "a worker gave no sign of life for minutes: is any worker running?"
    waiting = Job.objects.filter(state=State.QUEUED, created_at__lt=now - WAITS)
    if waiting.exists() and not running.exists():
        return "a job has waited for minutes and nobody works: is any worker running?"
    return OK
