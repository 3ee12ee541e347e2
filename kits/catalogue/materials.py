"""Materials: everything a club buys, each counted in whole buying units (sheets, rolls, single goods)."""

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from enum import StrEnum
from fractions import Fraction

from kits.measures import METRE, Grammage, sheet_weight


class MaterialKind(StrEnum):
    """What a material is, and so what it is counted in."""

    SHEET = "sheet"  # counted in sheets
    ROLL = "roll"  # counted in whole rolls; boxes get lengths cut from one
    COUNTED = "counted"  # beads, brads, tags
    PACKAGING = "packaging"
    PRINT = "print"  # booklets, cards


class Grain(StrEnum):
    """The side the fibres run along. Never inferred from the order of two numbers."""

    WIDTH = "width"
    HEIGHT = "height"
    NONE = "none"


class Print(StrEnum):
    """Whether a paper's print has a top, which is then the top edge of the sheet."""

    NO_DIRECTION = "no direction"
    ONE_WAY = "one way"


class Leftover(StrEnum):
    """What becomes of units the month does not use."""

    KEPT = "kept"  # goes to the shelf at its cost
    WRITTEN_OFF = "written off"  # of no use later: the month pays for it


@dataclass(frozen=True, slots=True)
class Overs:
    """Extra for spoilage: a percentage of the *good* count, rounded up, plus a fixed make-ready count.

    Of the good count, as printers' spoilage tables state it: 1,000 good at 5 % are 1,050, not the 1,053 that
    5 % of the starting count would ask for.
    """

    percent: Decimal = Decimal(0)
    fixed: int = 0

    def __post_init__(self) -> None:
        if self.percent < 0 or self.fixed < 0:
            raise ValueError("overs are never negative")

    def on(self, good: int) -> int:
        """Return the extra units for a good count; nothing is wanted, nothing is spoiled."""
        if good == 0:
            return 0
        return int((self.percent * good / 100).to_integral_value(ROUND_CEILING)) + self.fixed


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One thing that is bought.

    width, height: size of a sheet, of a flat item, or the outside of a carton (lengths).
    print: of a printed sheet, whether it may lie on its side.
    thickness: caliper of a sheet, height of an item in the stack, or outside depth of a carton (lengths, exact).
    weight: grams each; of a roll, grams per metre. Sheets with a grammage need none.
    roll_length: usable length of one roll.
    inside_width, inside_height, inside_depth: room inside a carton. carries: grams it may hold, None without limit.
    soft: as thick as what is in it, as an envelope is, up to its outside depth.
    used_a_year: units used in a year, when the club buys this for the year and not for the month.
    storage: of one unit kept for a month, besides the money tied up in it.
    split: may come from several suppliers at once; else one order covers what lacks, so that all of it is alike.
    cut_from: codes of larger sheets that a sheet of this size may be cut from instead of being bought.
    edge_trim: what is cut off each edge of a sheet before pieces are cut from it.
    shelf: where it stands in the store, as the pickers know the place.
    """

    code: str
    name: str
    kind: MaterialKind
    width: int | None = None
    height: int | None = None
    grain: Grain = Grain.NONE
    print: Print = Print.NO_DIRECTION
    grammage: Grammage | None = None
    thickness: Fraction | None = None
    weight: Fraction | None = None
    roll_length: int | None = None
    inside_width: int | None = None
    inside_height: int | None = None
    inside_depth: int | None = None
    overs_percent: Decimal = Decimal(0)
    overs_fixed: int = 0
    leftover: Leftover = Leftover.KEPT
    used_a_year: int | None = None
    split: bool = False
    cut_from: tuple[str, ...] = ()
    storage: Decimal = Decimal(0)
    edge_trim: int = 0
    shelf: str = ""
    carries: Fraction | None = None
    soft: bool = False

    @property
    def overs(self) -> Overs:
        """Extra wanted of this material beyond what goes into boxes."""
        return Overs(self.overs_percent, self.overs_fixed)

    @property
    def is_container(self) -> bool:
        """A carton: everything else in the box lies inside it."""
        return None not in (self.inside_width, self.inside_height, self.inside_depth)

    @property
    def unit(self) -> str:
        """The word for one buying unit."""
        return {MaterialKind.SHEET: "sheet", MaterialKind.ROLL: "roll"}.get(self.kind, "each")

    def weight_each(self) -> Fraction:
        """Grams of one unit: by grammage and size for a sheet, else as weighed (nothing stated weighs nothing)."""
        if self.grammage is not None and self.width is not None and self.height is not None:
            return sheet_weight(self.width, self.height, self.grammage.gsm)
        return self.weight or Fraction(0)

    def weight_of_piece(self, width: int, height: int) -> Fraction:
        """Grams of a piece cut from this sheet, by its share of the area."""
        if self.grammage is not None:
            return sheet_weight(width, height, self.grammage.gsm)
        if self.width is None or self.height is None:
            return Fraction(0)
        return self.weight_each() * Fraction(width * height, self.width * self.height)

    def weight_of_length(self, length: int) -> Fraction:
        """Grams of a length cut from this roll."""
        return (self.weight or Fraction(0)) * Fraction(length, METRE)
