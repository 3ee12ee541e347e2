"""How far a run is: one line that changes on a terminal, plain lines anywhere else."""

from types import TracebackType
from typing import Protocol

CLEAR = "\r\x1b[K"


class Stream(Protocol):
    """What progress is written to, such as a command's own stderr."""

    def isatty(self) -> bool:
        """Whether a person watches."""

    def write(self, msg: str, *, ending: str | None = ...) -> None:
        """Write a message and its ending."""

    def flush(self) -> None:
        """Show what was written."""


class Progress:
    """Tells a terminal the stage and the count, and a log each stage once."""

    def __init__(self, stream: Stream) -> None:
        self.stream = stream
        self.name = ""

    def __enter__(self) -> "Progress":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.clear()

    def stage(self, name: str) -> None:
        """Begin a stage."""
        self.name = name
        if self.stream.isatty():
            self._show(f"{name} ...")
        else:
            self.stream.write(f"{name} ...")

    def count(self, done: int, total: int) -> None:
        """Say how far the stage is; a log is spared this."""
        if self.stream.isatty():
            self._show(f"{self.name} {done:,} of {total:,} ...")

    def clear(self) -> None:
        """Take the line away, before something else is said."""
        if self.stream.isatty():
            self._show("")

    def _show(self, line: str) -> None:
        self.stream.write(f"{CLEAR}{line}", ending="")
        self.stream.flush()
