"""The sheets of a forecast: the club's own past, what it knows of the months ahead, and what is not certain yet."""

from planning.chances.rows import Uncertain, Unsure
from planning.forecast.rows import Announcement, CountByHand, PastTier, PromotedMonth, Stayed
from planning.monthfile.codecs import Change, Choice, Code, Count, Month, Number, Text
from planning.monthfile.sheets.sheet import Column, Sheet

PAST = Sheet(
    "past",
    PastTier,
    (
        Column(
            "in_month",
            "Month",
            Month(),
            "A month that is over, like 2027-03: every month from the first to the last, the earliest at the top.",
        ),
        Column(
            "tier",
            "Tier",
            Code(),
            "Its code then. A tier without a row in a month had no boxes in that month.",
        ),
        Column("joined", "Joined (boxes)", Count(), "Boxes taken up since the month before."),
        Column(
            "left",
            "Left (boxes)",
            Count(),
            "Boxes given up since the month before. Who changes tiers leaves one and joins the other.",
        ),
        Column("skipped", "Skipped (boxes)", Count(), "Subscribed to, but left out in this one month."),
        Column("paused", "Paused (boxes)", Count(), "Subscribed to, but resting until further notice."),
        Column(
            "boxes",
            "Sent (boxes)",
            Count(),
            "Boxes that were sent. With those skipped and paused: the month before's, and who joined, less who left.",
        ),
    ),
)

STAYED = Sheet(
    "stayed",
    Stayed,
    (
        Column(
            "joined",
            "Joined in",
            Month(),
            "The month in which they joined. Leave the sheet empty if nobody knows: one rate of loss is then for all.",
        ),
        Column("in_month", "Month", Month(), "A month of the sheet Past months."),
        Column(
            "members",
            "Still there (boxes)",
            Count(),
            "How many of these boxes somebody was subscribed to in that month, those skipped and paused included; no row "
            "means none. All rows of a month come to the month's boxes on Past months.",
        ),
    ),
)

PROMOTED = Sheet(
    "promoted",
    PromotedMonth,
    (
        Column("in_month", "Month", Month(), "A month, past or to come, in which joining is promoted."),
        Column("note", "What is done", Text(), "Like half price on the first box."),
    ),
)

ANNOUNCED = Sheet(
    "announced",
    Announcement,
    (
        Column("first", "From month", Month(), "The first month it is so."),
        Column(
            "last",
            "Up to month",
            Month(),
            "The last month it is so; empty: from then on.",
            empty="from then on",
        ),
        Column(
            "boxes", "Boxes more (+) or fewer (-)", Change(), "Boxes beside what is forecast, like 60 or -25."
        ),
        Column("why", "Why", Text(), "Like a shop takes sixty from June on."),
    ),
)

BY_HAND = Sheet(
    "by_hand",
    CountByHand,
    (
        Column(
            "in_month",
            "Month",
            Month(),
            "A month ahead for which you know better. The page Months ahead keeps it.",
        ),
        Column("low", "Low (boxes)", Count(), "It will surely not be fewer, all tiers together."),
        Column("likely", "Likely (boxes)", Count(), "The likeliest number."),
        Column("high", "High (boxes)", Count(), "It will surely not be more."),
        Column("why", "Why", Text(), "What you know that the past does not say."),
    ),
)

UNCERTAIN = Sheet(
    "uncertain",
    Uncertain,
    (
        Column("what", "What", Choice(Unsure), "What may turn out otherwise than planned."),
        Column("item", "Material", Code(), "Only for a price that is not quoted yet: its code on Materials."),
        Column("low", "Low (% or {money})", Number(), "It will surely not be less."),
        Column("likely", "Likely (% or {money})", Number(), "The likeliest."),
        Column("high", "High (% or {money})", Number(), "It will surely not be more."),
        Column("note", "Note", Text(), "Where these figures come from."),
    ),
)
