"""What was probably meant by a code that is none."""

from collections.abc import Collection
from difflib import get_close_matches
from functools import lru_cache

MANY = 2_000  # comparing letter by letter with more codes than this would keep people waiting


def did_you_mean(value: str, among: Collection[str]) -> str:
    """Return a question that names the likeliest code, or nothing."""
    meant = closest(value, frozenset(among))
    return f"Did you mean {meant}?" if meant else ""


@lru_cache(maxsize=1_000)
def closest(value: str, among: frozenset[str]) -> str | None:
    """Return the entry that differs from value least; capitals, spaces and punctuation count for nothing."""
    alike = bare_index(among)
    if (bare := bare_letters(value)) in alike:
        return alike[bare]
    close = get_close_matches(bare, alike, n=1) if len(alike) <= MANY else []
    return alike[close[0]] if close else None


@lru_cache(maxsize=50)
def bare_index(among: frozenset[str]) -> dict[str, str]:
    """Index entries by their bare letters; of several alike the first in the alphabet."""
    return {bare_letters(one): one for one in sorted(among, reverse=True) if bare_letters(one)}


def bare_letters(text: str) -> str:
    """Return letters and digits alone, in small letters."""
    return "".join(char for char in text.casefold() if char.isalnum())
