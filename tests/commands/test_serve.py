"""`manage.py serve`: app and worker in one, from nothing; Ctrl-C ends both."""

import os
import re
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

from tests.support.effort import thorough

MANAGE = Path(__file__).parents[2] / "manage.py"
Alongside = Callable[..., AbstractContextManager[subprocess.Popen[bytes]]]
Manage = Callable[..., subprocess.CompletedProcess[str]]


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def answers(port: int) -> bool:
    try:
        with urlopen(f"http://127.0.0.1:{port}/healthz", timeout=2) as answer:
            return bool(answer.status == 200)
    except (URLError, OSError):
        return False


def children(pid: int) -> dict[int, str]:
    """Return the processes a process started, with what they run."""
    found = {}
    for name in (path.name for path in Path("/proc").iterdir()):
        try:
            status = Path("/proc", name, "status").read_text()
            words = Path("/proc", name, "cmdline").read_bytes().replace(b"\0", b" ").decode()
        except (OSError, ValueError):
            continue
        if name.isdigit() and re.search(rf"^PPid:\s+{pid}$", status, re.MULTILINE):
            found[int(name)] = words
    return found


def worker_of(pid: int) -> int:
    """Return the worker a server started, waiting for it."""
    latest = time.monotonic() + 30
    while time.monotonic() < latest:
        for child, words in children(pid).items():
            if " work " in words:
                return child
        time.sleep(0.1)
    raise AssertionError("no worker was started")


def gone(pid: int) -> bool:
    latest = time.monotonic() + 60
    while time.monotonic() < latest:
        try:
            if "Z (zombie)" in Path(f"/proc/{pid}/status").read_text():
                return True
        except FileNotFoundError:
            return True
        time.sleep(0.1)
    return False


def serve(alongside: Alongside, port: int) -> AbstractContextManager[subprocess.Popen[bytes]]:
    return alongside([sys.executable, MANAGE, "serve", "--port", str(port)], lambda: answers(port))


def test_it_works_and_ends_with_its_worker(alongside: Alongside, tmp_path: Path) -> None:
    with serve(alongside, free_port()) as server:
        worker = worker_of(server.pid)
        server.send_signal(signal.SIGINT)
        server.wait(timeout=20)
    assert gone(worker)
    said = (tmp_path / "server.log").read_text()
    assert "Nobody can sign in yet" in said
    assert "Traceback" not in said


@thorough
def test_a_worker_that_dies_is_replaced(alongside: Alongside) -> None:
    with serve(alongside, free_port()) as server:
        first = worker_of(server.pid)
        os.kill(first, signal.SIGKILL)
        assert gone(first)
        assert worker_of(server.pid) != first


@thorough
def test_a_worker_whose_server_was_killed_ends_by_itself(alongside: Alongside) -> None:
    with serve(alongside, free_port()) as server:
        worker = worker_of(server.pid)
        os.kill(server.pid, signal.SIGKILL)
        server.wait()
        assert gone(worker)


def test_a_port_that_is_none_is_told_so(command: Manage) -> None:
    run = command("serve", "--port", "http")
    assert run.returncode == 2
    assert "write a number from 1 to 65535" in run.stderr


@thorough
def test_a_port_that_is_taken_is_told_so(manage: Manage) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        run = manage("serve", "--port", str(other.getsockname()[1]))
    assert run.returncode != 0
    assert "Traceback" not in run.stderr
    assert "in use" in run.stderr
