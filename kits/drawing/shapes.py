"""The shapes of a drawing, in millimetres from its top left corner.

These are places on paper or screen, not measures of anything: a drawing is to scale, and what is measured stands
in it as text.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from kits.drawing.look import Style

Point: TypeAlias = tuple[float, float]


class Anchor(StrEnum):
    """Which end of a text lies at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle; x, y is its top left corner."""

    x: float
    y: float
    width: float
    height: float
    style: Style


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float
    style: Style


@dataclass(frozen=True, slots=True)
class Path:
    """One or more lines through points, drawn as one; closed ones return to their first point."""

    lines: tuple[tuple[Point, ...], ...]
    style: Style
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text; x, y is where its baseline starts, halves or ends. upwards: read from below."""

    x: float
    y: float
    text: str
    size: float
    anchor: Anchor = Anchor.START
    upwards: bool = False
    style: Style = Style.LABEL


@dataclass(frozen=True, slots=True)
class Group:
    """Shapes that belong together, moved as one. name: what they are, as a class in an SVG."""

    shapes: tuple["Shape", ...]
    name: str
    x: float = 0
    y: float = 0


Shape: TypeAlias = Rect | Line | Path | Text | Group


@dataclass(frozen=True, slots=True)
class Drawing:
    """Shapes on a ground of this size. title: what it shows; description: all it says, in words."""

    width: float
    height: float
    title: str
    description: str
    shapes: tuple[Shape, ...]

    def __post_init__(self) -> None:
        if self.width <= 0 or self.height <= 0:
            raise ValueError("a drawing needs a width and a height above zero")
        if not self.title.strip():
            raise ValueError("a drawing needs a title, for those who cannot see it")
