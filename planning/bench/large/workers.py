"""A whole run by two workers, of which both are killed on the way: how fast, in how much memory, and what is left of it."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from hashlib import sha256

from django.conf import settings
from django.db import connection

from planning import jobs
from planning.bench.rates import within
from planning.bench.row import Row
from planning.demo import demo_month
from planning.models import LIVE, Box, Job, JobPart, PartState, Plan, State
from planning.save import month as save_month

WORKERS = 2
MOST_MEMORY, LATEST = 400, 60  # MiB, seconds
KILLED_AT = 0.3  # of the parts of the stage that writes papers
LOOK = 0.1


@dataclass
class Workers:
    """Worker processes. peak: the most memory any that has ended ever held, in MiB."""

    where: Mapping[str, str]
    running: list[subprocess.Popen[bytes]] = field(default_factory=list)
    peak: int = 0

    def start(self) -> None:
        """Start so many as there should be."""
        words = [sys.executable, str(settings.BASE_DIR / "manage.py"), "work"]
        self.running = [
            subprocess.Popen(words, env=dict(self.where), stderr=subprocess.DEVNULL)  # noqa: S603 - our own command
            for _ in range(WORKERS)
        ]

    def end(self, how: signal.Signals) -> None:
        """End them, and note what they needed."""
        for worker in self.running:
            with suppress(ProcessLookupError):
                os.kill(worker.pid, how)
            _, status, usage = os.wait4(worker.pid, 0)
            worker.returncode = os.waitstatus_to_exitcode(status)
            self.peak = max(self.peak, usage.ru_maxrss // 1024)
        self.running = []


def worker_rows(where: Mapping[str, str], boxes: int) -> Iterator[Row]:
    """Yield a row for the run, its memory, and how it went on after both workers were killed."""
    book = demo_month(boxes)
    month = save_month(replace(book, club=replace(book.club, code="PRINTED")))
    del book
    workers = Workers(where)
    job = jobs.enqueue("plan", month)
    begun = time.perf_counter()
    workers.start()
    try:
        until(job, lambda: writing_papers(job) >= KILLED_AT)
        workers.end(signal.SIGKILL)
        done, killed = parts_done(job), time.perf_counter()
        workers.start()
        until(job, lambda: parts_done(job) > done or not is_live(job))
        resumed = time.perf_counter() - killed
        until(job, lambda: not is_live(job))
        seconds = time.perf_counter() - begun
    finally:
        workers.end(signal.SIGTERM)
    said = f"planned, listed, slips and lists of every wave, by {WORKERS} workers{amiss(job, boxes)}"
    yield Row(f"Whole run of {boxes:,} boxes, boxes/s", None, int(boxes / seconds), None, said, seconds)
    said = f"{within(workers.peak, MOST_MEMORY)} MiB, the most any worker held"
    yield Row("Memory of a worker, MiB", None, workers.peak, None, said, seconds)
    said = f"{within(resumed, LATEST)} s after both workers were killed the next part was done"
    yield Row("Killed workers, s to go on", None, int(resumed), None, said, resumed)


def until(job: Job, over: Callable[[], bool]) -> None:
    """Wait. Raises ValueError where the job ends otherwise than well."""
    while not over():
        state = Job.objects.get(pk=job.pk)
        if state.state not in (*LIVE, State.DONE):
            raise ValueError(f"the job ended {state.state}: {state.error}")
        connection.close()  # SQLite: see what others have written
        time.sleep(LOOK)


def is_live(job: Job) -> bool:
    """Tell whether the job has not ended."""
    return Job.objects.get(pk=job.pk).is_live


def writing_papers(job: Job) -> float:
    """Return how large a share of the papers is written."""
    now = Job.objects.get(pk=job.pk)
    stage = [stage.name for stage in jobs.KINDS["plan"]].index("papers")
    if now.stage_number != stage:
        return float(now.stage_number > stage)
    return now.done / max(1, now.total)


def parts_done(job: Job) -> int:
    """Count the parts that are done."""
    return JobPart.objects.filter(job=job, state=PartState.DONE).count()


def amiss(job: Job, boxes: int) -> str:
    """Say what is wrong with boxes and papers: each box once, each file whole."""
    plan = Plan.objects.get(job=job)
    listed = Box.objects.filter(plan=plan)
    said = []
    if (listed.count(), listed.values("serial").distinct().count()) != (boxes, boxes):
        said.append(f"{listed.count():,} boxes listed")
    for paper in plan.papers.all():
        with (settings.ARTEFACTS_DIR / paper.path).open("rb") as file:
            whole = sha256()
            while piece := file.read(2**20):
                whole.update(piece)
        if whole.hexdigest() != paper.sha256:
            said.append(f"{paper.name} is not whole")
    return "".join(f"; FAULT: {one}" for one in said)
