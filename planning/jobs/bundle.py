"""All papers of a plan in one file, and the list of them."""

import hashlib
import shutil
from collections.abc import Iterable, Sequence
from pathlib import Path
from zipfile import ZIP_STORED, ZipFile, ZipInfo

from planning.documents.stamp import Stamp
from planning.run import BUNDLE, INDEX, Written, index, put, writing

PIECE = 1 << 20  # bytes


def write_index(papers: Sequence[Written], folder: Path, stamp: Stamp) -> Written:
    """Write the list of papers with their sizes and checksums."""
    made = index(papers, stamp)
    put(folder / INDEX, made)
    return Written(INDEX, "Index of all papers", len(made), hashlib.sha256(made).hexdigest())


def clear_unfinished(folder: Path) -> None:
    """Remove what workers that died had half written."""
    for part in folder.glob("**/.*.part"):
        part.unlink(missing_ok=True)


def write_bundle(papers: Iterable[Written], folder: Path, stamp: Stamp) -> Written:
    """Put papers into one file, piece by piece: they are packed already, so they are stored as they are.

    The same papers, the same bytes: the time in it is the plan's.
    """
    path = folder / BUNDLE
    with writing(path) as file, ZipFile(file, "w", ZIP_STORED) as bundle:
        for paper in papers:
            info = ZipInfo(paper.name, stamp.made_at.timetuple()[:6])
            info.external_attr = 0o644 << 16
            with (folder / paper.name).open("rb") as source, bundle.open(info, "w", force_zip64=True) as copy:
                shutil.copyfileobj(source, copy, PIECE)
    with path.open("rb") as whole:
        sha256 = hashlib.file_digest(whole, "sha256").hexdigest()
    return Written(BUNDLE, "All papers in one file", path.stat().st_size, sha256)
