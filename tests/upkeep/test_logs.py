"""No line of the log names anybody of the roster or says where they live; each says which job it is about."""

import json
import logging
from collections.abc import Iterator
from dataclasses import replace
from io import StringIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import IntegrityError, connection
from django.test import Client
from psycopg.errors import UniqueViolation

from kits.models import Month
from planning import jobs, save
from planning.logs import OneLine, about
from planning.models import Job, State, Subscriber
from planning.monthfile import month_to_workbook
from planning.server import Log
from tests.web.small_month import SMALL_MONTH

PEOPLE = tuple(
    replace(
        one, name=f"Zofia{n} Dvořák", address_1=f"{n} Quince Yard", city="Nettlecombe", postcode=f"QX{n}9 7ZZ"
    )
    for n, one in enumerate(SMALL_MONTH.subscribers)
)
ROSTER = replace(SMALL_MONTH, subscribers=PEOPLE)
PRIVATE = ("Zofia", "Dvořák", "Dvo\\u0159", "Quince", "Nettlecombe", "QX")


class Written(StringIO):
    """The log as it is written."""

    @property
    def lines(self) -> list[dict[str, object]]:
        return [json.loads(line) for line in self.getvalue().splitlines()]


@pytest.fixture
def log() -> Iterator[Written]:
    """Every record of every logger, as the program writes it; afterwards it names nobody."""
    written, root = Written(), logging.getLogger()
    handler, before = logging.StreamHandler(written), root.level
    handler.setFormatter(OneLine())
    root.addHandler(handler)
    root.setLevel(logging.DEBUG)
    yield written
    root.removeHandler(handler)
    root.setLevel(before)
    for private in PRIVATE:
        assert private not in written.getvalue()


@pytest.fixture
def month(db: None) -> Month:
    return save.month(ROSTER)


def test_a_month_that_is_uploaded_planned_and_looked_at(admin_client: Client, log: Written) -> None:
    file = SimpleUploadedFile("Zofia.xlsx", month_to_workbook(ROSTER))
    assert admin_client.post("/upload", {"file": file}).status_code == 302
    month = Month.objects.get()
    jobs.work_on(jobs.enqueue("plan", month).pk, "tests")
    job = Job.objects.get()
    assert job.state == State.DONE
    parts = [line for line in log.lines if line["logger"] == "planning.jobs.work"]
    assert {line["message"] for line in parts} == {"a part is done"}
    assert {line["job"] for line in parts} == {job.pk}
    for path in ("", "roster", "roster?q=Zofia", "shipping", "documents", "export", "nowhere?q=Quince"):
        admin_client.get(f"/months/{month.pk}/{path}")
    admin_client.post(f"/months/{month.pk}/roster", {"q": "Quince"})


def test_a_file_that_is_refused(admin_client: Client, log: Written) -> None:
    twice = replace(ROSTER, subscribers=(*PEOPLE, PEOPLE[0]))
    answer = admin_client.post("/upload", {"file": SimpleUploadedFile("x.xlsx", month_to_workbook(twice))})
    assert "already" in answer.content.decode()


def test_an_error_of_the_database_that_quotes_a_row(month: Month, log: Written) -> None:
    person = Subscriber.objects.first()
    assert person is not None
    try:
        Subscriber.objects.create(month=month, position=person.position, reference=person.reference)
    except IntegrityError:
        logging.getLogger("planning").exception("a job failed")
    words = f"duplicate key value\nDETAIL:  Key (name)=({person.name}) already exists."
    try:
        try:
            raise UniqueViolation(words)
        except UniqueViolation as cause:
            raise IntegrityError(words) from cause
    except IntegrityError as error:
        logging.getLogger("celery.app.trace").exception("Task raised unexpected: %r, %s", error, error)
    assert [line["message"] for line in log.lines[-2:]] == [
        "a job failed",
        "Task raised unexpected: IntegrityError, IntegrityError",
    ]
    # The kind of error and where it was raised are kept, and the number that the database gives it.
    traceback = str(log.lines[-1]["traceback"])
    assert "UniqueViolation 23505\nwhich led to\n" in traceback
    assert traceback.endswith("IntegrityError")
    assert "test_an_error_of_the_database_that_quotes_a_row" in traceback


def test_what_the_web_server_could_not_answer(log: Written) -> None:
    from gunicorn.config import Config

    server = Log(Config())
    for handler in server.error_log.handlers:
        handler.setStream(log)
    words = PEOPLE[0].name
    try:
        raise ValueError(words)
    except ValueError:
        server.exception("Error handling request %s", "/roster?q=Zofia")
    assert log.lines[-1]["message"] == "Error handling request"


def test_statements_with_what_people_typed_are_not_written(month: Month, log: Written) -> None:
    connection.force_debug_cursor = True
    try:
        assert Subscriber.objects.filter(name=PEOPLE[0].name).exists()
    finally:
        connection.force_debug_cursor = False
    assert not [line for line in log.lines if line["logger"] == "django.db.backends"]


def test_every_line_says_which_job_it_is_about(log: Written) -> None:
    other = logging.getLogger("some.library")
    with about(job=7):
        other.warning("slow")
        with about(part=3):
            other.warning("slower")
    other.warning("done")
    assert [(line.get("job"), line.get("part")) for line in log.lines] == [(7, None), (7, 3), (None, None)]
