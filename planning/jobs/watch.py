"""A worker's part while it is being done: says how far it is, and hears that it should stop."""

import ctypes
from threading import Event, Lock, Thread, get_ident
from types import TracebackType
from typing import TYPE_CHECKING

from django.db import InterfaceError, OperationalError, connection

if TYPE_CHECKING:
    from planning.jobs.rows import Hold

BEAT = 2.0  # seconds between signs of life, and the longest a worker goes on with what is not wanted any more


class Watch:
    """Gives signs of life for as long as the `with` block runs, however long one of its steps takes.

    Where the job is called off, or the part was taken for dead and given to another, Cancelled or Lost is raised in the
    block, whatever it is doing.
    """

    def __init__(self, hold: "Hold") -> None:
        self.hold = hold
        self.interrupted = False
        self._over = Event()
        self._lock = Lock()
        self._worker = get_ident()
        self._thread = Thread(target=self._beat, daemon=True)

    def stage(self, words: str) -> None:
        """Say what the work is at. Raises Cancelled or Lost."""
        from planning.jobs.rows import say

        say(self.hold, words)

    def __enter__(self) -> "Watch":
        self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with self._lock:
            self._over.set()
        self._thread.join()

    def _beat(self) -> None:
        from planning.jobs.rows import beat

        while not self._over.wait(BEAT):
            try:
                amiss = beat(self.hold)
            except (OperationalError, InterfaceError):  # the next beat may get through
                amiss = None
                connection.close()
            if amiss is not None:
                self._interrupt(amiss)
                break
        connection.close()

    def _interrupt(self, amiss: type[Exception]) -> None:
        """Raise an exception in the thread that works, which need not look for it."""
        with self._lock:
            if not self._over.is_set():
                self.interrupted = True
                thread = ctypes.c_ulong(self._worker)
                ctypes.pythonapi.PyThreadState_SetAsyncExc(thread, ctypes.py_object(amiss))
