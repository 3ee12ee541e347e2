"""Celery's side of a job: a message carries a row's id, and a message lost or doubled does no harm."""

import logging
from threading import Thread
from time import sleep
from typing import Any

from celery.signals import worker_ready
from django.db import DatabaseError, InterfaceError, connection

from planning import jobs
from planning.celery import app

log = logging.getLogger(__name__)


@app.task
def work_on(pk: int) -> None:
    """Do one part of the job, if one waits. The worker that does it wakes others for what can be done next."""
    jobs.work_on_one(jobs.worker_name(), pk)


@worker_ready.connect
def _tend_regularly(sender: Any, **_: object) -> None:
    """Let every worker look after the rows, past any broker, so that work goes on whatever messages are lost."""
    Thread(target=_keep_tending, args=(sender.controller.concurrency,), daemon=True).start()


def _keep_tending(workers: int) -> None:
    while True:
        try:
            jobs.tend(workers)
        except (DatabaseError, InterfaceError):  # it may come back
            log.exception("the database does not answer")
        except Exception:  # nobody else would look after the rows
            log.exception("looking after the jobs failed")
        connection.close()
        sleep(jobs.TEND)
