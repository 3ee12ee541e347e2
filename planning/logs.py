"""The log: one line of JSON a record, with the job it is about, and never a name or an address of anybody's.

What people typed can stand in the words of an error, since a database quotes the row that it refuses. So of an error only
its kind and its place in the program are written.
"""

import json
import logging
import time
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from traceback import format_tb

_about: ContextVar[dict[str, str | int]] = ContextVar("about")


@contextmanager
def about(**known: str | int) -> Iterator[None]:
    """Have every record of this thread say what it is about while the block runs, such as about(job=7)."""
    before = _about.set(_about.get({}) | known)
    try:
        yield
    finally:
        _about.reset(before)


class OneLine(logging.Formatter):
    """A log record as one line of JSON: time, level, logger, message, what it is about, then what came by `extra`."""

    standard = frozenset(vars(logging.makeLogRecord({}))) | {"message", "asctime"}

    def format(self, record: logging.LogRecord) -> str:
        """Return the line; of an error, its kind and its traceback without its words."""
        line: dict[str, str | int] = {
            "time": time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(record.created)),
            "level": record.levelname,
            "logger": record.name,
            "message": record.getMessage(),
        }
        # Only plain values: a request's own text holds its query, and with it what somebody searched for.
        extra = {
            name: value
            for name, value in vars(record).items()
            if name not in self.standard and isinstance(value, str | int)
        }
        line |= _about.get({}) | extra
        if record.exc_info and record.exc_info[1]:
            errors = list(chain_of(record.exc_info[1]))
            line["message"] = without_words(str(line["message"]), errors)
            line["traceback"] = "\nwhich led to\n".join(map(place, errors))
        return json.dumps(line, ensure_ascii=False)


def chain_of(error: BaseException) -> Iterator[BaseException]:
    """Yield what led to an error, the first cause first, then the error itself."""
    chain: list[BaseException] = []
    link: BaseException | None = error
    while link is not None and link not in chain:
        chain.append(link)
        link = link.__cause__ or (None if link.__suppress_context__ else link.__context__)
    yield from reversed(chain)


def place(error: BaseException) -> str:
    """Return where an error comes from and its kind, with the number its system gives it."""
    number = getattr(error, "sqlstate", None) or getattr(error, "errno", None)
    kind = type(error).__qualname__
    return "".join(format_tb(error.__traceback__)) + (f"{kind} {number}" if number else kind)


def without_words(message: str, errors: list[BaseException]) -> str:
    """Return a message with the words of errors replaced by their kinds."""
    for error in reversed(errors):  # causes may have the same words
        for words in filter(None, (repr(error), str(error))):
            message = message.replace(words, type(error).__qualname__)
    return message
