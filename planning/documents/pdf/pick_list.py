"""The pick list: everything to lay out at the bench for one wave, where it stands, with totals, packs and cartons."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import groupby

from reportlab.platypus import Flowable

from kits.catalogue import MaterialKind
from planning.documents.pdf.handling import HEAVY, blade_caution, lifting_cautions
from planning.documents.pdf.look import heading, words
from planning.documents.pdf.page import Letterhead, build
from planning.documents.pdf.short_picks import TITLE as SHORT_PICKS
from planning.documents.pdf.slip_sheets import slip_sheet
from planning.documents.pdf.tables import CheckBox, Column, Row, facts, notice, side_by_side, table
from planning.documents.pdf.words import count, day, packs, weight
from planning.documents.stamp import Stamp, mark_place
from planning.flow import MonthPlan
from planning.month import Month
from planning.names import contents_words, names_of
from planning.packing import BoxSpec
from planning.requirements import Kind, code_of, kind_of
from planning.shipping import Wave

ITEMS = (
    Column("", 7),
    Column("Shelf place", 20),
    Column("Item", 58),
    Column("Each box", 18, number=True),
    Column("Boxes", 16, number=True),
    Column("Lay out", 20, number=True),
    Column("In packs", 32),
    Column("Weight", 32, number=True),
)
BOXES = (
    Column("Places", 20),
    Column("Box", 70),
    Column("Boxes", 16, number=True),
    Column("Carton", 44),
    Column("Weight each", 30, number=True),
)
PAPERS, PIECES, LENGTHS = "Papers", "Cut pieces", "Cut lengths"
GOODS, WRAPPING = "Goods and print", "Cartons and wrapping"
ORDER = (PAPERS, PIECES, LENGTHS, GOODS, WRAPPING)


@dataclass(slots=True)
class Pick:
    """One item to lay out: grams of one, where it stands, how many in all, for how many boxes, the counts a box."""

    name: str
    group: str
    weight: Fraction
    shelf: str = ""
    total: int = 0
    boxes: int = 0
    each: set[int] = field(default_factory=set)

    def add(self, each: int, boxes: int) -> None:
        """Count the boxes that take `each` of it."""
        self.total += each * boxes
        self.boxes += boxes
        self.each.add(each)


@dataclass(frozen=True, slots=True)
class Part:
    """Alike boxes of the wave and the places they stand in."""

    spec: BoxSpec
    first: int
    boxes: int

    @property
    def places(self) -> str:
        """The places as the slips number them."""
        last = self.first + self.boxes - 1
        return f"{self.first} to {last}" if last > self.first else f"{self.first}"


def pick_list(month: Month, plan: MonthPlan, wave: Wave, stamp: Stamp) -> bytes:
    """Return the pick list of one wave as a PDF."""
    head = Letterhead(club=month.club, title=f"Pick list, wave {wave.number}", stamp=stamp)
    parts = parts_of(plan, wave)
    picks, names = picks_of(month, parts), names_of(month)
    story = [
        words(head.title, "title"),
        side_by_side([when(wave, head)], [how_much(parts, wave, head)], head.page_width),
        *notice(warnings(parts, plan, wave, head), head.page_width),
        *heading("Lay out for this wave"),
        table(ITEMS, list(item_rows(picks, pack_sizes(month, plan), head.club.paper)), head.page_width),
        *heading("Boxes of this wave"),
        table(BOXES, [box_row(part, names, month.club.paper) for part in parts], head.page_width),
        *heading("Slips of this wave"),
        *slips_words(wave, head),
    ]
    return build(head, story)


def parts_of(plan: MonthPlan, wave: Wave) -> tuple[Part, ...]:
    """Return the wave's boxes in the order of their places."""
    specs = {spec.contents: spec for spec in plan.packing.boxes}
    parts, first = [], 1
    for contents, together in groupby(wave.parts, key=lambda part: part.box_class.contents):
        boxes = sum(part.boxes for part in together)
        parts.append(Part(specs[contents], first, boxes))
        first += boxes
    return tuple(parts)


# --- What to lay out ---


def picks_of(month: Month, parts: Sequence[Part]) -> dict[str, Pick]:
    """Add up what the boxes hold, by the bill's name of each item."""
    sheets = {one.code for one in month.materials if one.kind is MaterialKind.SHEET}
    shelves = {one.code: one.shelf for one in month.materials}
    picks: dict[str, Pick] = {}
    for part in parts:
        for line in part.spec.lines:
            group = WRAPPING if line.item.packaging else group_of(line.item.item, sheets)
            shelf = shelves.get(material_of(line.item.item), "")
            pick = picks.setdefault(line.item.item, Pick(line.item.name, group, line.item.weight, shelf))
            pick.add(line.count, part.boxes)
        for carton, number in part.spec.cartons.items():
            pick = Pick(carton.name, WRAPPING, carton.weight, shelves.get(code_of(carton.item), ""))
            picks.setdefault(carton.item, pick).add(number, part.boxes)
    return picks


def material_of(item: str) -> str:
    """Return the code of the material that is picked for an item: of a length, its roll; of a piece none, it was cut."""
    code = code_of(item)
    return {Kind.MATERIAL: code, Kind.LENGTH: code.rpartition("@")[0]}.get(kind_of(item), "")


def group_of(item: str, sheets: set[str]) -> str:
    """Return the heading an item stands under."""
    groups = {Kind.PIECE: PIECES, Kind.LENGTH: LENGTHS}
    return groups.get(kind_of(item), PAPERS if code_of(item) in sheets else GOODS)


def pack_sizes(month: Month, plan: MonthPlan) -> dict[str, int]:
    """Return the pack each material comes in: of the offer ordered from, else of the first offer there is."""
    sizes = {offer.material: offer.pack for offer in reversed(month.offers)}
    sizes |= {line.need.material: line.offer.pack for line in plan.buying.lines if line.offer}
    return sizes


def item_rows(picks: dict[str, Pick], sizes: dict[str, int], paper: str) -> Iterator[Row]:
    """Yield the items under their headings."""
    for group in ORDER:
        members = [(item, pick) for item, pick in picks.items() if pick.group == group]
        if members:
            yield Row((group, *[""] * (len(ITEMS) - 1)), group=True)
        for item, pick in sorted(members, key=lambda one: (not one[1].shelf, one[1].shelf)):
            pack = sizes.get(code_of(item), 1) if kind_of(item) is Kind.MATERIAL else 1
            yield item_row(pick, pack, paper)


def item_row(pick: Pick, pack: int, paper: str) -> Row:
    """Return one item's line, with a box to tick."""
    each = " or ".join(f"{number:,}" for number in sorted(pick.each))
    total, in_packs = f"{pick.total:,}", packs(pick.total, pack) if pack > 1 else ""
    grams = pick.weight * pick.total
    heavy = grams > HEAVY
    weighs = words(weight(grams, paper), "need number" if heavy else "number")
    return Row(
        (CheckBox(), pick.shelf, pick.name, each, f"{pick.boxes:,}", total, in_packs, weighs), need=heavy
    )


# --- The wave ---


def when(wave: Wave, head: Letterhead) -> Flowable:
    """Return the wave's day and its carrier."""
    pairs = [
        ("Pack on", day(wave.day)),
        ("Collected on", day(wave.collected)),
        ("Service", f"{wave.service.carrier}, {wave.service.name}"),
    ]
    return facts(pairs, head.page_width / 2 - 14)


def how_much(parts: Sequence[Part], wave: Wave, head: Letterhead) -> Flowable:
    """Return what the wave comes to."""
    cartons = Counter[str]()
    for part in parts:
        for carton, number in part.spec.cartons.items():
            cartons[carton.name] += number * part.boxes
    together, heaviest = weights(parts)
    pairs = [
        ("Boxes", f"{wave.boxes:,}"),
        ("Cartons", ", ".join(f"{number:,} {name}" for name, number in cartons.items())),
        ("Weight", f"{weight(together, head.club.paper)}, at most {weight(heaviest, head.club.paper)}"),
    ]
    return facts(pairs, head.page_width / 2)


def weights(parts: Sequence[Part]) -> tuple[Fraction, Fraction]:
    """Return the grams of all boxes, nominal and with the paper as heavy as its tolerance allows."""
    nominal = sum((part.spec.weight * part.boxes for part in parts), Fraction(0))
    return nominal, sum((part.spec.heaviest * part.boxes for part in parts), Fraction(0))


def warnings(parts: Sequence[Part], plan: MonthPlan, wave: Wave, head: Letterhead) -> Iterator[str]:
    """Yield what needs someone: a heavy wave, boxes that arrive late, contents that do not fit."""
    paper = head.club.paper
    yield from lifting_cautions(weights(parts)[1], paper, "All boxes of this wave together weigh up to")
    heaviest = max((one.heaviest for part in parts for one in part.spec.parcels), default=Fraction(0))
    yield from lifting_cautions(heaviest, paper, "A single parcel weighs up to")
    yield from short_goods(parts, plan)
    if late := late_boxes(plan, wave):
        yield f"{count(late, 'box', 'boxes')} of this wave will arrive after the promised week."
    faults: defaultdict[str, int] = defaultdict(int)
    for part in parts:
        for fault in part.spec.faults:
            faults[fault] += part.boxes
    for fault, boxes in faults.items():
        yield f"Check {count(boxes, 'box', 'boxes')}: {fault}."


def short_goods(parts: Sequence[Part], plan: MonthPlan) -> Iterator[str]:
    """Yield what this wave takes of goods that do not suffice for the month."""
    held = {name for part in parts for name in part.spec.held}
    for one in plan.allocation.materials:
        if one.material in held and one.available < one.wanted:
            yield (
                f"Short: {one.name}, {one.available:,} of {one.wanted:,} for the month. The paper {SHORT_PICKS} says how "
                "many of this wave go without."
            )


def slips_words(wave: Wave, head: Letterhead) -> Iterator[Flowable]:
    """Yield how the slips are printed and cut, and how those of another version are told."""
    sheet, version = slip_sheet(head.club.slips), head.stamp.version
    if len(sheet.places) > 1:
        sheets = count(sheet.sheets(wave.boxes), "sheet")
        yield words(
            f"{head.club.slips}, {sheets} or more. Cut along the lines and lay the stacks on each other, the first place on "
            "top: the slips are then in order."
        )
        yield from blade_caution()
    yield words(
        f"Prints of this plan have their mark {mark_place(version)}, with v{version} below it. Put a slip or list aside "
        "whose mark stands elsewhere: it is of another version."
    )


def late_boxes(plan: MonthPlan, wave: Wave) -> int:
    """Return how many boxes of the wave miss the promise."""
    late = {
        load.box_class for load in plan.shipping.late if (load.day, load.service) == (wave.day, wave.service)
    }
    return sum(part.boxes for part in wave.parts if part.box_class in late)


def box_row(part: Part, names: Mapping[str, str], paper: str) -> Row:
    """Return alike boxes: their places, what they are, their carton and weight."""
    spec = part.spec
    return Row(
        (
            part.places,
            contents_words(spec.contents, names),
            f"{part.boxes:,}",
            spec.packed_in or "none named",
            weight(spec.weight, paper),
        ),
        need=bool(spec.faults),
    )
