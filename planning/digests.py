"""What tells one month's rows from another's: a digest of each table, and a short fingerprint of them all.

A table's digest is a sum with a term for each row, made of the row and of the one before it. So it knows their order, and
after a change to few rows of a long table only their terms and those of the rows behind them are new.
"""

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import fields
from decimal import Decimal
from fractions import Fraction
from itertools import chain, pairwise
from operator import attrgetter
from typing import Any

MODULUS = 1 << 128
FIRST = b""  # stands before the first row

Link = tuple[bytes, bytes]  # marks of a row and of the one behind it


def mark(row: Any) -> bytes:
    """Return a short mark of a row: equal rows, equal mark, however their decimals were written."""
    values = attrgetter(*(each.name for each in fields(row)))(row)
    return hashlib.sha256(json.dumps(values, default=_plain).encode()).digest()[:16]


def digest(rows: Iterable[Any]) -> int:
    """Return the digest of a table's rows in their order, looked at one by one: a roster needs no memory of its own."""
    return sum_of(pairwise(chain((FIRST,), map(mark, rows))))


def sum_of(links: Iterable[Link]) -> int:
    """Return the sum of some rows' terms."""
    total = 0
    for link in links:
        total += int.from_bytes(hashlib.sha256(b"".join(link)).digest()[:16])
    return total % MODULUS


def changed(before: int, gone: Iterable[Link], come: Iterable[Link]) -> int:
    """Return a table's digest once some of its links have given way to others."""
    return (before - sum_of(gone) + sum_of(come)) % MODULUS


def fingerprint_of(digests: Mapping[str, int]) -> str:
    """Return the fingerprint of a month from the digests of its tables."""
    return hashlib.sha256(json.dumps(sorted(digests.items())).encode()).hexdigest()[:8]


def _plain(value: Any) -> object:
    if isinstance(value, Decimal | Fraction):
        exact = Fraction(value)
        return exact.numerator if exact.denominator == 1 else str(exact)
    return str(value)
