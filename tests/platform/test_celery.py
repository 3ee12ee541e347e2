"""The worker's application: what it promises about a task, and a real worker on a real Redis."""

import os
import subprocess
import sys
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

from planning.celery import app
from tests.support.effort import thorough

CHECKOUT = Path(__file__).parents[2]


def test_a_task_is_done_only_when_it_has_ended_and_comes_back_when_its_worker_dies() -> None:
    assert app.conf.task_acks_late
    assert app.conf.task_reject_on_worker_lost
    assert app.conf.worker_prefetch_multiplier == 1


def test_messages_are_json_in_utc_and_leave_no_result() -> None:
    assert (app.conf.accept_content, app.conf.task_serializer) == (["json"], "json")
    assert (app.conf.timezone, app.conf.enable_utc) == ("UTC", True)
    assert (app.conf.result_backend, app.conf.task_ignore_result) == (None, True)


def test_importing_the_application_reads_no_setting() -> None:
    nonsense = os.environ | {"DEBUG": "maybe"}
    subprocess.run([sys.executable, "-c", "import planning.celery"], cwd=CHECKOUT, env=nonsense, check=True)


@thorough
def test_a_worker_on_redis_answers_and_stops_when_told(
    redis_server: str,
    tmp_path: Path,
    alongside: Callable[..., AbstractContextManager[subprocess.Popen[bytes]]],
) -> None:
    celery = [sys.executable, "-m", "celery", "-A", "planning.celery"]

    def answers() -> bool:
        ping = [*celery, "inspect", "ping", "--timeout=2"]
        said = os.environ | {"REDIS_URL": redis_server}
        return subprocess.run(ping, cwd=CHECKOUT, env=said, check=False, capture_output=True).returncode == 0

    with alongside([*celery, "worker", "--concurrency=1"], answers, REDIS_URL=redis_server) as worker:
        pass
    assert worker.returncode == 0
    assert "Traceback" not in (tmp_path / "server.log").read_text()


IN_ONE_PROCESS = """
import django, threading
django.setup()
from django.core.management import call_command
from planning.celery import app
call_command("migrate", verbosity=0)  # the worker looks after the rows as soon as it is ready
took = threading.Event()
app.task(took.set, name="take")
worker = app.Worker(pool="solo", quiet=True, without_gossip=True, without_mingle=True, without_heartbeat=True)
thread = threading.Thread(target=worker.start)
thread.start()
app.send_task("take")
print(took.wait(20))
worker.stop()
thread.join()
"""


@thorough
def test_without_redis_a_worker_in_the_same_process_takes_the_task(tmp_path: Path) -> None:
    said = {
        "KITS_DATA_DIR": str(tmp_path),
        "DJANGO_SETTINGS_MODULE": "planning.settings",
        "KITS_LOG_LEVEL": "WARNING",
    }
    command = [sys.executable, "-c", IN_ONE_PROCESS]
    run = subprocess.run(
        command, cwd=CHECKOUT, env=os.environ | said, check=True, capture_output=True, text=True, timeout=60
    )
    assert run.stdout.splitlines()[-1] == "True"
    assert '"level"' not in run.stderr  # nothing to log about it
