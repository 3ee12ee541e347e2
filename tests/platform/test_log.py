"""The log is quiet, and what it does say is one line that a machine can read."""

import json
import logging
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from django.test import RequestFactory

from planning.logs import OneLine
from tests.support.effort import thorough

CHECKOUT = Path(__file__).parents[2]


def line(message: str, *values: object, error: Exception | None = None, **extra: object) -> dict[str, Any]:
    """Return the record as it is written, read back."""
    said = (type(error), error, error.__traceback__) if error else None
    logger = logging.getLogger("planning.jobs")
    record = logger.makeRecord(logger.name, logging.WARNING, "jobs.py", 1, message, values, said, extra=extra)
    record.created = 1_000_000_000  # 9 September 2001, 01:46:40 UTC
    text = OneLine().format(record)
    assert "\n" not in text
    read: dict[str, Any] = json.loads(text)
    return read


def test_it_works() -> None:
    assert line("Job %s is late", 7, job=7) == {
        "time": "2001-09-09T01:46:40Z",
        "level": "WARNING",
        "logger": "planning.jobs",
        "message": "Job 7 is late",
        "job": 7,
    }


def test_a_message_cannot_forge_a_second_line() -> None:
    assert line("%s", 'x\n{"level": "ERROR"}')["message"] == 'x\n{"level": "ERROR"}'


def test_a_traceback_stays_on_the_line() -> None:
    try:
        raise ValueError("no such paper")
    except ValueError as error:
        written = line("Job failed", error=error)
    assert written["traceback"].endswith('raise ValueError("no such paper")\nValueError')


def test_what_somebody_searched_for_is_not_written() -> None:
    request = RequestFactory().get("/roster", {"q": "Zofia"})
    assert "Zofia" not in json.dumps(line("Not Found: %s", request.path, request=request, status_code=404))


@thorough
def test_only_warnings_are_written_unless_more_is_asked_for(tmp_path: Path) -> None:
    script = (
        "import django, logging; django.setup()\n"
        "for name in ('planning', 'django.request', 'django.server', 'celery'):\n"
        "    logging.getLogger(name).info('all is well')\n"
        "    logging.getLogger(name).warning('%s is late', name)"
    )
    said = os.environ | {"DJANGO_SETTINGS_MODULE": "planning.settings", "KITS_DATA_DIR": str(tmp_path)}

    def written(**more: str) -> list[str]:
        command = [sys.executable, "-c", script]
        run = subprocess.run(
            command, cwd=CHECKOUT, env=said | more, check=True, capture_output=True, text=True
        )
        assert run.stdout == ""
        return [json.loads(text)["message"] for text in run.stderr.splitlines()]

    late = ["planning is late", "django.request is late", "django.server is late", "celery is late"]
    assert written() == late
    assert written(KITS_LOG_LEVEL="INFO")[1::2] == late
    assert written(KITS_LOG_LEVEL="ERROR") == []
