"""Packing slips: one for every box of a wave, with its address, its contents, and its code as bars and as a square.

Boxes of the same contents share one drawing of them, so that a slip costs little more than its address and bars.
Everything is pure black: label printers know no grey, and would break it up into dots.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from io import BytesIO
from itertools import chain

from reportlab.lib.colors import Color
from reportlab.lib.rl_accel import fp_str
from reportlab.pdfgen.canvas import Canvas

from planning.documents.codes import slip_code
from planning.documents.listing import Box
from planning.documents.pdf.address import address_lines, lacking
from planning.documents.pdf.barcode import code_marks
from planning.documents.pdf.contents import (
    COUNT_SHARE,
    GAP,
    LEADING,
    ContentSheet,
    content_lines,
    set_contents,
)
from planning.documents.pdf.fonts import STRONG, TEXT, printable
from planning.documents.pdf.look import BLACK, HAIRLINE, NEED
from planning.documents.pdf.page import Letterhead, open_canvas
from planning.documents.pdf.ready import ReadyPages
from planning.documents.pdf.slip_sheets import CUTS, SlipSheet, draw_cuts, slip_sheet
from planning.documents.pdf.square_code import square_marks
from planning.documents.pdf.typeset import fit, shrunk
from planning.documents.pdf.version_mark import draw_version_mark
from planning.documents.pdf.words import day, weight
from planning.documents.stamp import Stamp
from planning.flow import MonthPlan
from planning.month import Month
from planning.names import names_of, tier_name
from planning.packing import BoxSpec
from planning.roster import Contents, Subscriber
from planning.shipping import Wave

FRAME = "frame"
SIDE = 18.0  # points kept free on the left and right
# Heights in points, from the top edge down to the contents and from the bottom edge up to them.
TITLE, NAME_TOP, CONTENTS_TOP = 26.0, 50.0, 148.0
CONTENTS_FOOT, SERVICE, BARS, FOOT, SQUARE_FOOT = 106.0, 93.0, 46.0, 16.0, 27.0
BARS_HEIGHT, SQUARE, NAME_HEIGHT, PLACE_WIDTH, WEIGHT_WIDTH = 36.0, 62.0, 35.0, 110.0, 80.0
NAME_SIZES = (13.0, 11.0, 9.0, 7.0)
ADDRESS_SIZES = (10.0, 9.0, 8.0, 7.0, 6.0, 5.0)
NOTE_SIZE = 7.0
NOTE = "“?” stands for a character this print lacks: copy the address from the roster."


def packing_slips(month: Month, plan: MonthPlan, wave: Wave, boxes: Sequence[Box], stamp: Stamp) -> bytes:
    """Return the slips of a wave as a PDF, in the order of `boxes` and on the sheets the club prints them on.

    A box whose contents do not fit on one slip gets several, each with its address and code.
    """
    slips = open_slips(month, wave, stamp)
    forms = draw_forms(slips, plan, boxes)
    shared = (FRAME, CUTS) if slips.is_cut else (FRAME,)
    pages = ReadyPages(slips.canvas, (*shared, *chain.from_iterable(forms.values())), (TEXT, STRONG))
    for marks in marks_by_sheet(slips, pages, boxes, forms):
        pages.add(marks)
    return pages.finish()


@dataclass(frozen=True, slots=True)
class Slips:
    """The canvas of a wave's slips and what all of them share."""

    canvas: Canvas
    sheet: SlipSheet
    month: Month
    names: Mapping[str, str]
    wave: Wave
    stamp: Stamp

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of a slip, in points."""
        return self.sheet.slip

    @property
    def is_cut(self) -> bool:
        """Whether several slips lie on a sheet."""
        return len(self.sheet.places) > 1

    def at(self, from_top: float) -> float:
        """Return the height of a line from the bottom edge."""
        return self.size[1] - from_top


def open_slips(month: Month, wave: Wave, stamp: Stamp) -> Slips:
    """Begin a wave's slips."""
    head = Letterhead(club=month.club, title=f"Packing slips, wave {wave.number}", stamp=stamp)
    sheet = slip_sheet(month.club.slips)
    return Slips(open_canvas(BytesIO(), head, sheet.size), sheet, month, names_of(month), wave, stamp)


# --- What slips share ---

Forms = Mapping[Contents, Sequence[str]]
"""Of each contents the forms it is drawn as, one a slip."""


def draw_forms(slips: Slips, plan: MonthPlan, boxes: Iterable[Box]) -> Forms:
    """Draw the frame of every slip, and every different contents once, in the order first met."""
    draw_frame(slips)
    if slips.is_cut:
        draw_cuts(slips.canvas, slips.sheet)
    specs = {spec.contents: spec for spec in plan.packing.boxes}
    different = dict.fromkeys(box.box_class.contents for box in boxes)
    return {one: draw_contents(slips, specs[one], f"box{at}") for at, one in enumerate(different)}


def draw_frame(slips: Slips) -> None:
    """Draw what is the same on every slip of the wave, as a form."""
    canvas, club, wave = slips.canvas, slips.month.club, slips.wave
    wide, high = slips.size
    canvas.beginForm(FRAME, 0, 0, wide, high)
    name = printable(club.name)
    canvas.setFont(STRONG, shrunk(name, STRONG, 9, wide - 2 * SIDE - PLACE_WIDTH))
    canvas.drawString(SIDE, slips.at(TITLE), name)
    canvas.setLineWidth(HAIRLINE)
    for y in (slips.at(TITLE + 6), slips.at(CONTENTS_TOP - 6), SERVICE + 12):
        canvas.line(SIDE, y, wide - SIDE, y)
    service = printable(f"{wave.service.carrier}, {wave.service.name}, collected {day(wave.collected)}")
    canvas.setFont(TEXT, shrunk(service, TEXT, 8.5, wide - 2 * SIDE - WEIGHT_WIDTH))
    canvas.drawString(SIDE, SERVICE, service)
    canvas.setFont(TEXT, 6.5)
    canvas.drawString(SIDE, FOOT, printable(slips.stamp.text))
    draw_version_mark(canvas, slips.size, slips.stamp)
    canvas.endForm()


def draw_contents(slips: Slips, spec: BoxSpec, name: str) -> list[str]:
    """Draw the contents of equal boxes as forms, and return the forms' names: one a slip."""
    wide, high = slips.size
    sheets = set_contents(content_lines(spec), wide - 2 * SIDE, high - CONTENTS_TOP - CONTENTS_FOOT)
    names = []
    for number, sheet in enumerate(sheets, 1):
        names.append(f"{name}-{number}")
        slips.canvas.beginForm(names[-1], 0, 0, wide, high)
        draw_heading(slips, spec, number, len(sheets))
        draw_columns(slips, sheet)
        slips.canvas.endForm()
    return names


def draw_heading(slips: Slips, spec: BoxSpec, number: int, sheets: int) -> None:
    """Draw what the box is, and its weight."""
    canvas, (wide, _) = slips.canvas, slips.size
    contents, club = spec.contents, slips.month.club
    parts = [club.kit_name] if contents.kit else []
    parts += [tier_name(contents.tier, slips.names) if contents.kit else "goods only"]
    parts += [f"slip {number} of {sheets}"] if sheets > 1 else []
    text = printable(f"{club.month.title}: {', '.join(parts)}")
    canvas.setFont(TEXT, shrunk(text, TEXT, 8.5, wide - 2 * SIDE))
    canvas.drawString(SIDE, slips.at(TITLE + 17), text)
    canvas.setFont(STRONG, 8.5)
    canvas.drawRightString(wide - SIDE, SERVICE, weight(spec.weight, club.paper))


def draw_columns(slips: Slips, sheet: ContentSheet) -> None:
    """Draw the columns of a contents sheet."""
    canvas, (wide, _) = slips.canvas, slips.size
    setting = sheet.setting
    room = setting.size * COUNT_SHARE
    for place, column in enumerate(sheet.columns):
        left = SIDE + place * (setting.column_width(wide - 2 * SIDE) + GAP)
        for row, line in enumerate(column, 1):
            y = slips.at(CONTENTS_TOP) - row * setting.size * LEADING + setting.size * 0.3
            canvas.setFont(STRONG, setting.size)
            canvas.drawRightString(left + room - 6, y, line.count)
            canvas.setFont(STRONG if line.heading else TEXT, setting.size)
            canvas.drawString(left if line.heading else left + room, y, line.name)


# --- One slip ---


def marks_by_sheet(
    slips: Slips, pages: ReadyPages, boxes: Sequence[Box], forms: Forms
) -> Iterator[Sequence[str]]:
    """Yield the marks of every sheet."""
    each = marks_by_slip(slips, pages, boxes, forms)
    if not slips.is_cut:
        yield from each
        return
    for sheet in slips.sheet.filled(list(each)):
        placed = ((f"q 1 0 0 1 {fp_str(*corner)} cm", *marks, "Q") for corner, marks in sheet)
        yield [*chain.from_iterable(placed), pages.form(CUTS)]


def marks_by_slip(slips: Slips, pages: ReadyPages, boxes: Sequence[Box], forms: Forms) -> Iterator[list[str]]:
    """Yield the marks of every slip."""
    each = [(box, form) for box in boxes for form in forms[box.box_class.contents]]
    for number, (box, form) in enumerate(each, 1):
        what = "slip" if slips.is_cut else "page"
        yield slip_marks(slips, pages, box, form, f"{what} {number} of {len(each)}")


def slip_marks(slips: Slips, pages: ReadyPages, box: Box, form: str, page: str) -> list[str]:
    """Return the marks of one slip."""
    wide, wave = slips.size[0], slips.wave
    bars, square = wide - 2 * SIDE - SQUARE, slip_code(box.code, slips.stamp.version)
    place = f"Wave {wave.number}, box {box.place} of {wave.boxes}"
    return [
        pages.form(FRAME),
        pages.form(form),
        pages.right(wide - SIDE, FOOT, TEXT, 6.5, page),
        pages.right(wide - SIDE, slips.at(TITLE), STRONG, 9, place),
        *address_marks(slips, pages, box.subscriber),
        code_marks(box.code, SIDE, BARS, bars, BARS_HEIGHT),
        square_marks(square, wide - SIDE - SQUARE, SQUARE_FOOT, SQUARE),
        pages.centred(SIDE + bars / 2, BARS - 11, TEXT, 10, box.code, spread=1),
    ]


def address_marks(slips: Slips, pages: ReadyPages, subscriber: Subscriber) -> list[str]:
    """Return the marks of name and address, and of a word where the typeface lacks some of their characters."""
    marks, width, room = [], slips.size[0] - 2 * SIDE, CONTENTS_TOP - 12 - NAME_TOP
    if lacking(subscriber):
        room -= NOTE_SIZE * 1.5
        note = pages.text(SIDE, slips.at(NAME_TOP + room + NOTE_SIZE), STRONG, NOTE_SIZE, NOTE)
        marks += [filled_with(NEED), note, filled_with(BLACK)]
    name = fit([printable(subscriber.name)], STRONG, NAME_SIZES, width, NAME_HEIGHT)
    address = fit(address_lines(subscriber), TEXT, ADDRESS_SIZES, width, room - name.height)
    marks += [
        pages.block(SIDE, slips.at(NAME_TOP), name),
        pages.block(SIDE, slips.at(NAME_TOP + name.height), address),
    ]
    return marks


def filled_with(color: Color) -> str:
    """Return what gives the marks behind it a colour."""
    return f"{fp_str(color.red, color.green, color.blue)} rg"
