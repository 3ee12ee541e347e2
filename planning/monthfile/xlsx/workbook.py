"""A workbook: which sheets it has and where their rows are."""

import posixpath
from collections.abc import Iterator
from typing import IO
from zipfile import ZipFile

from openpyxl.utils.datetime import MAC_EPOCH, WINDOWS_EPOCH

from planning.monthfile.xlsx.parts import Catalogue, Formats, Relations, Texts
from planning.monthfile.xlsx.sheet import Row, SheetReader
from planning.monthfile.xlsx.stream import DamagedError, Reader
from planning.monthfile.xlsx.values import Cells

__all__ = ["Row", "Workbook"]


class Workbook:
    """The sheets of an opened .xlsx file. Raises BadZipFile, of which DamagedError is one, where it is damaged."""

    def __init__(self, archive: ZipFile) -> None:
        self._archive = archive
        main = next(iter(self._targets("", "/officeDocument").values()), "")
        catalogue, texts, formats = Catalogue(), Texts(), Formats()
        self._read(main, catalogue)
        for kind, reader in (("/sharedStrings", texts), ("/styles", formats)):
            for part in self._targets(main, kind).values():
                self._read(part, reader)
        epoch = MAC_EPOCH if catalogue.from_1904 else WINDOWS_EPOCH
        self._cells = Cells(texts.found, formats.styles(), epoch)
        worksheets = self._targets(main, "/worksheet")
        self._parts = {title: worksheets[key] for title, key in catalogue.sheets.items() if key in worksheets}

    @property
    def sheets(self) -> tuple[str, ...]:
        """Titles of the sheets that hold cells, in the order of their tabs."""
        return tuple(self._parts)

    def rows(self, sheet: str) -> Iterator[Row]:
        """Yield the rows of a sheet that hold something."""
        reader = SheetReader(self._cells)
        with self._open(self._parts[sheet]) as stream:
            for _ in reader.steps(stream):
                yield from reader.take()

    def _targets(self, part: str, kind: str) -> dict[str, str]:
        """Return the parts that a part refers to as being of a kind, by the keys it knows them by."""
        folder, name = posixpath.split(part)
        where, relations = posixpath.join(folder, "_rels", f"{name}.rels"), Relations(kind)
        if where in self._archive.NameToInfo:
            self._read(where, relations)
        return {key: full_name(folder, target) for key, target in relations.found.items()}

    def _read(self, part: str, reader: Reader) -> None:
        with self._open(part) as stream:
            reader.read(stream)

    def _open(self, part: str) -> IO[bytes]:
        if part not in self._archive.NameToInfo:
            raise DamagedError(f"{part or 'the workbook itself'} is missing")
        return self._archive.open(part)


def full_name(folder: str, target: str) -> str:
    """Return the name of a part from what another part, in a folder, calls it."""
    return (
        target.lstrip("/") if target.startswith("/") else posixpath.normpath(posixpath.join(folder, target))
    )
