"""The packing lead's sheets: every different box with its weight and room, and what lies in each."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from kits.measures import INCH, MM, pounds_from_grams
from planning.documents.pdf.words import LETTER
from planning.documents.workbook.table import Column, Look, Table
from planning.flow import MonthPlan
from planning.month import Club, Month
from planning.packing import BoxSpec

PACK, CONTENTS = "Pack", "Contents"

WEIGHT = "The weights of the Contents sheet added up, carton and wrapping included."
HEAVIEST = "With the paper as much heavier than nominal as the club allows for; postage is by this weight."
STACK = "Every sheet, piece and item counted as a layer of its own thickness; of the fullest parcel."
ROOM = "Depth inside the carton."
EACH = "Minutes a box, a line and each extra parcel, the club's own figures."
IN_THE_BOX = "In each box x weight of one."


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of box and its number."""

    number: int
    spec: BoxSpec


@dataclass(frozen=True, slots=True)
class Line:
    """Something in a kind of box: what, how many, the weight of one in grams."""

    kind: Kind
    name: str
    count: int
    weight: Fraction
    use: str


def kinds_of(plan: MonthPlan) -> tuple[Kind, ...]:
    """Number the kinds of boxes."""
    return tuple(Kind(number, spec) for number, spec in enumerate(plan.packing.boxes, 1))


def pack_table(month: Month, plan: MonthPlan) -> Table[Kind]:
    """Return a row for every kind of box."""
    club, weighs, high = month.club, unit_of_weight(month.club), unit_of_height(month.club)

    def minutes(one: Kind) -> str:
        more = f"+({{parcels}}-1)*{club.minutes_per_parcel:f}" if club.minutes_per_parcel else ""
        return f"={club.minutes_per_box:f}+{{lines}}*{club.minutes_per_line:f}{more}"

    col = Column[Kind]
    return Table(
        name=PACK,
        says="Every kind of box: how many, how heavy, whether its contents lie flat and below the lid, how long it takes.",
        empty="No boxes this month: the roster is empty, or everyone on it is left out.",
        rows=kinds_of(plan),
        columns=(
            col("contents", "Box", lambda one: one.spec.contents.name, width=32),
            col("kind", "Kind no.", lambda one: one.number, Look.COUNT, width=6),
            col("boxes", "Boxes", lambda one: one.spec.boxes, Look.COUNT, total=True),
            col("lines", "Lines", lambda one: len(one.spec.lines), Look.COUNT, width=7),
            col("parcels", "Parcels", lambda one: len(one.spec.parcels), Look.COUNT, width=8),
            col("carton", "Carton", lambda one: one.spec.packed_in or "none", width=20),
            col(
                "weight",
                f"Weight ({weighs})",
                lambda one: weight(one.spec.weight, club),
                Look.HUNDREDTHS if weighs == "lb" else Look.TENTHS,
                "=SUMIFS({Contents.weight},{Contents.kind},{kind})",
                width=11,
                note=WEIGHT,
            ),
            col(
                "heaviest",
                f"At most ({weighs})",
                lambda one: weight(one.spec.heaviest, club),
                Look.HUNDREDTHS if weighs == "lb" else Look.TENTHS,
                width=11,
                note=HEAVIEST,
            ),
            col(
                "stack",
                f"Stack ({high})",
                lambda one: height(one.spec.stack, club),
                Look.HUNDREDTHS,
                note=STACK,
            ),
            col("room", f"Room ({high})", lambda one: room(one, club), Look.HUNDREDTHS, note=ROOM),
            col(
                "spare",
                f"To spare ({high})",
                lambda one: height(one.spec.spare_depth, club),
                Look.HUNDREDTHS,
                lambda one: "={room}-{stack}" if one.spec.parcels else "",
                needs_you=lambda one: bool(one.spec.faults),
            ),
            col("each", "Minutes each", lambda one: one.spec.minutes, Look.HUNDREDTHS, minutes, note=EACH),
            col(
                "minutes",
                "Minutes in all",
                lambda one: one.spec.minutes * one.spec.boxes,
                Look.HUNDREDTHS,
                "={boxes}*{each}",
                width=10,
                total=True,
            ),
            col("fits", "Fits?", fits, width=12, needs_you=lambda one: bool(one.spec.faults)),
            col("why", "Why not", lambda one: "; ".join(one.spec.faults), width=34),
        ),
    )


def fits(one: Kind) -> str:
    """Say whether the contents fit the carton."""
    return "does not fit" if one.spec.faults else "fits"


def room(one: Kind, club: Club) -> Fraction | None:
    """Return the depth inside the carton of the fullest parcel, None without one."""
    fullest = one.spec.fullest
    return height(Fraction(fullest.carton.container.inside[2]), club) if fullest else None


def contents_table(month: Month, plan: MonthPlan) -> Table[Line]:
    """Return a row for everything in every kind of box, its carton included."""
    weighs = unit_of_weight(month.club)
    col = Column[Line]
    return Table(
        name=CONTENTS,
        says="What lies in each kind of box, in the order of packing, and what that makes in all.",
        empty="No boxes this month.",
        frozen=2,
        rows=tuple(line for kind in kinds_of(plan) for line in lines_of(kind)),
        columns=(
            col("contents", "Box", lambda line: line.kind.spec.contents.name, width=28),
            col("name", "Item", lambda line: line.name, width=30),
            col("kind", "Kind no.", lambda line: line.kind.number, Look.COUNT, width=6),
            col("boxes", "Boxes", lambda line: line.kind.spec.boxes, Look.COUNT),
            col("count", "In each box", lambda line: line.count, Look.COUNT),
            col(
                "all",
                "In all",
                lambda line: line.count * line.kind.spec.boxes,
                Look.COUNT,
                "={boxes}*{count}",
            ),
            col(
                "one",
                f"One weighs ({weighs})",
                lambda line: weight(line.weight, month.club),
                Look.HUNDREDTHS,
                width=11,
            ),
            col(
                "weight",
                f"In the box ({weighs})",
                lambda line: weight(line.weight * line.count, month.club),
                Look.HUNDREDTHS,
                "={count}*{one}",
                width=11,
                note=IN_THE_BOX,
            ),
            col("use", "Used as", lambda line: line.use, width=11),
        ),
    )


def lines_of(kind: Kind) -> Iterator[Line]:
    """Yield what lies in a kind of box, and the carton around it."""
    for line in kind.spec.lines:
        use = "wrapping" if line.item.packaging else "contents"
        yield Line(kind, line.item.name, line.count, line.item.weight, use)
    for one, count in kind.spec.cartons.items():
        yield Line(kind, one.name, count, one.weight, "carton")


# --- Units: metric, or pounds and inches where the club prints on Letter ---


def unit_of_weight(club: Club) -> str:
    """Return the unit boxes are weighed in."""
    return "lb" if club.paper == LETTER else "g"


def weight(grams: Fraction, club: Club) -> Fraction:
    """Return a weight in the club's unit."""
    return pounds_from_grams(grams) if club.paper == LETTER else grams


def unit_of_height(club: Club) -> str:
    """Return the unit heights are read in."""
    return "in" if club.paper == LETTER else "mm"


def height(length: Fraction | None, club: Club) -> Fraction | None:
    """Return a height in the club's unit."""
    return None if length is None else Fraction(length, INCH if club.paper == LETTER else MM)
