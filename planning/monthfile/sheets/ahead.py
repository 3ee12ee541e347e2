"""The sheets of what is not known yet: later months, spoilage, the count, and what may stand in for what."""

from planning.allocation.rows import SubstituteRow
from planning.lots.rows import Forecast
from planning.monthfile.codecs import Choice, Code, Count, Money, Month, Percent, Text
from planning.monthfile.sheets.sheet import Column, Sheet
from planning.overs.rows import BuyFor, CountQuantile, Outlook, Spoilage
from planning.overs.spoilage import Base

FORECASTS = Sheet(
    "forecasts",
    Forecast,
    (
        Column("material", "Material", Code(), "Its code on the Materials sheet."),
        Column("needed_in", "Month", Month(), "A later month, like 2027-06."),
        Column(
            "units",
            "Needed (units)",
            Count(),
            "What that month will use of it, as far as you know. Empty: as much a box as this month, for the boxes that are "
            "forecast from the sheet Past months.",
        ),
    ),
)

SPOILAGES = Sheet(
    "spoilages",
    Spoilage,
    (
        Column(
            "item",
            "Item",
            Code(),
            "Code of a material or a pre-cut, or recipe/piece of a piece the club cuts. Its operations stand one below the "
            "other, the first done first; they count instead of its own overs.",
        ),
        Column("operation", "Operation", Code(), "What is done, like fold or stitch."),
        Column(
            "make_ready", "Make-ready (count)", Count(), "Spoiled before it runs well, whatever the count."
        ),
        Column("percent", "Spoilage (%)", Percent(), "Spoiled while it runs, like 1.1."),
        Column("base", "Percent is", Choice(Base), "Of the good that come out, or of what starts."),
    ),
)

OUTLOOKS = Sheet(
    "outlooks",
    Outlook,
    (
        Column(
            "tier",
            "Tier",
            Code(),
            "Its code on the Tiers sheet. A tier without a row sends what the roster says, or what is forecast from the "
            "sheet Past months.",
        ),
        Column(
            "low",
            "Low (boxes)",
            Count(),
            "It will surely not be fewer. Leave all three empty if the tier has rows on Count quantiles, or is forecast.",
        ),
        Column("likely", "Likely (boxes)", Count(), "The likeliest number."),
        Column("high", "High (boxes)", Count(), "It will surely not be more."),
        Column(
            "short_cost",
            "A short box costs ({money})",
            Money(),
            "What you lose on a box that cannot be filled: its price, and what making it good takes.",
        ),
    ),
)

QUANTILES = Sheet(
    "quantiles",
    CountQuantile,
    (
        Column(
            "tier", "Tier", Code(), "Its code on the Count outlook sheet. At least two rows a tier, rising."
        ),
        Column(
            "percent", "Chance (%)", Percent(), "The chance that it is no more than that, like 10, 50 and 90."
        ),
        Column("boxes", "Count (boxes)", Count(), "A number of boxes."),
    ),
)

BUY_FOR = Sheet(
    "choices",
    BuyFor,
    (
        Column(
            "item", "Item", Code(), "Code of a tier or of a material. The page Overs keeps your choice here."
        ),
        Column(
            "quantity",
            "Have at least (boxes or units)",
            Count(),
            "Boxes of the tier the goods are to suffice for, or units of the material to have.",
        ),
    ),
)

SUBSTITUTES = Sheet(
    "substitutes",
    SubstituteRow,
    (
        Column("material", "Material", Code(), "Its code on the Materials sheet: what may run short."),
        Column(
            "instead",
            "Substitute",
            Code(),
            "Code of what may go in instead; the first row is tried first.",
        ),
        Column("per", "Units for one", Count(), "How many of it stand for one, like 1."),
        Column("note", "What changes", Text(), "Whatever sizes and weights do not say, like a warmer brown."),
    ),
)
