"""Celery's side of a job: a message carries a row's id, and a message lost or doubled does no harm."""

from typing import Any

from celery.signals import worker_ready

from planning import jobs
from planning.celery import app

EVERY = 10.0  # seconds


@app.task
def work_on(pk: int) -> None:
    """Run the job if it still waits to be run."""
    jobs.work_on(pk, jobs.worker_name())


@app.task(expires=EVERY)
def tend() -> None:
    """Look after the rows whose worker died and those whose message was lost."""
    jobs.tend()


@worker_ready.connect
def _tend_regularly(sender: Any, **_: object) -> None:
    """Let every worker see to it, so that no separate clock has to be kept running; twice does no harm."""
    sender.timer.call_repeatedly(EVERY, tend.delay)
