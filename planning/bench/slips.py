"""A wave's packing slips, against the same marks drawn on a bare canvas and the same bytes written by hand.

Neither of the two works anything out: the canvas is told every place, text and bar, the hand every rectangle and else
the very bytes, those of typeface and forms too.
"""

import re
import zlib
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from functools import partial
from itertools import cycle, islice
from typing import Any

from planning.bench.rates import cpu_medians, reached
from planning.bench.row import Row
from planning.demo import demo_month
from planning.documents.listing import Box, list_boxes
from planning.documents.pdf import packing_slips
from planning.documents.pdf.fonts import STRONG, TEXT
from planning.documents.pdf.packing_slips import Forms, Slips, draw_forms, marks_by_slip, open_slips
from planning.documents.pdf.ready import SHARE_BELOW, ReadyPages
from planning.documents.pdf.typeset import LEADING, Block
from planning.documents.stamp import Stamp
from planning.flow import MonthPlan, plan_month
from planning.month import Month

PEOPLE = 1_000
SLIPS = 1_000
AIM_OF_CANVAS, AIM_OF_HAND = 0.9, 0.5

STAMP = Stamp(plan_id="BENCH-2027-04-0", version=1, made_at=datetime(2027, 3, 1, tzinfo=UTC))
PAGE_STREAM = re.compile(rb"<< /Filter /FlateDecode /Length (\d+) >>\nstream\n")
RECTANGLE = re.compile(r"([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+) re")
PAGE = (
    b"%d 0 obj\n<< /Type /Page /Parent 1 0 R /Resources 2 0 R /MediaBox [ 0 0 297.6378 419.5276 ] "
    b"/Contents %d 0 R >>\nendobj\n"
)


Told = tuple[str | list[tuple[float, ...]], ...]
"""What is on a page, in order: text as it stands, and between it rectangles by corner and size."""


def slip_rows() -> Iterator[Row]:
    """Yield a row for each of the two: our rate as a share of theirs."""
    month = demo_month(PEOPLE)
    return compared(month, plan_month(month), SLIPS)


def compared(month: Month, plan: MonthPlan, count: int) -> Iterator[Row]:
    """Yield the rows for so many slips of a month."""
    boxes = list(islice(cycle(box for box in list_boxes(month, plan) if box.wave), count))
    ours = partial(packing_slips, month, plan, plan.waves[0], boxes, STAMP)
    front, pages = parts_of(ours())
    canvas = partial(on_a_canvas, month, plan, boxes, recorded(month, plan, boxes))
    own, bare, hand = cpu_medians(ours, canvas, partial(by_hand, front, [told(page) for page in pages]))
    for name, other, aim in (("a bare canvas", bare, AIM_OF_CANVAS), ("writing by hand", hand, AIM_OF_HAND)):
        ended = f"{reached(other / own, aim)} of the rate of {name}, {int(count / other):,} slips/s"
        yield Row(f"Packing slips and {name}", None, int(count / own), None, ended, own)


# --- The same marks on a bare canvas ---

Text = tuple[float, float, str, float, str, float]
"""x, y, font, size, text, spread."""


class Recorder(ReadyPages):
    """Notes the texts of a page instead of writing their operators."""

    texts: list[Text]

    def text(self, x: float, y: float, font: str, size: float, text: str, spread: float = 0) -> str:
        """Note a text."""
        self.texts.append((x, y, font, size, text, spread))
        return ""

    def block(self, x: float, top: float, block: Block) -> str:
        """Note every line."""
        for row, line in enumerate(block.lines, 1):
            y = top - row * block.size * LEADING + block.size * SHARE_BELOW
            self.text(x, y, block.font, block.size, line)
        return ""


Drawn = tuple[list[str], list[Text], list[tuple[float, ...]]]
"""The forms, texts and rectangles of a page."""


def recorded(month: Month, plan: MonthPlan, boxes: Sequence[Box]) -> list[Drawn]:
    """Return what is drawn on each page."""
    slips, forms = _begun(month, plan, boxes)
    recorder = Recorder(slips.canvas, (), (TEXT, STRONG))
    drawn = []
    recorder.texts = []
    for marks in marks_by_slip(slips, recorder, boxes, forms):
        bars = [tuple(map(float, found)) for mark in marks for found in RECTANGLE.findall(mark)]
        used = [mark.removeprefix("/FormXob.").removesuffix(" Do") for mark in marks if mark.endswith(" Do")]
        drawn.append((used, recorder.texts, bars))
        recorder.texts = []
    return drawn


def on_a_canvas(month: Month, plan: MonthPlan, boxes: Sequence[Box], drawn: Sequence[Drawn]) -> None:
    """Draw the pages with the library's own calls."""
    slips, _ = _begun(month, plan, boxes)
    canvas: Any = slips.canvas
    for forms, texts, bars in drawn:
        for form in forms:
            canvas.doForm(form)
        for x, y, font, size, text, spread in texts:
            canvas.setFont(font, size)
            canvas.drawString(x, y, text, charSpace=spread)
        path = canvas.beginPath()
        for bar in bars:
            path.rect(*bar)
        canvas.drawPath(path, stroke=0, fill=1)
        canvas.showPage()
    canvas.save()


def _begun(month: Month, plan: MonthPlan, boxes: Sequence[Box]) -> tuple[Slips, Forms]:
    slips = open_slips(month, plan.waves[0], STAMP)
    return slips, draw_forms(slips, plan, boxes)


# --- The same bytes by hand ---


def parts_of(file: bytes) -> tuple[bytes, list[str]]:
    """Return what stands in a file before its pages, and the marks of each page."""
    found = list(PAGE_STREAM.finditer(file))
    pages = [zlib.decompress(file[one.end() : one.end() + int(one[1])]).decode() for one in found]
    return file[: found[0].start()], pages


def told(page: str) -> Told:
    """Take a page apart at the rectangles of its codes."""
    parts = re.split(r"\n(.* re f\*)\n", page)
    return tuple(
        [tuple(map(float, bar)) for bar in RECTANGLE.findall(part)] if at % 2 else part
        for at, part in enumerate(parts)
    )


def written(page: Told) -> str:
    """Write a page's marks."""
    return "\n".join([part if isinstance(part, str) else rectangles(part) for part in page])


def rectangles(bars: Sequence[tuple[float, ...]]) -> str:
    """Write the rectangles of a code."""
    return f"{' '.join([f'{x:g} {y:g} {wide:g} {high:g} re' for x, y, wide, high in bars])} f*"


def by_hand(front: bytes, pages: Sequence[Told]) -> bytes:
    """Write a file of pages: their marks, packed, numbered, with the list of where each part begins."""
    parts, offsets, length = [front], list[int](), len(front)
    for number, page in enumerate(pages):
        stream = zlib.compress(written(page).encode("ascii"))
        head = b"%d 0 obj\n<< /Filter /FlateDecode /Length %d >>\nstream\n" % (2 * number + 3, len(stream))
        for part in (head + stream + b"\nendstream\nendobj\n", PAGE % (2 * number + 4, 2 * number + 3)):
            offsets.append(length)
            parts.append(part)
            length += len(part)
    parts += [b"%010d 00000 n \n" % offset for offset in offsets]
    return b"".join(parts)
