"""A worker on its own: takes queued jobs from their rows until it is told to stop."""

import os
import signal
from threading import Event, Thread
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from planning import jobs
from planning.management.database import prepare_database

ORPHANED = 1.0  # seconds between looks whether the program that started this one still runs


class Command(BaseCommand):
    """Take queued jobs one after the other. Any number of workers may run, on any number of hosts."""

    help = "Take queued jobs one after the other, until told to stop."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Say what the command line may hold."""
        parser.add_argument("--parent", type=int, metavar="PID", help="end when this process has ended")

    def handle(self, *, parent: int | None, **options: Any) -> None:
        """Work until a signal comes; a job in hand is given back, and goes on when somebody works again."""
        if parent is None:  # a server has seen to it before it starts its worker
            prepare_database()
        over = Event()
        signal.signal(signal.SIGTERM, stop)
        signal.signal(signal.SIGINT, stop)
        if parent is not None:
            Thread(target=follow, args=(parent, over), daemon=True).start()
        try:
            jobs.work_until(over)
        except KeyboardInterrupt:
            return


def stop(*_: object) -> None:
    """Leave whatever is being done."""
    raise KeyboardInterrupt


def follow(parent: int, over: Event) -> None:
    """Stop this worker once its parent is another than the one that started it, which had ended then."""
    while os.getppid() == parent:
        if over.wait(ORPHANED):
            return
    os.kill(os.getpid(), signal.SIGTERM)
