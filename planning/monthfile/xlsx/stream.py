"""XML as a stream of elements, with nothing kept but what a reader asks for."""

from collections.abc import Iterator
from typing import IO
from xml.parsers import expat
from zipfile import BadZipFile

CHUNK = 1 << 16
LONGEST_TEXT = 32_767  # of one cell
LONGEST_TAG = 1 << 22  # bytes; the parser must hold a whole tag or comment
DEEPEST = 100  # elements in elements


class DamagedError(BadZipFile):
    """A part of the workbook is not what the format asks for."""


class LocalNames(dict[str, str]):
    """Names of elements without their prefix, worked out once each: x:row -> row."""

    def __missing__(self, name: str) -> str:
        self[name] = local = name.rpartition(":")[2]
        return local


class Reader:
    """A parser whose elements go to `start` and `end` by their local names.

    Between `listen` and `heard` it keeps the text that comes along. Raises DamagedError for what is no XML, for
    document types (and so for entities), and for tags, texts and nesting beyond all reason.
    """

    def __init__(self) -> None:
        self._parser = expat.ParserCreate()
        self._parser.buffer_text = True
        self._parser.StartDoctypeDeclHandler = self._refuse_doctype
        self._parser.StartElementHandler = self._enter
        self._parser.EndElementHandler = self._leave
        self._parser.CharacterDataHandler = self._hear
        self._names = LocalNames()
        self._depth = self._fed = self._length = 0
        self._text: list[str] | None = None

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """Begin an element."""

    def end(self, name: str) -> None:
        """End an element."""

    def read(self, stream: IO[bytes]) -> None:
        """Read a whole part."""
        for _ in self.steps(stream):
            pass

    def steps(self, stream: IO[bytes]) -> Iterator[None]:
        """Read a whole part, and stop for a moment after every piece."""
        while chunk := stream.read(CHUNK):
            self._parse(chunk)
            yield
        self._parse(b"")
        yield

    def listen(self) -> None:
        """Begin to keep text."""
        self._text, self._length = [], 0

    def heard(self) -> str:
        """Return the text kept, and keep no more."""
        text, self._text = "".join(self._text or ()), None
        return text

    def _parse(self, chunk: bytes) -> None:
        self._fed += len(chunk)
        try:
            self._parser.Parse(chunk, not chunk)
        except (expat.ExpatError, ValueError, OverflowError, LookupError) as error:
            raise DamagedError(str(error)) from None
        if self._fed - self._parser.CurrentByteIndex > LONGEST_TAG:
            raise DamagedError("a tag has no end")

    def _enter(self, name: str, attributes: dict[str, str]) -> None:
        self._depth += 1
        if self._depth > DEEPEST:
            raise DamagedError("elements are nested too deep")
        self.start(self._names[name], attributes)

    def _leave(self, name: str) -> None:
        self._depth -= 1
        self.end(self._names[name])

    def _hear(self, text: str) -> None:
        if self._text is None:
            return
        self._length += len(text)
        if self._length > LONGEST_TEXT:
            raise DamagedError("a cell holds more text than a cell can")
        self._text.append(text)

    def _refuse_doctype(self, *_: object) -> None:
        raise DamagedError("a part declares a document type")
