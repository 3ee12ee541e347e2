"""One display list for every drawing: shapes in millimetres of paper, written as SVG or drawn into a PDF."""

from kits.drawing.arrow import arrow_both_ways
from kits.drawing.fit import fitted
from kits.drawing.hatch import hatched
from kits.drawing.letters import text_width
from kits.drawing.look import LOOKS, Look, Style
from kits.drawing.pdf import draw
from kits.drawing.shapes import Anchor, Drawing, Group, Line, Path, Point, Rect, Shape, Text
from kits.drawing.svg import svg

__all__ = [
    "LOOKS",
    "Anchor",
    "Drawing",
    "Group",
    "Line",
    "Look",
    "Path",
    "Point",
    "Rect",
    "Shape",
    "Style",
    "Text",
    "arrow_both_ways",
    "draw",
    "fitted",
    "hatched",
    "svg",
    "text_width",
]
