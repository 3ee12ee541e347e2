"""The sheet of settings: one row a setting instead of one column a field."""

from kits.measures import RULERS
from planning.allocation.model import Rule
from planning.faults.club import PAPERS
from planning.month import Club, SlipFormat, WaveFills
from planning.monthfile.codecs import (
    Capitals,
    Choice,
    Code,
    Count,
    Date,
    Length,
    Listed,
    Money,
    Month,
    Number,
    Percent,
    Text,
    Week,
    WeightLimit,
    YesNo,
)
from planning.monthfile.sheets.sheet import Column, Sheet

MINUTES = Number("a number of minutes", "1.5")

CLUB = Sheet(
    "club",
    Club,
    (
        Column("name", "Club name", Text(), "As it stands on orders and packing slips."),
        Column(
            "code",
            "Club code",
            Code(),
            "Short, for bar codes: letters A to Z, digits, hyphens. Like KITS.",
            empty="the initials of its name",
        ),
        Column("month", "Month", Month(), "The month of the kit, like 2027-04."),
        Column("kit_name", "Kit name", Text(), "What this month's kit is called.", empty="the month"),
        Column(
            "currency",
            "Currency",
            Capitals(),
            "Three letters of ISO 4217, like GBP. All money here is in it.",
        ),
        Column("country", "Country", Capitals(), "Where the club is, by two letters of ISO 3166, like GB."),
        Column(
            "ruler",
            "Ruler",
            Listed(tuple(one.name for one in RULERS)),
            "What you measure with. A length without its unit is read in this one's.",
        ),
        Column(
            "planned_on",
            "Planned on",
            Date(),
            "The day the plan is made, like 1 Mar 2027. Orders are late or in time from here.",
            empty="today",
        ),
        Column(
            "promised",
            "Promised week",
            Week(),
            "Every box arrives in this week, like 2027-W15, or any date in it.",
        ),
        Column("packing_starts", "Packing starts", Date(), "First day the crew may pack, like 5 Apr 2027."),
        Column(
            "goods_in_days",
            "Goods in (working days)",
            Count(),
            "From receipt of a material to its first use.",
        ),
        Column(
            "cutting_days",
            "Cutting (working days)",
            Count(),
            "How long before packing the club's own cutting starts.",
        ),
        Column("crew_cost_per_hour", "Crew cost per hour ({money})", Money(), "Of one person at the bench."),
        Column("minutes_per_box", "Minutes per box", MINUTES, "To fold, fill and close one box, like 1.5."),
        Column(
            "minutes_per_line",
            "Minutes per line",
            MINUTES,
            "For each different thing that goes in, like 0.2.",
        ),
        Column(
            "minutes_per_parcel",
            "Minutes per extra parcel",
            MINUTES,
            "For each parcel of a box after its first, like 1.",
        ),
        Column(
            "cart_boxes", "A cart takes (boxes)", Count(), "Boxes that lie on one cart, laid out at once."
        ),
        Column("shelf_boxes", "A shelf takes (boxes)", Count(), "Boxes that lie on one shelf of the bench."),
        Column(
            "wave_fills",
            "A wave fills a",
            Choice(WaveFills),
            "Cart or shelf: what boxes are laid out on, and so how many are packed together.",
        ),
        Column(
            "overtime_cost_per_hour",
            "Overtime cost per hour ({money})",
            Money(),
            "All that an hour beyond the crew's own minutes costs; how much there may be is on the Week sheet.",
        ),
        Column(
            "arrive_together",
            "All arrive the same day",
            YesNo(),
            "Yes: the plan chooses one day on which every box arrives, and what comes on another is late.",
        ),
        Column(
            "piece_overs_percent",
            "Piece overs (% of good count)",
            Percent(),
            "Extra of recipe pieces the club cuts, like 2.",
        ),
        Column(
            "piece_overs_fixed",
            "Piece make-ready (count)",
            Count(),
            "Extra of each on top of that, whatever the count.",
        ),
        Column(
            "flat_clearance",
            "Flat clearance (in or mm)",
            Length(zero=True),
            "How much wider inside a carton is than what lies in it, like 6 mm.",
        ),
        Column(
            "weight_tolerance",
            "Paper weight tolerance (%)",
            Percent(),
            "How much heavier paper may be than its maker states.",
        ),
        Column(
            "just_over",
            "Just over a limit (%)",
            Percent(),
            "A parcel beyond a carrier's limit by no more than this is told, with what would bring it under. Empty: 10.",
        ),
        Column(
            "order_cost",
            "Cost of placing an order ({money})",
            Money(),
            "Only for materials bought for the whole year.",
        ),
        Column(
            "holding_percent",
            "Cost of holding stock (% a year)",
            Percent(),
            "What money tied up in stock costs, in goods bought for the year and in what a month leaves over.",
        ),
        Column(
            "leftover_percent",
            "Worth of a leftover (%)",
            Percent(),
            "What a usable unit left over is worth to you, of its lowest price. Empty: 0, so no more is bought for it.",
        ),
        Column(
            "leftover_months",
            "Leftovers wait (months)",
            Number("a number of months", "1.5"),
            "How long they lie before they are used. Empty: 1.",
        ),
        Column(
            "short_goods",
            "Short goods go",
            Choice(Rule),
            "By tier, in the order of their sheet; by joining date, earliest first; or even, the same share of each tier.",
        ),
        Column(
            "pallet_length",
            "Pallet length (in or mm)",
            Length(),
            "Of the deck that cartons stand on, like 1200 mm.",
        ),
        Column("pallet_width", "Pallet width (in or mm)", Length(), "The other side, like 800 mm."),
        Column(
            "pallet_height",
            "Pallet load height (in or mm)",
            Length(),
            "How high cartons are stacked on it at most, without the pallet. Your carrier's rule comes first.",
        ),
        Column(
            "pallet_weight",
            "Pallet load (g or lb)",
            WeightLimit(),
            "The most that stands on one pallet, like 400,000 or 880 lb. Your carrier's rule comes first.",
        ),
        Column("paper", "Paper for printing", Listed(PAPERS), "A4 or Letter."),
        Column(
            "slips",
            "Packing slips on",
            Choice(SlipFormat),
            "One slip a page on A6 or half letter, or two or four on a sheet that is cut along the lines.",
        ),
        Column("address", "Address", Text(), "Where suppliers deliver; lines may be broken."),
        Column("note", "Note", Text(), "For whoever reads the plan."),
    ),
    needed=True,
)
