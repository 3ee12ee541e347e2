"""Short picks: what is not there for some boxes, day by day and wave by wave, named before packing starts.

Which boxes go without follows from the month's rule for short goods, so a wave may be whole while a later one lacks.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from reportlab.platypus import Flowable

from planning.documents.exceptions import People
from planning.documents.pdf.look import heading, words
from planning.documents.pdf.page import Letterhead, build
from planning.documents.pdf.tables import Column, Row, table
from planning.documents.pdf.words import day
from planning.documents.short_boxes import ShortBox, short_boxes
from planning.documents.stamp import Stamp
from planning.flow import MonthPlan
from planning.month import Month
from planning.packing import BoxSpec

TITLE = "Short picks"
MOST_NAMED = 40  # waves in a line
COLUMNS = (
    Column("Item", 50),
    Column("Shelf place", 22),
    Column("Boxes without", 18, number=True),
    Column("Pick fewer", 18, number=True),
    Column("Instead", 34),
    Column("Waves, and boxes in each", 60),
)

Line = tuple[str, str]
"""What is lacking, and what lies in the box instead."""


def short_picks(month: Month, plan: MonthPlan, people: People, stamp: Stamp) -> bytes:
    """Return what picking lacks as a PDF."""
    head = Letterhead(club=month.club, title=TITLE, stamp=stamp)
    waves = boxes_by_wave(short_boxes(plan, people), plan)
    story: list[Flowable] = [
        words(TITLE, "title"),
        words(
            "Goods that do not suffice for every box. Pick as many fewer; the list of short boxes names each of them."
        ),
    ]
    for when in dict.fromkeys(wave.day for wave in plan.waves):
        numbers = [wave.number for wave in plan.waves if wave.day == when and wave.number in waves]
        if numbers:
            story += heading(f"Packed on {day(when)}")
            story.append(table(COLUMNS, list(rows(month, {n: waves[n] for n in numbers})), head.page_width))
    if 0 in waves:
        story += heading("Boxes that no service takes")
        story.append(table(COLUMNS, list(rows(month, {0: waves[0]})), head.page_width))
    return build(head, story)


Waves = dict[int, dict[Line, Counter[int]]]
"""Of each wave and line: how many boxes lack so many units each."""


def boxes_by_wave(short: Iterable[ShortBox], plan: MonthPlan) -> Waves:
    """Count the boxes that go without something, by wave."""
    each = {spec.contents: units_by_name(spec) for spec in plan.packing.boxes}
    waves: Waves = {}
    for one in short:
        units = each[one.box.box_class.contents][one.without]
        lines = waves.setdefault(one.box.wave, {})
        lines.setdefault((one.without, one.instead), Counter())[units] += 1
    return waves


def units_by_name(spec: BoxSpec) -> Counter[str]:
    """Count what one box holds, by name."""
    held = Counter({line.item.name: line.count for line in spec.lines})
    for one, count in spec.cartons.items():
        held[one.name] += count
    return held


def rows(month: Month, waves: Waves) -> Iterator[Row]:
    """Yield a row for everything lacking in some waves."""
    shelves = {one.name: one.shelf for one in month.materials}
    for without, instead in sorted({line for lines in waves.values() for line in lines}):
        of_wave = {
            number: lines[without, instead] for number, lines in waves.items() if (without, instead) in lines
        }
        boxes = {number: counted.total() for number, counted in of_wave.items()}
        units = sum(each * number for counted in of_wave.values() for each, number in counted.items())
        yield Row(
            (
                without,
                shelves.get(without, ""),
                f"{sum(boxes.values()):,}",
                f"{units:,}",
                instead or "nothing",
                wave_words(boxes),
            )
        )


def wave_words(boxes: Mapping[int, int]) -> str:
    """Name the waves, and how many of their boxes lack it."""
    named = [f"{wave} ({number:,})" for wave, number in boxes.items() if wave]
    more = len(named) - MOST_NAMED
    return ", ".join(named[:MOST_NAMED]) + (f" and {more:,} more waves" if more > 0 else "")
