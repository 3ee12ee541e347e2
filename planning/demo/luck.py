"""What looks like chance and is arithmetic: the same number always has the same luck."""

from collections.abc import Sequence
from hashlib import blake2b
from typing import TypeVar

T = TypeVar("T")

CHOICES = {"#": "0123456789", "@": "ACDEFHKNPRTVWXY"}


class Luck:
    """One person's luck: a very long number, from which every question takes its share in turn."""

    def __init__(self, number: int) -> None:
        self._left = int.from_bytes(blake2b(b"%d" % number).digest(), "big")

    def below(self, size: int) -> int:
        """Return a number from 0 to below `size`."""
        self._left, taken = divmod(self._left, size)
        return taken

    def one_in(self, size: int) -> bool:
        """Tell whether this is one of the few."""
        return self.below(size) == 0

    def one_of(self, choices: Sequence[T]) -> T:
        """Return one of the choices, each as likely as the others."""
        return choices[self.below(len(choices))]

    def filled(self, pattern: str) -> str:
        """Return a pattern with a digit for each # and a letter for each @."""
        return "".join(self.one_of(CHOICES[char]) if char in CHOICES else char for char in pattern)


def lots(*shares: tuple[T, int]) -> tuple[T, ...]:
    """Return every choice as often as its share, to take one of."""
    return tuple(choice for choice, share in shares for _ in range(share))
