"""Columns that give back the very value they were given: nothing is rounded on its way through a database.

SQLite keeps a decimal number as a binary fraction, and no database knows 1/3; so exact values lie in text.
"""

import json
from collections.abc import Callable, Iterable
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING, Any, TypeAlias

from django.db import models

from kits.measures import parse_grammage

if TYPE_CHECKING:
    WholeNumbers: TypeAlias = models.PositiveBigIntegerField[int | None, int | None]
    Texts: TypeAlias = models.TextField[Any, Any]
else:
    WholeNumbers, Texts = models.PositiveBigIntegerField, models.TextField


class LengthField(WholeNumbers):
    """A length, in whole 1/8 micrometres."""


class WrittenField(Texts):
    """A value kept as the text it is written as; `read` makes the value again."""

    read: Callable[[str], Any] = str

    def from_db_value(self, value: str | None, *_: object) -> Any:
        """Make the value from its text."""
        return self.to_python(value)

    def to_python(self, value: Any) -> Any:
        """Make the value from its text; a value stays as it is."""
        return type(self).read(value) if isinstance(value, str) else value

    def get_prep_value(self, value: Any) -> str | None:
        """Write the value."""
        return None if value is None else str(value)

    def value_to_string(self, obj: models.Model) -> str:
        """Write the value for a fixture."""
        return self.get_prep_value(self.value_from_object(obj)) or ""


class DecimalField(WrittenField):
    """A Decimal with every digit it was written with."""

    read = Decimal


class FractionField(WrittenField):
    """A Fraction, written 3/8."""

    read = Fraction


class GrammageField(WrittenField):
    """The weight of a paper, written as its maker states it: 80 lb cover."""

    read = staticmethod(parse_grammage)


class EnumField(WrittenField):
    """One word of an enumeration."""

    def __init__(self, words: type[StrEnum], **options: Any) -> None:
        self.words = words
        super().__init__(**options)

    def deconstruct(self) -> tuple[str, str, Any, Any]:
        """Return what a migration writes down of the column."""
        name, path, args, options = super().deconstruct()
        return name, path, [self.words, *args], options

    def to_python(self, value: Any) -> Any:
        """Make the word from its text."""
        return None if value is None else self.words(value)


class CodesField(WrittenField):
    """A tuple of codes, in order."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**{"default": tuple, **options})

    def to_python(self, value: Any) -> Any:
        """Make the tuple from its text."""
        return tuple(map(self.read_code, json.loads(value))) if isinstance(value, str) else value

    def get_prep_value(self, value: Iterable[object] | None) -> str | None:
        """Write the codes as a JSON list."""
        return None if value is None else json.dumps([str(code) for code in value], ensure_ascii=False)

    def read_code(self, code: str) -> Any:
        """Make one member of the tuple; a code is a text already."""
        return code
