"""`manage.py backup` and `manage.py restore`: what comes back is what was kept, and plans to the same papers."""

import gzip
import hashlib
import io
import json
import os
import stat
import subprocess
import sys
import tarfile
from pathlib import Path

import pytest

from planning.upkeep.archive import BackupError, read_contents
from tests.support.effort import THOROUGH, thorough

CHECKOUT = Path(__file__).parents[2]

PLAN = """
import json
from datetime import UTC, datetime
from django.contrib.auth.models import User
from django.core.management import call_command
from kits.models import Month
from planning import jobs, save
from planning.models import Artefact, Job, Plan
from tests.web.small_month import SMALL_MONTH

def plan(version):
    job = jobs.enqueue("plan", Month.objects.get())
    Job.objects.filter(pk=job.pk).update(created_at=datetime(2027, 3, version, 9, tzinfo=UTC))
    jobs.work_on(job.pk, "tests")

def tell():
    papers = Artefact.objects.order_by("plan__version", "name")
    people = [user.check_password("walnut-kettle-ribbon") for user in User.objects.all()]
    print(json.dumps({"people": people, "papers": list(papers.values_list("path", "sha256"))}))
"""
FIRST = f"""{PLAN}
call_command("migrate", verbosity=0)
User.objects.create_user("cleo", password="walnut-kettle-ribbon")
save.month(SMALL_MONTH)
plan(1)
call_command("backup", "FILE")
plan(2)
tell()
"""
AGAIN = f"""{PLAN}
plan(2)
tell()
"""


def manage(*words: str | Path, data: Path, **said: str) -> subprocess.CompletedProcess[str]:
    plain = {name: value for name, value in os.environ.items() if name not in ("DATABASE_URL", "REDIS_URL")}
    environment = plain | {"KITS_DATA_DIR": str(data)} | said
    command = [sys.executable, "manage.py", *words]
    return subprocess.run(command, cwd=CHECKOUT, env=environment, check=False, capture_output=True, text=True)


def kept(data: Path) -> dict[str, str]:
    """Return the papers in a data folder: path -> SHA-256."""
    folder = data / "artefacts"
    files = (path for path in folder.rglob("*") if path.is_file())
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in files
    }


def assert_it_comes_back(before: Path, after: Path, file: Path, old: str = "", new: str = "") -> None:
    """Plan a month, back it up, plan it again there and in what is restored: all is the same, byte for byte."""
    said_before = {"DATABASE_URL": old} if old else {}
    said_after = {"DATABASE_URL": new} if new else {}
    first = manage("shell", "-v0", "-c", FIRST.replace("FILE", str(file)), data=before, **said_before)
    assert first.returncode == 0, first.stderr
    restored = manage("restore", file, data=after, **said_after)
    assert restored.returncode == 0, restored.stderr
    papers = len(kept(after))
    assert restored.stdout == f"Restored: 1 months, 1 plans and {papers} files of papers.\n"
    again = manage("shell", "-v0", "-c", AGAIN, data=after, **said_after)
    assert again.returncode == 0, again.stderr

    told = json.loads(again.stdout.splitlines()[-1])
    assert told == json.loads(first.stdout.splitlines()[-1])
    assert told["people"] == [True]
    assert {path.split("/")[1] for path, _ in told["papers"]} == {"version-1", "version-2"}
    assert kept(after) == kept(before)
    assert dict(told["papers"]).items() <= kept(after).items()

    if not THOROUGH:
        return
    twice = manage("restore", file, data=after, **said_after)
    assert (twice.returncode, "This database is not empty (auth_user, kits_" in twice.stderr) == (2, True)
    assert "Traceback" not in twice.stderr


def test_a_month_comes_back_and_plans_to_the_same_papers(tmp_path: Path) -> None:
    file = tmp_path / "kits.tar.gz"
    assert_it_comes_back(tmp_path / "before", tmp_path / "after", file)
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert sorted(path.name for path in tmp_path.iterdir()) == ["after", "before", "kits.tar.gz"]
    assert not [path for path in (tmp_path / "after").iterdir() if path.name.startswith(".")]


@thorough
def test_a_month_comes_back_on_postgresql_though_its_tables_are_made_already(
    postgres_database: str, tmp_path: Path
) -> None:
    import psycopg

    with psycopg.connect(postgres_database, autocommit=True) as connection:
        connection.execute("CREATE DATABASE restored")
    try:
        other = postgres_database.rpartition("/")[0] + "/restored"
        assert manage("migrate", "-v0", data=tmp_path / "after", DATABASE_URL=other).returncode == 0
        file = tmp_path / "kits.tar.gz"
        assert_it_comes_back(tmp_path / "before", tmp_path / "after", file, postgres_database, other)
        unlike = manage("restore", file, data=tmp_path / "third")
        assert unlike.returncode == 2
        assert "It is a back-up of a postgresql database, and this is sqlite" in unlike.stderr
    finally:
        with psycopg.connect(postgres_database, autocommit=True) as connection:
            connection.execute("DROP DATABASE restored WITH (FORCE)")


# --- What is no back-up ---


def archive(held: dict[str, bytes], **contents: object) -> bytes:
    """Return a back-up as the program writes one."""
    listed = {name: (len(made), hashlib.sha256(made).hexdigest()) for name, made in held.items()}
    told = {"vendor": "sqlite", "migrations": [], "files": listed} | contents
    buffer = io.BytesIO()
    with tarfile.open(fileobj=buffer, mode="w:gz") as tar:
        for name, made in {**held, "contents.json": json.dumps(told).encode()}.items():
            info = tarfile.TarInfo(name)
            info.size = len(made)
            tar.addfile(info, io.BytesIO(made))
    return buffer.getvalue()


WHOLE = archive({"database": b"rows" * 500, "papers/a/b.pdf": b"%PDF"})
SYMLINK = io.BytesIO()
with tarfile.open(fileobj=SYMLINK, mode="w:gz") as tar:
    leads_out = tarfile.TarInfo("papers/link")
    leads_out.type, leads_out.linkname = tarfile.SYMTYPE, "/etc/passwd"
    tar.addfile(leads_out)


def test_a_whole_one_is_read(tmp_path: Path) -> None:
    (tmp_path / "kits.tar.gz").write_bytes(WHOLE)
    contents = read_contents(tmp_path / "kits.tar.gz")
    assert {name: size for name, (size, _) in contents.files.items()} == {
        "database": 2000,
        "papers/a/b.pdf": 4,
    }


@pytest.mark.parametrize(
    "made",
    [
        b"",
        b"no archive",
        WHOLE[:-40],
        WHOLE[: len(WHOLE) // 2],
        gzip.compress(b"no tar"),
        gzip.compress(gzip.decompress(WHOLE).replace(b"%PDF", b"%pdf")),
        archive({"papers/a.pdf": b"%PDF"}),
        archive({"database": b"rows"}, files={}),
        archive({"database": b"rows"}, files="all of them"),
        archive({"database": b"rows", "papers/../../secret_key": b"mine"}),
        archive({"database": b"rows", "/etc/passwd": b"root"}),
        archive({"database": b"rows", "secret_key": b"mine"}),
        SYMLINK.getvalue(),
    ],
    ids=range(13),
)
def test_what_was_cut_off_changed_or_leads_elsewhere_is_refused(tmp_path: Path, made: bytes) -> None:
    (tmp_path / "kits.tar.gz").write_bytes(made)
    with pytest.raises(BackupError, match=r"is no whole back-up|cannot be read"):
        read_contents(tmp_path / "kits.tar.gz")


@thorough
def test_nothing_is_written_where_a_back_up_does_not_do(tmp_path: Path) -> None:
    file = tmp_path / "kits.tar.gz"
    for made, said in (
        (WHOLE[:-40], "is no whole back-up"),
        (archive({"database": b""}, vendor="postgresql"), "restore it where DATABASE_URL names a PostgreSQL"),
        (archive({"database": b""}, migrations=["planning.9999_later"]), "made by another version"),
    ):
        file.write_bytes(made)
        run = manage("restore", file, data=tmp_path / "data")
        assert (run.returncode, said in run.stderr, "Traceback" in run.stderr) == (2, True, False), run.stderr
    assert not (tmp_path / "data" / "artefacts").exists()


@thorough
def test_a_back_up_is_never_written_over_another_nor_of_nothing(tmp_path: Path) -> None:
    nothing = manage("backup", tmp_path / "kits.tar.gz", data=tmp_path / "data")
    assert (nothing.returncode, "nothing to back up" in nothing.stderr) == (2, True)
    assert not (tmp_path / "kits.tar.gz").exists()
    (tmp_path / "kits.tar.gz").write_bytes(b"the only one")
    over = manage("backup", tmp_path / "kits.tar.gz", data=tmp_path / "data")
    assert (over.returncode, "is there already" in over.stderr) == (2, True)
    assert (tmp_path / "kits.tar.gz").read_bytes() == b"the only one"
    (tmp_path / "data" / "kits.sqlite3").touch()  # an empty file is an empty database
    away = manage("backup", tmp_path / "nowhere" / "kits.tar.gz", data=tmp_path / "data")
    assert (away.returncode, "cannot be written" in away.stderr, "Traceback" in away.stderr) == (
        2,
        True,
        False,
    )
