"""Whatever is killed in the middle of a run, it goes on by itself: every box is there once and every file whole.

A run is planned on PostgreSQL, Redis and Celery workers, as a club with several hosts has them. Something is killed while
parts are in hand; from the moment that all is there again the run is done within a minute. A run of more boxes than usual
(`manage.py bench faults`) takes longer than that by itself: there the next part is done within a minute.
"""

import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import pytest

from tests.jobs.site import ASK, BOXES, FEW, Site, send, wait_for
from tests.support.effort import in_ci

RECOVERED = (
    60.0  # seconds from when all is there again to the end of the run, on a machine that has its time for it
)
PATIENCE = 300 * max(1, BOXES // FEW)  # for what is not measured here
KEPT = (
    "SELECT * FROM planning_job WHERE id = %s",
    "SELECT * FROM planning_plan WHERE job_id = %s",
    "SELECT b.* FROM planning_box b JOIN planning_plan p ON p.id = b.plan_id WHERE p.job_id = %s ORDER BY serial",
)
AHEAD = (
    "UPDATE planning_jobpart SET heartbeat = heartbeat + interval '1 hour', due = due + interval '1 hour'",
    "UPDATE planning_job SET heartbeat = heartbeat + interval '1 hour', queued_at = queued_at + interval '1 hour'",
)


@dataclass(frozen=True)
class Programs:
    """The servers' programs."""

    postgres: dict[str, str]
    redis: str


@pytest.fixture(scope="module")
def programs(need: Callable[..., str]) -> Programs:
    places = sorted(map(str, Path("/usr/lib/postgresql").glob("*/bin")), reverse=True)
    why = "a run is kept going on real servers"
    found = {name: need(name, why, places) for name in ("postgres", "initdb")}
    return Programs(found, need("redis-server", why))


@pytest.fixture(scope="module")
def site(programs: Programs, ports: Callable[[], int], held: Callable[..., list[str]]) -> Iterator[Site]:
    """Return the servers with a month to plan."""
    # Not under pytest's own folder, which nobody but its owner may enter: PostgreSQL is another user.
    with tempfile.TemporaryDirectory(prefix="kits-site-") as name:
        Path(name).chmod(0o755)
        site = Site(Path(name), (ports(), ports(), ports()), held)
        try:
            site.start_postgres(programs.postgres)
            site.start_redis(programs.redis)
            site.manage("migrate", "-v0")
            yield site
        finally:
            site.end()


@pytest.fixture(autouse=True)
def told(site: Site, record_property: Callable[[str, object], None]) -> Iterator[None]:
    """Tell the report of this run how soon work went on."""
    site.resumed = 0.0
    yield
    record_property("resumed", site.resumed)


@pytest.fixture
def job(site: Site) -> Iterator[int]:
    """Return a run with two workers in the middle of it."""
    site.start_worker()
    job = site.ask()
    until_parts_are_done(site, job, 4)
    yield job
    for name in [name for name in site.running if name not in ("postgres", "redis")]:
        site.kill(name)
    site.query(
        "UPDATE planning_job SET state = 'cancelled', ended_at = now() WHERE state IN ('queued', 'running')"
    )


def until_parts_are_done(site: Site, job: int, parts: int) -> None:
    wait_for(lambda: site.parts_done(job) >= parts, PATIENCE, lambda: site.state(job))


def in_time() -> float:
    """Return how many seconds are a minute of this machine's time, where others share its processors: other tests, say."""
    tests = float(os.environ.get("PYTEST_XDIST_WORKER_COUNT", "1"))
    return RECOVERED * max(tests, os.getloadavg()[0] / (os.cpu_count() or 1))


def is_done_whole(site: Site, job: int) -> None:
    """See the run go on in time, and to its end with all there is to be."""

    def is_done() -> bool:
        return site.state(job)[0] == "done"

    done = site.parts_done(job)
    site.resumed = wait_for(
        lambda: site.parts_done(job) > done or is_done(), in_time(), lambda: site.state(job)
    )
    wait_for(is_done, in_time() if BOXES == FEW else PATIENCE, lambda: site.state(job))
    assert site.faults(job) == []


def test_a_worker_that_is_killed(site: Site, job: int) -> None:
    """The process that has a part in hand is killed, and the worker's other one goes on."""

    def in_hand() -> list[tuple[object, ...]]:
        return site.query("SELECT owner FROM planning_jobpart WHERE job_id = %s AND state = 'taken'", job)

    wait_for(lambda: bool(in_hand()), PATIENCE)
    for (owner,) in in_hand()[:1]:
        send(int(str(owner).split()[1]), signal.SIGKILL)
    is_done_whole(site, job)


@in_ci
def test_all_workers_killed(site: Site, job: int) -> None:
    site.kill("worker")
    time.sleep(2)
    site.start_worker()
    is_done_whole(site, job)


@in_ci
@pytest.mark.parametrize("keep", [True, False], ids=["with its data", "without its data"])
def test_redis_killed(site: Site, job: int, programs: Programs, keep: bool) -> None:
    site.kill("redis")
    time.sleep(2)
    site.start_redis(programs.redis, keep=keep)
    is_done_whole(site, job)


@in_ci
def test_postgresql_killed(site: Site, job: int, programs: Programs) -> None:
    site.kill("postgres")
    time.sleep(2)
    site.start_postgres(programs.postgres)
    is_done_whole(site, job)


@in_ci
def test_the_web_server_killed(site: Site, job: int) -> None:
    site.start_web()
    site.kill("web")
    site.start_web()
    is_done_whole(site, job)


@in_ci
def test_a_full_disk(site: Site) -> None:
    """Papers go to a disk of 40 MB that something else has filled; once that is gone the run goes on by itself."""
    disk = site.folder / "data" / "artefacts"
    disk.mkdir(parents=True, exist_ok=True)
    mount = ["mount", "-t", "tmpfs", "-o", "size=40m", "tmpfs", str(disk)]
    if subprocess.run(mount, check=False, capture_output=True).returncode:
        pytest.skip("no small disk can be mounted here: that asks for root's rights")
    filler = disk / "filler"
    try:
        filler.write_bytes(bytes((shutil.disk_usage(disk).free // 4096 - 40) * 4096))
        site.start_worker()
        job = site.ask()
        wait_for(lambda: "disk is full" in str(site.state(job)[1]), PATIENCE, lambda: site.state(job))
        assert site.state(job)[0] == "running"
        filler.unlink()
        is_done_whole(site, job)
    finally:
        site.kill("worker")
        subprocess.run(["umount", "--lazy", str(disk)], check=True)


@in_ci
def test_every_task_running_many_times_at_once(site: Site, job: int) -> None:
    site.start_worker("second")
    many = f"from planning.tasks import work_on\nfor _ in range(60): work_on.delay({job})"
    site.manage("shell", "-v0", "-c", many)
    is_done_whole(site, job)
    before = [site.query(rows, job) for rows in KEPT]
    site.manage("shell", "-v0", "-c", many)
    time.sleep(5)
    assert [site.query(rows, job) for rows in KEPT] == before


@in_ci
def test_the_clock_stepping_back(site: Site, job: int) -> None:
    """A worker is killed and the clock is set back an hour: every time that was written is an hour ahead of it then."""
    site.kill("worker")
    for times in AHEAD:
        site.query(times)
    site.start_worker()
    is_done_whole(site, job)


@in_ci
def test_a_deploy_in_the_middle(site: Site, job: int) -> None:
    """Workers are told to end, finish what they have in hand, and others start after the database was brought up to date."""
    site.kill("worker", signal.SIGTERM)
    site.manage("migrate", "-v0")
    site.start_worker("new")
    is_done_whole(site, job)


@in_ci
def test_a_plan_that_a_new_version_cannot_read_is_made_again(site: Site, job: int) -> None:
    site.kill("worker", signal.SIGTERM)
    site.query('UPDATE planning_plan SET answers = \'{"of": "another version"}\' WHERE job_id = %s', job)
    site.start_worker("new")
    is_done_whole(site, job)


# --- On one machine, with nothing installed ---

BRING = "import hashlib; from django.conf import settings; from planning.models import *"
DONE = "JobPart.objects.filter(state='done').count()"
WHOLE = """all(
    hashlib.sha256((settings.ARTEFACTS_DIR / paper.path).read_bytes()).hexdigest() == paper.sha256
    for paper in Artefact.objects.all()
)"""


@in_ci
def test_the_embedded_worker_killed(tmp_path: Path, held: Callable[..., list[str]]) -> None:
    said = {"KITS_DATA_DIR": str(tmp_path / "data")}
    unset = {name: value for name, value in os.environ.items() if name not in ("DATABASE_URL", "REDIS_URL")}

    def manage(*words: str) -> str:
        command = [sys.executable, "manage.py", *words]
        return subprocess.run(command, env=unset | said, check=True, stdout=subprocess.PIPE, text=True).stdout

    def work() -> subprocess.Popen[bytes]:
        words = [*held(signal.SIGKILL), sys.executable, "manage.py", "work"]
        return subprocess.Popen(words, env=unset | said, stdin=subprocess.DEVNULL)

    def look(what: str) -> str:
        return manage("shell", "-v0", "-c", f"{BRING}; print({what})").strip()

    def reached(parts: int) -> bool:
        return int(look(DONE)) >= parts

    manage("migrate", "-v0")
    manage("shell", "-v0", "-c", ASK.format(boxes=BOXES))
    for parts in (1, 4, 10):
        worker = work()
        wait_for(partial(reached, parts), PATIENCE)
        send(worker.pid, signal.SIGKILL)
        worker.wait()
    worker = work()
    try:
        wait_for(lambda: look("Job.objects.get().state") == "done", in_time() if BOXES == FEW else PATIENCE)
    finally:
        send(worker.pid, signal.SIGKILL)
        worker.wait()
    listed = look("Box.objects.count(), Box.objects.values('serial').distinct().count()")
    assert listed == f"{BOXES} {BOXES}"
    assert look(WHOLE) == "True"
