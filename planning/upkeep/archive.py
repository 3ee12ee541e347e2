"""A back-up as a file: a tar packed by gzip that holds the database, the papers, and last of all a list of both.

The list gives every file's size and SHA-256, so a file that was cut off or changed is found before anything is restored.
"""

import hashlib
import io
import json
import tarfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import IO

from planning.run import leads_inside

DATABASE, PAPERS, CONTENTS = "database", "papers/", "contents.json"
MOST_CONTENTS = 256 * 2**20  # bytes of the list; some million papers
PIECE = 2**20


class BackupError(Exception):
    """A back-up cannot be made or restored; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Contents:
    """What a back-up holds.

    vendor: the kind of database, "sqlite" or "postgresql"; migrations: those it has, as "app.name"; files: name in the
    archive -> size in bytes, SHA-256 in hexadecimal.
    """

    vendor: str
    migrations: list[str]
    files: dict[str, tuple[int, str]] = field(default_factory=dict)


class Counted:
    """A file that counts and hashes what is read of it."""

    def __init__(self, file: IO[bytes]) -> None:
        self.file, self.size, self.hash = file, 0, hashlib.sha256()

    def read(self, size: int = -1) -> bytes:
        """Read on."""
        piece = self.file.read(size)
        self.size += len(piece)
        self.hash.update(piece)
        return piece

    @property
    def counted(self) -> tuple[int, str]:
        """Bytes and SHA-256 of all that was read."""
        return self.size, self.hash.hexdigest()


# --- Writing ---


def write(to: Path, database: Path, papers: Path, contents: Contents) -> None:
    """Write a back-up of a dumped database and of every whole file below the folder of papers; note them in contents."""
    with tarfile.open(to, "x:gz", compresslevel=1) as archive:
        _add(archive, DATABASE, database, contents)
        for path in sorted(papers.rglob("*")):
            if path.is_file() and not path.name.startswith("."):  # those with a dot are being written
                _add(archive, PAPERS + path.relative_to(papers).as_posix(), path, contents)
        made = json.dumps(asdict(contents)).encode()
        info = tarfile.TarInfo(CONTENTS)
        info.size = len(made)
        archive.addfile(info, io.BytesIO(made))


def _add(archive: tarfile.TarFile, name: str, path: Path, contents: Contents) -> None:
    try:
        with path.open("rb") as file:
            info = archive.gettarinfo(arcname=name, fileobj=file)
            info.uid = info.gid = info.mode = 0
            info.uname = info.gname = ""
            counted = Counted(file)
            archive.addfile(info, counted)
    except FileNotFoundError:  # cleared away since the folder was listed
        return
    contents.files[name] = counted.counted


# --- Reading ---


def read_contents(path: Path) -> Contents:
    """Read a back-up from end to end and return what it holds. Raises BackupError unless it is whole."""
    found: dict[str, tuple[int, str]] = {}
    contents = None
    with members(path) as files:
        for name, file in files:
            if name == CONTENTS:
                contents = _contents(path, file.read(MOST_CONTENTS))
                continue
            counted = Counted(file)
            while counted.read(PIECE):
                pass
            found[name] = counted.counted
    if contents is None or contents.files != found or DATABASE not in found:
        raise not_whole(path)
    return contents


@contextmanager
def members(path: Path) -> Iterator[Iterator[tuple[str, IO[bytes]]]]:
    """Give each file of a back-up by name, to be read before the next is asked for. Raises BackupError."""
    try:
        file = path.open("rb")
    except OSError as error:
        raise BackupError(f"{path} cannot be read: {error.strerror or error}.") from None
    try:
        with file, tarfile.open(fileobj=file, mode="r|gz") as archive:
            yield _members(path, archive)
    except (tarfile.TarError, zlib.error, EOFError):
        raise not_whole(path) from None


def _members(path: Path, archive: tarfile.TarFile) -> Iterator[tuple[str, IO[bytes]]]:
    for info in archive:
        name = info.name.removeprefix(PAPERS)
        file = archive.extractfile(info) if info.isreg() else None
        if file is None or not leads_inside(name) or info.name not in (DATABASE, CONTENTS, PAPERS + name):
            raise not_whole(path)
        yield info.name, file


def _contents(path: Path, made: bytes) -> Contents:
    try:
        told = json.loads(made)
        files = {name: (int(size), str(sha256)) for name, (size, sha256) in told["files"].items()}
        return Contents(str(told["vendor"]), list(map(str, told["migrations"])), files)
    except (ValueError, KeyError, TypeError, AttributeError):
        raise not_whole(path) from None


def not_whole(path: Path) -> BackupError:
    """Return the error of a file that is no back-up, or was cut off or changed."""
    return BackupError(f"{path} is no whole back-up of this program: copy it again, or take an earlier one.")
