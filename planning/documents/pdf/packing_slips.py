"""Packing slips: a quarter page for every box of a wave, with its address, its contents and its code to scan.

Boxes of the same contents share one drawing of them, so that a slip costs little more than its address and bars.
Everything is pure black: label printers know no grey, and would break it up into dots.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO

from reportlab.pdfgen.canvas import Canvas

from planning.documents.listing import Box
from planning.documents.pdf.address import address_lines, lacking
from planning.documents.pdf.barcode import draw_code
from planning.documents.pdf.contents import (
    COUNT_SHARE,
    GAP,
    LEADING,
    ContentSheet,
    content_lines,
    set_contents,
)
from planning.documents.pdf.fonts import STRONG, TEXT, printable
from planning.documents.pdf.look import BLACK, HAIRLINE, NEED, slip_size
from planning.documents.pdf.page import Letterhead, open_canvas
from planning.documents.pdf.typeset import fit, shrunk
from planning.documents.pdf.words import contents_words, day, weight
from planning.documents.stamp import Stamp
from planning.flow import MonthPlan
from planning.month import Month
from planning.packing import BoxSpec
from planning.roster import Contents, Subscriber
from planning.shipping import Wave

SIDE = 18.0  # points kept free on the left and right
# Heights in points, from the top edge down to the contents and from the bottom edge up to them.
TITLE, NAME_TOP, CONTENTS_TOP = 26.0, 50.0, 148.0
CONTENTS_FOOT, SERVICE, BARS, FOOT = 106.0, 93.0, 46.0, 16.0
BARS_HEIGHT, NAME_HEIGHT, PLACE_WIDTH, WEIGHT_WIDTH = 36.0, 35.0, 110.0, 80.0
NAME_SIZES = (13.0, 11.0, 9.0, 7.0)
ADDRESS_SIZES = (10.0, 9.0, 8.0, 7.0, 6.0, 5.0)
NOTE_SIZE = 7.0
NOTE = "“?” stands for a character this print lacks: copy the address from the roster."


def packing_slips(month: Month, plan: MonthPlan, wave: Wave, boxes: Sequence[Box], stamp: Stamp) -> bytes:
    """Return the slips of a wave as a PDF, one A6 page (or quarter letter) a box, in the order of `boxes`.

    A box whose contents do not fit on one slip gets several, each with its address and code.
    """
    head = Letterhead(club=month.club, title=f"Packing slips, wave {wave.number}", stamp=stamp)
    specs = {spec.contents: spec for spec in plan.packing.boxes}
    file = BytesIO()
    canvas = open_canvas(file, head, slip_size(month.club.paper))
    slips = Slips(canvas, month, wave, stamp)
    draw_frame(slips)
    forms = {one: draw_contents(slips, specs[one], f"box{at}") for at, one in enumerate(contents_of(boxes))}
    pages = sum(len(forms[box.box_class.contents]) for box in boxes)
    for box in boxes:
        for form in forms[box.box_class.contents]:
            draw_slip(slips, box, form, pages)
    canvas.save()
    return file.getvalue()


@dataclass(frozen=True, slots=True)
class Slips:
    """The canvas of a wave's slips and what all of them share."""

    canvas: Canvas
    month: Month
    wave: Wave
    stamp: Stamp

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of a slip, in points."""
        return slip_size(self.month.club.paper)

    def at(self, from_top: float) -> float:
        """Return the height of a line from the bottom edge."""
        return self.size[1] - from_top


def contents_of(boxes: Sequence[Box]) -> tuple[Contents, ...]:
    """Return every different contents once, in the order first met."""
    return tuple(dict.fromkeys(box.box_class.contents for box in boxes))


# --- What slips share ---


def draw_frame(slips: Slips) -> None:
    """Draw what is the same on every slip of the wave, as a form named "frame"."""
    canvas, club, wave = slips.canvas, slips.month.club, slips.wave
    wide, high = slips.size
    canvas.beginForm("frame", 0, 0, wide, high)
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
    parts += [contents_words(contents, slips.month)]
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


def draw_slip(slips: Slips, box: Box, form: str, pages: int) -> None:
    """Draw one slip and turn the page."""
    canvas, (wide, _) = slips.canvas, slips.size
    page = canvas.getPageNumber()
    canvas.doForm("frame")
    canvas.doForm(form)
    canvas.setFont(TEXT, 6.5)
    canvas.drawRightString(wide - SIDE, FOOT, f"page {page} of {pages}")
    canvas.setFont(STRONG, 9)
    place = f"Wave {slips.wave.number}, box {box.place} of {slips.wave.boxes}"
    canvas.drawRightString(wide - SIDE, slips.at(TITLE), place)
    draw_address(slips, box.subscriber)
    draw_code(canvas, box.code, SIDE, BARS, wide - 2 * SIDE, BARS_HEIGHT)
    canvas.setFont(TEXT, 10)
    canvas.drawCentredString(wide / 2, BARS - 11, box.code, charSpace=1)
    canvas.showPage()


def draw_address(slips: Slips, subscriber: Subscriber) -> None:
    """Draw name and address, and a word where the typeface lacks some of their characters."""
    canvas, width = slips.canvas, slips.size[0] - 2 * SIDE
    room = CONTENTS_TOP - 12 - NAME_TOP
    if lacking(subscriber):
        room -= NOTE_SIZE * 1.5
        canvas.setFillColor(NEED)
        canvas.setFont(STRONG, NOTE_SIZE)
        canvas.drawString(SIDE, slips.at(NAME_TOP + room + NOTE_SIZE), NOTE)
        canvas.setFillColor(BLACK)
    name = fit([printable(subscriber.name)], STRONG, NAME_SIZES, width, NAME_HEIGHT)
    name.draw(canvas, SIDE, slips.at(NAME_TOP))
    address = fit(address_lines(subscriber), TEXT, ADDRESS_SIZES, width, room - name.height)
    address.draw(canvas, SIDE, slips.at(NAME_TOP + name.height))
