"""What the job rows tell a monitoring system.

The format is Prometheus's text-based exposition format 0.0.4 (its documentation, "Exposition formats"): HELP and TYPE once
for each metric and before its samples, a metric's lines together, names of letters, digits and underscores, label values
with backslash, quotation mark and line feed escaped, numbers as Go reads them, and a line feed at the very end.
"""

import re
from datetime import UTC, datetime, timedelta
from itertools import groupby

import pytest
from django.test import Client
from hypothesis import given
from hypothesis import strategies as st
from pytest_django.fixtures import Settings

from kits.models import Month
from planning import save
from planning.models import Job, State
from planning.upkeep.metrics import Metric, exposed, metrics, quantile_of
from tests.web.small_month import SMALL_MONTH

NOW = datetime(2027, 3, 1, 9, tzinfo=UTC)
KEY = "walnut-kettle-ribbon-lamp"
NAME = r"[a-zA-Z_][a-zA-Z0-9_]*"
LABEL = rf'{NAME}="(?:[^"\\\n]|\\\\|\\"|\\n)*"'
SAMPLE = re.compile(rf"({NAME})(?:\{{({LABEL}(?:,{LABEL})*)\}})? (-?\d+(?:\.\d+)?(?:e[+-]\d+)?)")
ESCAPES = {"\\\\": "\\", '\\"': '"', "\\n": "\n"}

Found = dict[tuple[str, frozenset[tuple[str, str]]], float]


def read(text: str) -> Found:
    """Return every sample, once it is sure that the text keeps the format's rules."""
    assert text.endswith("\n")
    *lines, last = text.split("\n")
    assert last == ""
    found: Found = {}
    names = [line.split()[2] if line.startswith("#") else SAMPLE.fullmatch(line)[1] for line in lines]  # type: ignore[index]
    assert len({name for name, _ in groupby(names)}) == len(list(groupby(names))), (
        "a metric's lines lie apart"
    )
    for name, group in groupby(zip(names, lines, strict=True), key=lambda each: each[0]):
        helps, kind, *samples = (line for _, line in group)
        assert helps.startswith(f"# HELP {name} ")
        assert kind == f"# TYPE {name} gauge"
        for line in samples:
            match = SAMPLE.fullmatch(line)
            assert match, line
            labels = re.findall(rf"({NAME})=\"((?:[^\"\\]|\\.)*)\"", match[2] or "")
            key = (
                name,
                frozenset(
                    (each, re.sub(r"\\.", lambda one: ESCAPES[one[0]], value)) for each, value in labels
                ),
            )
            assert key not in found, "a sample stands twice"
            found[key] = float(match[3])
    return found


def sample(found: Found, name: str, **labels: str) -> float | None:
    return found.get((name, frozenset(labels.items())))


@pytest.fixture
def month(db: None) -> Month:
    return save.month(SMALL_MONTH)


def ended(month: Month, key: str, seconds: float, ago: timedelta = timedelta(hours=1)) -> None:
    at = NOW - ago
    times = {"started_at": at - timedelta(seconds=seconds), "ended_at": at}
    Job.objects.create(key=key, kind="plan", month=month, state=State.DONE, **times)


def test_it_works(month: Month) -> None:
    waits = {"state": State.QUEUED, "created_at": NOW - timedelta(seconds=90)}
    runs = {"state": State.RUNNING, "heartbeat": NOW - timedelta(seconds=4)}
    for key, columns in (("1", waits), ("2", waits | {"created_at": NOW}), ("3", runs)):
        Job.objects.create(key=key, kind="plan", month=month, **columns)
    for key, seconds in (("4", 1.5), ("5", 40), ("6", 3)):
        ended(month, key, seconds)
    ended(month, "7", 999, ago=timedelta(hours=25))  # is counted, but is not of the last day

    found = read(metrics(NOW))

    counts = {state: sample(found, "kits_jobs", kind="plan", state=state) for state in State}
    assert counts == {"queued": 2, "running": 1, "done": 4, "failed": 0, "cancelled": 0}
    assert sample(found, "kits_job_queue_age_seconds") == 90
    assert sample(found, "kits_job_heartbeat_age_seconds") == 4
    took = {
        each: sample(found, "kits_job_duration_seconds", kind="plan", state="done", quantile=each)
        for each in ("0.5", "0.9", "1")
    }
    assert took == {"0.5": 3, "0.9": 40, "1": 40}
    assert sample(found, "kits_jobs_ended", kind="plan", state="done") == 3


def test_without_any_job_nothing_waits(db: None) -> None:
    found = read(metrics(NOW))
    assert sample(found, "kits_jobs", kind="plan", state="queued") == 0
    assert sample(found, "kits_job_queue_age_seconds") == 0


def test_a_clock_that_stepped_back_makes_nothing_negative(month: Month) -> None:
    Job.objects.create(key="1", kind="plan", month=month, created_at=NOW + timedelta(hours=1))
    ended(month, "2", seconds=-5)
    assert min(read(metrics(NOW)).values()) == 0


def test_a_quantile_is_one_of_the_times() -> None:
    # Nearest rank: of ten, the median is the fifth and nine tenths the ninth.
    times = [float(number) for number in range(10, 0, -1)]
    assert [quantile_of(times, q) for q in (0.5, 0.9, 1)] == [5, 9, 10]


@given(st.text(), st.floats(0, 1e12))
def test_whatever_a_label_says_the_text_can_be_read(kind: str, value: float) -> None:
    found = read(exposed([Metric("kits_jobs", "Jobs.", [({"kind": kind}, value)])]))
    assert sample(found, "kits_jobs", kind=kind) == pytest.approx(value)


# --- Who sees them ---


def test_whoever_shows_the_key_sees_them(db: None, client: Client, settings: Settings) -> None:
    settings.METRICS_KEY = KEY
    answer = client.get("/metrics", headers={"Authorization": f"Bearer {KEY}"})
    assert (answer.status_code, answer["Content-Type"]) == (200, "text/plain; version=0.0.4; charset=utf-8")
    assert read(answer.content.decode())


@pytest.mark.parametrize("key", [None, KEY])
@pytest.mark.parametrize("shown", ["", "Bearer ", "Bearer None", f"Bearer {KEY}x", KEY])
def test_nobody_else_does(db: None, client: Client, settings: Settings, key: str | None, shown: str) -> None:
    settings.METRICS_KEY = key
    answer = client.get("/metrics", headers={"Authorization": shown})
    assert (answer.status_code, answer["WWW-Authenticate"]) == (401, "Bearer")
    assert b"kits_" not in answer.content


def test_people_who_are_signed_in_see_them(admin_client: Client) -> None:
    assert admin_client.get("/metrics").status_code == 200


def test_they_name_nobody(month: Month, client: Client, settings: Settings) -> None:
    Job.objects.create(key="1", kind="plan", month=month, error="Zofia lives nowhere", owner="host 7")
    text = metrics(NOW)
    assert "Zofia" not in text
    assert month.name not in text
