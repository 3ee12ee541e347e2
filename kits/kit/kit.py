"""A month's kit in rows."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from kits.catalogue import Overs


class ItemKind(StrEnum):
    """What a line of the kit puts into the box."""

    RECIPE = "recipe"
    PRE_CUT = "pre-cut"
    EXTRA = "extra"
    PACKAGING = "packaging"


class When(StrEnum):
    """Which boxes a line of the kit is for."""

    EVERY_BOX = "every box"
    FIRST_BOX = "first box"  # the welcome extra


class Direction(StrEnum):
    """How a pre-cut may lie on the sheet it is cut from."""

    ANY = "any"
    NOT_TURNED = "not turned"  # its width along the sheet's width, as a one-way print asks
    GRAIN_ALONG_WIDTH = "grain along width"
    GRAIN_ALONG_HEIGHT = "grain along height"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tier:
    """A subscription level and the price of its box."""

    code: str
    name: str
    price: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class KitPaper:
    """The material that plays a recipe's paper role this month."""

    recipe: str
    role: str
    material: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PreCut:
    """A piece the club cuts in bulk before packing, from any one of the materials named."""

    code: str
    name: str
    width: int
    height: int
    cut_from: tuple[str, ...]
    direction: Direction = Direction.ANY
    overs_percent: Decimal = Decimal(0)
    overs_fixed: int = 0

    @property
    def overs(self) -> Overs:
        """Extra pieces cut beyond what goes into boxes."""
        return Overs(self.overs_percent, self.overs_fixed)


@dataclass(frozen=True, slots=True, kw_only=True)
class KitLine:
    """`count` of an item for each box of the tiers named; of a roll, `count` lengths of `length`.

    tiers: tier codes; empty means every tier.
    """

    kind: ItemKind
    item: str
    count: int = 1
    length: int | None = None
    tiers: tuple[str, ...] = ()
    when: When = When.EVERY_BOX
