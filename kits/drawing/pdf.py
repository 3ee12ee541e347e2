"""The same drawing on a page of a PDF."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from kits.drawing.look import LOOKS, Style
from kits.drawing.shapes import Anchor, Drawing, Group, Line, Path, Rect, Shape, Text

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

POINTS_PER_MM = 72 / 25.4


def draw(canvas: "Canvas", drawing: Drawing, x: float, y: float, scale: float, font: str) -> None:
    """Draw on a canvas, the lower left corner at x, y (in points).

    scale: size on the page for 1 of the drawing's millimetres; 1 is as large as it says. font: the name of a
    TrueType font that is registered and covers the drawing's text.
    """
    canvas.saveState()
    canvas.translate(x, y + drawing.height * scale * POINTS_PER_MM)
    canvas.scale(scale * POINTS_PER_MM, scale * POINTS_PER_MM)
    _draw(canvas, drawing.shapes, font)
    canvas.restoreState()


def _draw(canvas: "Canvas", shapes: Iterable[Shape], font: str) -> None:
    for shape in shapes:
        match shape:
            case Group():
                canvas.saveState()
                canvas.translate(shape.x, -shape.y)
                _draw(canvas, shape.shapes, font)
                canvas.restoreState()
            case Rect():
                look = _take(canvas, shape.style)
                canvas.rect(shape.x, -shape.y - shape.height, shape.width, shape.height, *look)
            case Line():
                _take(canvas, shape.style)
                canvas.line(shape.x1, -shape.y1, shape.x2, -shape.y2)
            case Path():
                _draw_path(canvas, shape)
            case Text():
                _draw_text(canvas, shape, font)


def _draw_path(canvas: "Canvas", shape: Path) -> None:
    look = _take(canvas, shape.style)
    path = canvas.beginPath()
    for first, *others in shape.lines:
        path.moveTo(first[0], -first[1])
        for point in others:
            path.lineTo(point[0], -point[1])
        if shape.closed:
            path.close()
    canvas.drawPath(path, *look)


def _draw_text(canvas: "Canvas", text: Text, font: str) -> None:
    _take(canvas, text.style)
    canvas.saveState()
    canvas.translate(text.x, -text.y)
    if text.upwards:
        canvas.rotate(90)
    canvas.setFont(font, text.size)
    match text.anchor:
        case Anchor.START:
            canvas.drawString(0, 0, text.text)
        case Anchor.MIDDLE:
            canvas.drawCentredString(0, 0, text.text)
        case Anchor.END:
            canvas.drawRightString(0, 0, text.text)
    canvas.restoreState()


def _take(canvas: "Canvas", style: Style) -> tuple[int, int]:
    """Take up the style's pens; return whether to stroke and whether to fill, as the canvas wants it."""
    from reportlab.lib.colors import HexColor

    look = LOOKS[style]
    if look.fill != "none":
        canvas.setFillColor(HexColor(look.fill))
    if look.stroke != "none":
        canvas.setStrokeColor(HexColor(look.stroke))
        canvas.setLineWidth(look.stroke_width)
    return int(look.stroke != "none"), int(look.fill != "none")
