"""What the club does not know yet: the months to come, what is spoiled, how many boxes it will be, what may stand in."""

from decimal import Decimal

from planning.allocation.rows import SubstituteRow
from planning.calendar import YearMonth
from planning.demo.kit import BRANCH, LEAF, ORCHARD
from planning.lots.rows import Forecast
from planning.overs.rows import CountQuantile, Outlook, Spoilage

COMING = (
    # material, units of June, July, August and September at 1,200 boxes a month; every kit has plain papers and packing
    ("CREAM", 1_900, 1_400, 2_600, 2_100),
    ("BARK", 2_300, 1_500, 1_200, 2_400),
    ("SKY-A4", 800, 1_100, 0, 900),
    ("VELLUM-A4", 700, 0, 650, 700),
    ("KRAFT-B1", 60, 45, 80, 60),
    ("GLASSINE", 2_700, 2_600, 2_700, 2_900),
    ("BRADS", 9_000, 0, 11_000, 9_500),
    ("RIBBON", 55, 40, 0, 60),
    ("TWINE", None, None, None, None),  # as much a box as this month, for the boxes that are forecast
)
MONTHS = tuple(YearMonth(2027, month) for month in (6, 7, 8, 9))

SPOILAGES = (  # the folding card is cut, creased and folded
    Spoilage(item="FOLDER", operation="cut", make_ready=6, percent=Decimal(1)),
    Spoilage(item="FOLDER", operation="crease", make_ready=4, percent=Decimal("0.5")),
    Spoilage(item="FOLDER", operation="fold", make_ready=10, percent=Decimal("1.1")),
)

SUBSTITUTES = (
    SubstituteRow(
        material="BUTTONS", instead="BRADS", per=2, note="Copper instead of wood, and it needs a hole."
    ),
)


def forecasts(boxes: int) -> tuple[Forecast, ...]:
    """Return what the months to come use in a club that sends so many boxes a month."""
    return tuple(
        Forecast(material=material, needed_in=month, units=None if units is None else units * boxes // 1_200)
        for material, *needed in COMING
        for month, units in zip(MONTHS, needed, strict=True)
    )


def outlooks(boxes: int) -> tuple[Outlook, ...]:
    """Return how many boxes of each tier it may be; Branch is left to the forecast, and Leaf is told by its quantiles."""
    return (
        Outlook(
            tier=ORCHARD,
            low=boxes * 54 // 100,
            likely=boxes * 57 // 100,
            high=boxes * 64 // 100,
            short_cost=Decimal("34.00"),
        ),
        Outlook(tier=BRANCH, short_cost=Decimal("25.00")),
        Outlook(tier=LEAF, short_cost=Decimal("17.00")),
    )


def quantiles(boxes: int) -> tuple[CountQuantile, ...]:
    """Return the quantiles of Leaf's count."""
    shares = ((10, 140), (50, 155), (90, 175))
    return tuple(
        CountQuantile(tier=LEAF, percent=Decimal(percent), boxes=boxes * share // 1_000)
        for percent, share in shares
    )
