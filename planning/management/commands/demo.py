"""An invented club's month, from nothing to every paper: what a newcomer runs first."""

import secrets
from argparse import ArgumentTypeError
from pathlib import Path
from threading import Thread
from typing import Any

from django.conf import settings
from django.contrib.auth.models import User
from django.core.management import CommandError, call_command
from django.core.management.base import BaseCommand, CommandParser
from django.db import connection

from planning import jobs, load, run, save
from planning.demo import demo_month
from planning.documents.paper import Paper
from planning.management.database import prepare_database
from planning.models import Artefact, Job, Person, Plan, State
from planning.month import Month
from planning.monthfile import month_to_workbook
from planning.progress import Progress
from planning.rights.table import Role
from planning.summary import summary

OUT = Path(__file__).parents[3] / ".demo"
NAME = "demo"
MOST_BOXES = 100_000
LOOK = 0.2  # seconds between looks at the job


class Command(BaseCommand):
    """Load the demo club, plan its month, write its papers; then serve the app."""

    help = "Load an invented club, plan its month as the app would, write every paper, print the plan, serve the app."
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Say what the command line may hold."""
        parser.add_argument(
            "--once", action="store_true", help="end when the papers are written; do not serve"
        )
        parser.add_argument(
            "--out", type=Path, default=OUT, metavar="DIR", help="folder for the papers (.demo)"
        )
        parser.add_argument(
            "--boxes", type=boxes, default=1_200, metavar="N", help="boxes of the month (1200)"
        )
        parser.add_argument("--port", default="8000", help="port to serve on (8000)")

    def handle(self, *, once: bool, out: Path, boxes: int, port: str, **options: Any) -> None:
        """Set up, plan, write, tell; then serve unless told not to."""
        prepare_database()
        month = demo_month(boxes)
        with Progress(self.stderr) as progress:
            progress.stage("loading the demo club")
            plan = self.plan(month, progress)
            self.write(month, plan, out, progress)
        self.stdout.write(summary(load.planned(plan)), ending="")
        self.stdout.write(f"\nPapers and the month file: {out.resolve()}")
        self.stdout.write(f"Sign in to the app as {NAME} with the password {new_password()}")
        if not once:
            call_command("serve", port=int(port))

    def plan(self, month: Month, progress: Progress) -> Plan:
        """Plan the month by the same job as the app's button, and follow it."""
        job = jobs.enqueue("plan", save.month(month))
        worker = Thread(target=work_on, args=(job.pk,))
        worker.start()
        while worker.is_alive():
            worker.join(LOOK)
            follow(Job.objects.get(pk=job.pk), progress)
        job.refresh_from_db()
        if job.state != State.DONE:
            raise CommandError(f"The month was not planned: {job.error or job.state}")
        return Plan.objects.get(job=job)

    def write(self, month: Month, plan: Plan, out: Path, progress: Progress) -> None:
        """Copy the papers out, and the month file they were planned from."""
        progress.stage("writing the papers out")
        made = plan.papers.exclude(name__in=(run.INDEX, run.BUNDLE)).order_by("position")
        papers = [copy_of(each) for each in made]
        papers.append(
            Paper(name="month-file.xlsx", title="The month file", make=lambda: month_to_workbook(month))
        )
        try:
            run.write_papers(papers, out, load.planned(plan).stamp, progress.count)
        except OSError as error:
            raise CommandError(
                f"The papers cannot be written: {error.filename or out}: {error.strerror}"
            ) from None


def work_on(pk: int) -> None:
    """Work on the job in a thread of its own."""
    try:
        jobs.work_on(pk, jobs.worker_name())
    finally:
        connection.close()


def follow(job: Job, progress: Progress) -> None:
    """Show how far a job is."""
    if job.stage and job.stage != progress.name:
        progress.stage(job.stage)
    if job.total:
        progress.count(job.done, job.total)


def copy_of(paper: Artefact) -> Paper:
    """Return a paper that is already written as one to write again."""
    return Paper(name=paper.name, title=paper.title, make=(settings.ARTEFACTS_DIR / paper.path).read_bytes)


def new_password() -> str:
    """Give the demo's person a new password and return it; it is kept nowhere else."""
    person, _ = User.objects.get_or_create(username=NAME)
    Person.objects.update_or_create(user=person, defaults={"role": Role.OWNER})
    password = secrets.token_urlsafe(9)
    person.set_password(password)
    person.save()
    return password


def boxes(text: str) -> int:
    """Read a number of boxes."""
    plain = text.replace(",", "")
    if not plain.isascii() or not plain.isdigit() or not 1 <= int(plain) <= MOST_BOXES:
        raise ArgumentTypeError(f"{text!r} is no number of boxes: write one from 1 to {MOST_BOXES:,}")
    return int(plain)
