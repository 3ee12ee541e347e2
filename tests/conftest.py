"""Real servers and programs for the tests, each asked for by the name of its fixture.

Every test process starts its own on first use, on a free port of this machine with data it throws away, and
ends it by its id. Without the program its tests are skipped with the reason; with REQUIRE_ALL=1 they fail, so
that a green run then means that everything ran.
"""

import gc
import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import hypothesis
import pytest
from django.conf import settings

from tests.support.effort import examples

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

# A loaded machine is no reason to fail. Under CI the parent is Hypothesis's own profile for CI.
hypothesis.settings.register_profile(
    "unhurried", parent=hypothesis.settings(), deadline=None, max_examples=examples(100)
)
hypothesis.settings.load_profile("unhurried")

CHECKOUT = Path(__file__).parents[1]
POSTGRESQL_PROGRAMS = sorted(map(str, Path("/usr/lib/postgresql").glob("*/bin")), reverse=True)
CHROMIUM_FLAGS = [
    "--no-sandbox",
    "--disable-quic",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]
RECALCULATE_ALWAYS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop>
</item>
</oor:items>
"""


def pytest_configure(config: pytest.Config) -> None:
    """Keep what the tests make out of the folder a person works with."""
    scratch = Path(tempfile.mkdtemp(prefix="kits-tests-"))
    config.add_cleanup(lambda: shutil.rmtree(scratch, ignore_errors=True))
    if (
        sys.dont_write_bytecode
    ):  # not beside the sources then, but the programs that tests start compile them once
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        os.environ["PYTHONPYCACHEPREFIX"] = str(scratch / "bytecode")
    settings.ARTEFACTS_DIR = scratch / "artefacts"
    database = settings.DATABASES["default"]
    if database["ENGINE"].endswith("sqlite3"):
        # In a file, as in life: in memory every thread of a live server would share one connection.
        database.setdefault("TEST", {})["NAME"] = str(scratch / "test.sqlite3")


def pytest_collection_finish() -> None:
    """Let the garbage collector pass by what was collected: it lives to the end, and looking at it again takes seconds."""
    gc.collect()
    gc.freeze()


def need_program(program: str, why: str, places: Sequence[str] = ()) -> str:
    """Return the program's path, which may lie in places; without it skip, or fail under REQUIRE_ALL=1."""
    found = shutil.which(program, path=os.pathsep.join([os.environ.get("PATH", os.defpath), *places]))
    if found:
        return found
    reason = f"{program} is not installed: {why}"
    if os.environ.get("REQUIRE_ALL") == "1":
        pytest.fail(reason)
    pytest.skip(reason)


@pytest.fixture(scope="session")
def need() -> Callable[[str, str], str]:
    """Return need_program, for tests that run a program of their own: need(program, why) -> path."""
    return need_program


# --- Servers ---


def find_port() -> int:
    """Return a port of this machine that nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


@pytest.fixture
def free_port() -> int:
    """Return a port for a server the test runs alongside."""
    return find_port()


@contextmanager
def running(
    command: Sequence[str | Path],
    ready: Callable[[], bool],
    log: Path,
    *,
    cwd: Path,
    environment: dict[str, str] | None = None,
    stop: signal.Signals = signal.SIGTERM,
    user: str = "",
) -> Iterator[subprocess.Popen[bytes]]:
    """Run the server from ready until the block ends; after the block its status is in returncode."""
    with log.open("wb") as written:
        process = subprocess.Popen(
            [*held_by_this_process(stop, user), *command],
            cwd=cwd,
            env=environment,
            stdin=subprocess.DEVNULL,
            stdout=written,
            stderr=written,
        )
    try:
        wait_until(ready, process, log)
        yield process
    finally:
        process.send_signal(stop)
        try:
            process.wait(timeout=20)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


def held_by_this_process(stop: signal.Signals, user: str = "") -> list[str]:
    """Return the words before a command that send it the signal even when this process is killed outright."""
    setpriv = need_program("setpriv", "it ends a server together with its tests")
    other = [f"--reuid={user}", f"--regid={user}", "--init-groups"] if user else []
    return [setpriv, *other, f"--pdeathsig={stop.name.removeprefix('SIG')}"]


def wait_until(ready: Callable[[], bool], process: subprocess.Popen[bytes], log: Path) -> None:
    """Return once the server answers; raise with the end of its log when it stops or takes a minute."""
    latest = time.monotonic() + 60
    while process.poll() is None and time.monotonic() < latest:
        if ready():
            return
        time.sleep(0.1)
    raise RuntimeError(f"{process.args!r} did not start:\n{log.read_text(errors='replace')[-2000:]}")


@pytest.fixture(scope="session")
def redis_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Return the URL of an empty Redis."""
    from redis import ConnectionError as NotYet
    from redis import Redis

    server = need_program("redis-server", "jobs on many machines go through Redis")
    port = find_port()
    url = f"redis://127.0.0.1:{port}/0"
    options = ["--port", str(port), "--bind", "127.0.0.1", "--save", "", "--appendonly", "no"]

    def answers() -> bool:
        try:
            with Redis.from_url(url) as client:
                return bool(client.ping())
        except NotYet:
            return False

    folder = tmp_path_factory.mktemp("redis")
    with running([server, *options], answers, folder / "server.log", cwd=folder):
        yield url


@pytest.fixture(scope="session")
def postgres_server() -> Iterator[str]:
    """Return the URL of the database "postgres" in an empty PostgreSQL; postgres_database is one to fill."""
    postgres = need_program("postgres", "many machines share a PostgreSQL", POSTGRESQL_PROGRAMS)
    initdb = need_program("initdb", "many machines share a PostgreSQL", POSTGRESQL_PROGRAMS)
    user = "postgres" if os.geteuid() == 0 else ""  # PostgreSQL refuses to run as root
    # Not under pytest's own folder, which nobody but its owner may enter.
    with tempfile.TemporaryDirectory(prefix="kits-postgres-") as name:
        if user:
            shutil.chown(name, user, user)
        files = ["--pgdata=data", "--username=planner", "--auth=trust", "--encoding=UTF8", "--locale=C.UTF-8"]
        stop = signal.SIGINT  # which PostgreSQL takes for "close connections and stop"
        make = [*held_by_this_process(stop, user), initdb, *files, "--no-sync"]
        subprocess.run(make, cwd=name, check=True, capture_output=True)
        port = find_port()
        url = f"postgres://planner@127.0.0.1:{port}/postgres"
        where = ["-D", "data", "-h", "127.0.0.1", "-p", str(port)]
        quick = ["-F", "-k", ""]  # no waiting for disks, no socket file
        log = Path(name, "server.log")
        with running(
            [postgres, *where, *quick], lambda: accepts(url), log, cwd=Path(name), stop=stop, user=user
        ):
            yield url


def accepts(url: str) -> bool:
    """Whether PostgreSQL at the URL takes a connection."""
    import psycopg

    try:
        psycopg.connect(url, connect_timeout=2).close()
    except psycopg.OperationalError:
        return False
    return True


@pytest.fixture
def postgres_database(postgres_server: str) -> Iterator[str]:
    """Return the URL of an empty PostgreSQL database that is this test's alone."""
    import psycopg

    with psycopg.connect(postgres_server, autocommit=True) as connection:
        connection.execute("CREATE DATABASE of_one_test")
        yield postgres_server.rpartition("/")[0] + "/of_one_test"
        connection.execute("DROP DATABASE of_one_test WITH (FORCE)")


@pytest.fixture
def alongside(tmp_path: Path) -> Callable[..., AbstractContextManager[subprocess.Popen[bytes]]]:
    """Return run(command, ready, **environment): one of our own servers for the length of a `with` block.

    It runs in the checkout on data of its own, and writes to server.log in the test's folder.
    """

    def run(
        command: Sequence[str | Path], ready: Callable[[], bool], **environment: str
    ) -> AbstractContextManager[subprocess.Popen[bytes]]:
        said = os.environ | {"KITS_DATA_DIR": str(tmp_path / "data")} | environment
        return running(command, ready, tmp_path / "server.log", cwd=CHECKOUT, environment=said)

    return run


# --- Programs that show or read what ours makes ---


@pytest.fixture(scope="session")
def browser() -> Iterator["Browser"]:
    """Return a running Chromium."""
    from playwright.sync_api import sync_playwright

    chromium = need_program("chromium", "pages are tested in a browser")
    with pytest.MonkeyPatch.context() as patch, sync_playwright() as playwright:
        # Playwright keeps an event loop in this thread. Django would take every later test for asynchronous
        # and refuse it the database.
        patch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
        chrome = playwright.chromium.launch(executable_path=chromium, args=CHROMIUM_FLAGS)
        yield chrome
        chrome.close()


@pytest.fixture
def page(browser: "Browser") -> Iterator["Page"]:
    """Return an empty page without cookies or storage from any other test."""
    with browser.new_context() as context:
        context.set_default_timeout(15_000)
        yield context.new_page()


@pytest.fixture(scope="session")
def libreoffice(tmp_path_factory: pytest.TempPathFactory) -> Callable[[Path, str], Path]:
    """Return convert(path, format) -> path: the file as LibreOffice saves it, each formula recalculated."""
    soffice = need_program("soffice", "workbooks are read and recalculated by LibreOffice")
    profile = tmp_path_factory.mktemp("libreoffice")
    (profile / "user").mkdir()
    (profile / "user" / "registrymodifications.xcu").write_text(RECALCULATE_ALWAYS)

    def convert(path: Path, form: str) -> Path:
        folder = tmp_path_factory.mktemp("converted")
        words = [soffice, f"-env:UserInstallation={profile.as_uri()}", "--headless", "--norestore"]
        said = run_to_its_end([*words, "--convert-to", form, "--outdir", str(folder), str(path)], seconds=120)
        made = list(folder.iterdir())
        assert len(made) == 1, f"LibreOffice made no {form} of {path}:\n{said}"
        return made[0]

    return convert


def run_to_its_end(command: Sequence[str], seconds: int) -> str:
    """Return what the command printed; after the given time end it and all it started."""
    process = subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, start_new_session=True
    )
    try:
        return process.communicate(timeout=seconds)[0]
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)  # its own session, so only what this call started
        said = process.communicate()[0]
        raise RuntimeError(f"{command[0]} took more than {seconds} s:\n{said}") from None


@pytest.fixture(scope="session")
def pdf_pages(tmp_path_factory: pytest.TempPathFactory) -> Callable[[Path], list[Path]]:
    """Return draw(path) -> paths: each page of a PDF as a PNG at 200 dpi, which every code must survive."""
    pdftoppm = need_program("pdftoppm", "printed pages are drawn by poppler-utils")

    def draw(path: Path) -> list[Path]:
        folder = tmp_path_factory.mktemp("pages")
        subprocess.run(
            [pdftoppm, "-png", "-r", "200", str(path), str(folder / "page")], check=True, timeout=300
        )
        return sorted(folder.iterdir())

    return draw
