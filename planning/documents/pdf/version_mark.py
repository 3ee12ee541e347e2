"""A mark at the right edge of every print that stands elsewhere for every version of a plan.

Laid in a stack, the prints of one plan have their marks in one line, and a print of an earlier plan stands out; printers
tell the sheets of a book apart in the same way. After eight versions the mark is back where it began.
"""

from reportlab.pdfgen.canvas import Canvas

from planning.documents.pdf.fonts import STRONG
from planning.documents.pdf.look import BLACK
from planning.documents.stamp import MARK_STEPS, Stamp, mark_step

WIDE, FROM_EDGE, TOP, BLOCK = 4.5, 11.0, 30.0, 22.0  # points
NUMBER_SIZE = 6.0


def draw_version_mark(canvas: Canvas, size: tuple[float, float], stamp: Stamp) -> None:
    """Draw the mark of a plan's version, and its number below it."""
    wide, high = size
    step = (high - TOP - 90) / MARK_STEPS
    y = high - TOP - step * (mark_step(stamp.version) - 1) - BLOCK
    canvas.setFillColor(BLACK)
    canvas.rect(wide - FROM_EDGE, y, WIDE, BLOCK, stroke=0, fill=1)
    canvas.setFont(STRONG, NUMBER_SIZE)
    canvas.drawCentredString(wide - FROM_EDGE + WIDE / 2, y - NUMBER_SIZE, f"v{stamp.version}")
