"""The app on one machine: the web server in this process, workers as its children."""

import os
import subprocess
import sys
from argparse import ArgumentTypeError
from pathlib import Path
from threading import Event, Thread
from typing import Any

from django.conf import settings
from django.contrib.auth.models import User
from django.core.management.base import BaseCommand, CommandParser

from planning.management.database import prepare_database

MANAGE = Path(__file__).parents[3] / "manage.py"
MOST_WORKERS = 4  # one for each processor up to so many: a run has papers for all of them
AGAIN = 2.0  # seconds before a worker that ended is started anew


class Command(BaseCommand):
    """Serve the app and work on its jobs. Ctrl-C ends both."""

    help = "Serve the app on this machine, with a worker for its background jobs. Ctrl-C ends both."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Say what the command line may hold."""
        parser.add_argument(
            "--host", default="127.0.0.1", help="address to listen on; 127.0.0.1 is this machine alone"
        )
        parser.add_argument("--port", type=port, default=8000, help="port to listen on")

    def handle(self, *, host: str, port: int, **options: Any) -> None:
        """See to the database, start the worker, and serve until told to stop."""
        from planning.server import Server

        prepare_database()
        if not User.objects.exists():
            self.stdout.write("Nobody can sign in yet: manage.py createsuperuser makes the first person.")
        over = Event()
        many = 0 if settings.REDIS_URL else min(os.cpu_count() or 1, MOST_WORKERS)
        workers = [Thread(target=keep_a_worker, args=(over,)) for _ in range(many)]
        for worker in workers:
            worker.start()
        try:
            self.stdout.write(f"Serving on http://{host}:{port}/ - Ctrl-C ends it")
            Server(host, port).run()
        finally:
            over.set()
            for worker in workers:
                worker.join()


def keep_a_worker(over: Event) -> None:
    """Keep one worker running, whatever happens to it, until the end; then end it."""
    command = [sys.executable, str(MANAGE), "work", "--parent", str(os.getpid())]
    while not over.is_set():
        worker = subprocess.Popen(command, stdin=subprocess.DEVNULL)  # noqa: S603
        while worker.poll() is None and not over.wait(0.2):
            pass
        if worker.poll() is None:
            worker.terminate()
            worker.wait()
        over.wait(AGAIN)


def port(text: str) -> int:
    """Read a port."""
    if not text.isascii() or not text.isdigit() or not 0 < int(text) < 65_536:
        raise ArgumentTypeError(f"{text!r} is no port: write a number from 1 to 65535")
    return int(text)
