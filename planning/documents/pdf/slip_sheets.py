"""How slips lie on the sheets they are printed on: one a page, or two or four on a sheet that is cut apart along lines.

Sheets are filled as a stack is cut: when the cut stacks are laid on each other, first place on top, the slips are in order.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from reportlab.lib.pagesizes import A4, A6, landscape, letter
from reportlab.pdfgen.canvas import Canvas

from planning.documents.pdf.barcode import DOT
from planning.documents.pdf.fonts import TEXT
from planning.documents.pdf.look import HAIRLINE
from planning.month import SlipFormat

CUTS = "cuts"
CAUTION = "Cut here. Hands clear of the blade; local rules, the maker's manual and trained staff come before this line."
CAUTION_SIZE, OFF_THE_LINE = 5.0, 4.0
DASHES = 4, 3

T = TypeVar("T")
Size = tuple[float, float]


@dataclass(frozen=True, slots=True)
class SlipSheet:
    """A sheet and its slips, in points. places: the lower left corner of each slip, in stacking order."""

    size: Size
    slip: Size
    places: tuple[tuple[float, float], ...]

    def sheets(self, slips: int) -> int:
        """Return how many sheets so many slips take."""
        return -(-slips // len(self.places))

    def filled(self, slips: Sequence[T]) -> Iterator[list[tuple[tuple[float, float], T]]]:
        """Yield what lies where on each sheet."""
        sheets = self.sheets(len(slips))
        for first in range(sheets):
            yield list(zip(self.places, slips[first::sheets], strict=False))


def slip_sheet(slips: SlipFormat) -> SlipSheet:
    """Return the sheet of a format. Places stand on whole dots of a 200 dpi printer, so that no bar falls between two."""
    sizes: dict[SlipFormat, tuple[Size, int, int]] = {
        SlipFormat.A6: (A6, 1, 1),
        SlipFormat.HALF_LETTER: ((letter[1] / 2, letter[0]), 1, 1),
        SlipFormat.A4_TWO: (landscape(A4), 2, 1),
        SlipFormat.A4_FOUR: (A4, 2, 2),
        SlipFormat.LETTER_TWO: (landscape(letter), 2, 1),
        SlipFormat.LETTER_FOUR: (letter, 2, 2),
    }
    (wide, high), across, down = sizes[slips]
    slip = wide / across, high / down
    places = tuple(
        (on_a_dot(column * slip[0]), on_a_dot(row * slip[1]))
        for row in reversed(range(down))
        for column in range(across)
    )
    return SlipSheet((wide, high), slip, places)


def on_a_dot(place: float) -> float:
    """Return the nearest place on a whole dot."""
    return round(place / DOT) * DOT


def draw_cuts(canvas: Canvas, sheet: SlipSheet) -> None:
    """Draw the lines to cut along as a form, with a caution beside the first one."""
    wide, high = sheet.size
    canvas.beginForm(CUTS, 0, 0, wide, high)
    canvas.setLineWidth(HAIRLINE)
    canvas.setDash(*DASHES)
    canvas.line(wide / 2, 0, wide / 2, high)
    if len(sheet.places) > 2:
        canvas.line(0, high / 2, wide, high / 2)
    canvas.setFont(TEXT, CAUTION_SIZE)
    canvas.rotate(90)
    canvas.drawCentredString(sheet.slip[1] / 2, -wide / 2 - OFF_THE_LINE - CAUTION_SIZE, CAUTION)
    canvas.endForm()
