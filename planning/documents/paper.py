"""A paper as the writer sees it: a name, and how to make its bytes when they are asked for."""

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """One document. name: relative path with its ending, such as `slips/wave-003.pdf`; title: what it is, for a list."""

    name: str
    title: str
    make: Callable[[], bytes]
