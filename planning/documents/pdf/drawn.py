"""A drawing as part of a page."""

from dataclasses import replace

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from kits.drawing import Drawing, Group, Shape, Text
from kits.drawing.pdf import draw
from planning.documents.pdf.fonts import TEXT, printable


class Drawn(Flowable):
    """A drawing to scale, as large as the room for it: no wider and no taller than so many points."""

    def __init__(self, drawing: Drawing, width: float, tallest: float) -> None:
        super().__init__()
        self.drawing = replace(drawing, shapes=tuple(map(legible, drawing.shapes)))
        self.scale = min(width / (drawing.width * mm), tallest / (drawing.height * mm))
        self.width, self.height = drawing.width * mm * self.scale, drawing.height * mm * self.scale

    def draw(self) -> None:
        """Draw it where the page has come to."""
        draw(self.canv, self.drawing, 0, 0, self.scale, TEXT)


def legible(shape: Shape) -> Shape:
    """Return a shape with its words as papers print them."""
    if isinstance(shape, Text):
        return replace(shape, text=printable(shape.text))
    if isinstance(shape, Group):
        return replace(shape, shapes=tuple(map(legible, shape.shapes)))
    return shape
