"""A program spread over PostgreSQL, Redis, workers and a web server, any of which a test may kill and start again."""

import hashlib
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

import psycopg
from redis import Redis
from redis.exceptions import RedisError

CHECKOUT = Path(__file__).parents[2]
FEW = 400
BOXES = int(os.environ.get("FAULT_BOXES", FEW))  # a full-sized run: `manage.py bench faults`
ASK = """
from kits.models import Month
from planning import jobs, save
from planning.demo import demo_month
month = Month.objects.first() or save.month(demo_month({boxes}))
print(jobs.enqueue("plan", month).pk)
"""
Row = tuple[object, ...]


class Site:
    """Servers on free ports of this machine, with data of their own below one folder.

    resumed: seconds until work went on after the last fault.
    """

    def __init__(self, folder: Path, ports: tuple[int, int, int], held: Callable[..., list[str]]) -> None:
        self.folder = folder
        self.postgres_port, self.redis_port, self.web_port = ports
        self.held = held
        self.running: dict[str, subprocess.Popen[bytes]] = {}
        self.resumed = 0.0
        self.database = f"postgres://planner@127.0.0.1:{self.postgres_port}/postgres"
        self.said = {
            "DATABASE_URL": self.database,
            "REDIS_URL": f"redis://127.0.0.1:{self.redis_port}/0",
            "KITS_DATA_DIR": str(folder / "data"),
        }

    # --- Starting and killing ---

    def start(self, name: str, *command: str, user: str = "", cwd: Path = CHECKOUT) -> None:
        """Start a server under a name; it ends with this process."""
        with (self.folder / f"{name}.log").open("ab") as log:
            self.running[name] = subprocess.Popen(
                [*self.held(signal.SIGKILL, user), *command],
                cwd=cwd,
                env=os.environ | self.said,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=log,
            )

    def kill(self, name: str, how: signal.Signals = signal.SIGKILL) -> None:
        """Kill a server and, unless it is told to end, all it started."""
        process = self.running.pop(name)
        family = [process.pid, *descendants(process.pid)]
        for pid in family if how is signal.SIGKILL else family[:1]:
            send(pid, how)
        process.wait(timeout=60)

    def end(self) -> None:
        """Kill whatever runs."""
        for name in tuple(self.running):
            self.kill(name)

    def start_postgres(self, programs: dict[str, str]) -> None:
        """Start PostgreSQL, with a new database the first time."""
        user = "postgres" if os.geteuid() == 0 else ""
        data = self.folder / "postgres"
        if not data.exists():
            data.mkdir()
            if user:
                shutil.chown(data, user, user)
            files = ["--username=planner", "--auth=trust", "--encoding=UTF8", "--locale=C.UTF-8", "--no-sync"]
            make = [*self.held(signal.SIGKILL, user), programs["initdb"], f"--pgdata={data}", *files]
            subprocess.run(make, cwd=data, check=True, capture_output=True)
        where = ["-D", str(data), "-h", "127.0.0.1", "-p", str(self.postgres_port), "-k", ""]
        (data / "postmaster.pid").unlink(missing_ok=True)  # of one that was killed outright
        self.start("postgres", programs["postgres"], *where, user=user, cwd=data)
        wait_for(self.accepts)

    def start_redis(self, program: str, *, keep: bool = True) -> None:
        """Start Redis with what it had kept, or with nothing."""
        data = self.folder / "redis"
        if not keep:
            shutil.rmtree(data, ignore_errors=True)
        data.mkdir(exist_ok=True)
        kept = ["--appendonly", "yes", "--appendfsync", "always", "--dir", str(data)]
        self.start("redis", program, "--port", str(self.redis_port), "--bind", "127.0.0.1", *kept)
        wait_for(self.pings)

    def start_worker(self, name: str = "worker", concurrency: int = 2) -> None:
        """Start a Celery worker."""
        words = ["-A", "planning.celery", "worker", f"--concurrency={concurrency}", f"--hostname={name}@%h"]
        self.start(name, sys.executable, "-m", "celery", *words)

    def start_web(self) -> None:
        """Start the web server."""
        where = f"127.0.0.1:{self.web_port}"
        self.start("web", sys.executable, "-m", "gunicorn", "planning.wsgi", f"--bind={where}", "--workers=2")
        wait_for(lambda: answers(f"http://{where}/healthz"))

    def accepts(self) -> bool:
        """Whether PostgreSQL takes connections."""
        try:
            psycopg.connect(self.database, connect_timeout=2).close()
        except psycopg.OperationalError:
            return False
        return True

    def pings(self) -> bool:
        """Whether Redis answers, having read what it had kept."""
        try:
            return bool(Redis.from_url(self.said["REDIS_URL"]).ping())
        except RedisError:
            return False

    # --- Asking and looking ---

    def manage(self, *words: str) -> str:
        """Return what a command prints."""
        command = [sys.executable, "manage.py", *words]
        said = os.environ | self.said
        return subprocess.run(
            command, cwd=CHECKOUT, env=said, check=True, stdout=subprocess.PIPE, text=True
        ).stdout

    def ask(self) -> int:
        """Ask for the demo month to be planned; return the job's number."""
        return int(self.manage("shell", "-v0", "-c", ASK.format(boxes=BOXES)))

    def query(self, sql: str, *values: object) -> list[Row]:
        """Ask the database itself."""
        with psycopg.connect(self.database, autocommit=True) as connection:
            cursor = connection.execute(sql, values)
            return cursor.fetchall() if cursor.description else []

    def parts_done(self, job: int) -> int:
        """Return how many parts of a job are done."""
        sql = "SELECT count(*) FROM planning_jobpart WHERE job_id = %s AND state = 'done'"
        return int(str(self.query(sql, job)[0][0]))

    def state(self, job: int) -> Row:
        """Return how a job stands."""
        return self.query("SELECT state, error, stage, done, total FROM planning_job WHERE id = %s", job)[0]

    def faults(self, job: int) -> list[str]:
        """Return what is wrong with what a job made: every box must be there once, and every file whole."""
        faults = []
        [(plan, boxes, ready)] = self.query(
            "SELECT id, boxes, ready FROM planning_plan WHERE job_id = %s", job
        )
        [counted] = self.query(
            "SELECT count(*), count(DISTINCT serial), min(serial), max(serial) FROM planning_box WHERE plan_id = %s",
            plan,
        )
        if (ready, *counted) != (True, boxes, boxes, 1, boxes):
            faults.append(f"{counted} of {boxes} boxes, ready: {ready}")
        papers = self.query("SELECT name, path, size, sha256 FROM planning_artefact WHERE plan_id = %s", plan)
        folder = self.folder / "data" / "artefacts"
        for name, path, size, sha256 in papers:
            made = (folder / str(path)).read_bytes()
            if (len(made), hashlib.sha256(made).hexdigest()) != (size, sha256):
                faults.append(f"{name} is not whole")
        waves = self.query("SELECT DISTINCT wave FROM planning_box WHERE plan_id = %s AND wave > 0", plan)
        wanted = {f"{kind}/wave-{wave:03}" for (wave,) in waves for kind in ("slips", "picks", "lists")}
        if missing := wanted - {str(name).rpartition(".")[0] for name, *_ in papers}:
            faults.append(f"no {', '.join(sorted(missing))}")
        ours = (folder / str(papers[0][1])).parents[str(papers[0][0]).count("/")]
        strays = {str(path.relative_to(ours)) for path in ours.rglob("*") if path.is_file()}
        if strays - {str(name) for name, *_ in papers}:
            faults.append(f"left behind: {strays - {str(name) for name, *_ in papers}}")
        return faults


def descendants(pid: int) -> list[int]:
    """Return the processes a process started, and those they did."""
    found = []
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            parent = int(path.read_text().rpartition(")")[2].split()[1])
        except OSError:
            continue
        if parent == pid:
            found += [int(path.parent.name), *descendants(int(path.parent.name))]
    return found


def send(pid: int, how: signal.Signals) -> None:
    """Send a signal to a process, which may have ended."""
    try:
        os.kill(pid, how)
    except ProcessLookupError:
        return


def answers(url: str) -> bool:
    """Whether a web server answers."""
    try:
        with urlopen(url, timeout=2) as answer:  # noqa: S310 - our own server
            return bool(answer.status == 200)
    except (URLError, OSError):
        return False


def wait_for(condition: Callable[[], bool], seconds: float = 60, said: Callable[[], object] = str) -> float:
    """Return how many seconds it took until something came about."""
    begun = time.monotonic()
    while not condition():
        assert time.monotonic() - begun < seconds, f"it did not come about: {said()}"
        time.sleep(0.05)
    return time.monotonic() - begun
