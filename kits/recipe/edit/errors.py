"""Why something cannot be done to a recipe's text at the trimmer."""

from enum import StrEnum


class EditName(StrEnum):
    """What kind of reason it is."""

    NO_PART = "no such part"
    FINISHED = "finished"
    CUT_AT_NOTHING = "cut at nothing"
    CUT_AT_EDGE = "cut at the edge"
    CUT_BEYOND_EDGE = "cut beyond the edge"
    OFF_RULER = "off the ruler"
    NOT_WANTED = "not wanted"
    PROBLEM = "problem"


class EditError(ValueError):
    """Something cannot be done. line: where, from 1; why goes on from what was asked; allowed: a sentence."""

    def __init__(self, name: EditName, line: int, what: str, why: str, allowed: str) -> None:
        super().__init__(name, line, what, why, allowed)
        self.name = name
        self.line = line
        self.what = what
        self.why = why
        self.allowed = allowed

    def __str__(self) -> str:
        return f"line {self.line}: {self.what} {self.why}. {self.allowed}"
