"""Readers of the parts of a workbook beside its sheets."""

from array import array

from planning.monthfile.xlsx.stream import Reader
from planning.monthfile.xlsx.values import Styles, builtin_format, plain_text


class Relations(Reader):
    """What a part refers to: the targets of one kind, by the key the part knows them by."""

    def __init__(self, kind: str) -> None:
        super().__init__()
        self._kind = kind
        self.found: dict[str, str] = {}

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """Take a relation of the kind, unless it leads out of the file."""
        is_ours = name == "Relationship" and attributes.get("TargetMode") != "External"
        if is_ours and attributes.get("Type", "").endswith(self._kind):
            self.found[attributes["Id"]] = attributes["Target"]


class Catalogue(Reader):
    """The workbook itself: the keys of its sheets by title, and whether it counts days from 1904."""

    def __init__(self) -> None:
        super().__init__()
        self.sheets: dict[str, str] = {}
        self.from_1904 = False

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """Take a sheet, or the setting of the calendar."""
        if name == "sheet":
            keys = (value for one, value in attributes.items() if one.endswith(":id"))
            self.sheets[attributes["name"]] = next(keys, "")
        elif name == "workbookPr":
            self.from_1904 = attributes.get("date1904") in ("1", "true")


class Packed:
    """Texts by number, from 0: each costs its bytes and four more, and not the fifty of a string. Below 4 GB in all."""

    def __init__(self) -> None:
        self._bytes = bytearray()
        self._ends = array("I", (0,))

    def append(self, text: str) -> None:
        """Add a text."""
        self._bytes += text.encode()
        self._ends.append(len(self._bytes))

    def __getitem__(self, number: int) -> str:
        if number < 0:
            raise IndexError(number)
        return self._bytes[self._ends[number] : self._ends[number + 1]].decode()


class Texts(Reader):
    """The texts that cells share, in the order cells number them by: of a large roster some millions."""

    def __init__(self) -> None:
        super().__init__()
        self.found = Packed()
        self._runs: list[str] = []
        self._spoken = False

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """Begin a run of a text; how it is read aloud is no part of it."""
        if name == "rPh":
            self._spoken = True
        elif name == "t" and not self._spoken:
            self.listen()

    def end(self, name: str) -> None:
        """End a run, or a text."""
        if name == "rPh":
            self._spoken = False
        elif name == "t" and not self._spoken:
            self._runs.append(self.heard())
        elif name == "si":
            self.found.append(plain_text("".join(self._runs)))
            self._runs = []


class Formats(Reader):
    """The number formats cells are shown in."""

    def __init__(self) -> None:
        super().__init__()
        self._own: dict[str, str] = {}
        self._used: list[str] = []
        self._among_cells = False

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """Take a format, or a cell style that uses one."""
        if name == "numFmt":
            self._own[attributes["numFmtId"]] = attributes["formatCode"]
        elif name == "cellXfs":
            self._among_cells = True
        elif name == "xf" and self._among_cells:
            self._used.append(attributes.get("numFmtId", "0"))

    def end(self, name: str) -> None:
        """Leave the cell styles."""
        if name == "cellXfs":
            self._among_cells = False

    def styles(self) -> Styles:
        """Return which cell styles are dates and which percentages."""
        return Styles.of([self._own.get(number) or builtin_format(number) for number in self._used])
