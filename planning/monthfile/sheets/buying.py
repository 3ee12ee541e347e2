"""The sheets of what can be bought, what is on the shelf, and what is on order."""

from kits.catalogue import (
    Breaks,
    Grain,
    Leftover,
    Material,
    MaterialKind,
    Offer,
    OpenOrder,
    PriceBreak,
    Print,
    StockLine,
    Supplier,
)
from planning.monthfile.codecs import (
    Choice,
    Code,
    Codes,
    Count,
    Date,
    Length,
    Money,
    PaperWeight,
    Percent,
    RollLength,
    Text,
    Thickness,
    Weight,
    YesNo,
)
from planning.monthfile.sheets.sheet import Column, Sheet

MATERIALS = Sheet(
    "materials",
    Material,
    (
        Column("code", "Code", Code(), "Your own short code, like CARD-12."),
        Column("name", "Name", Text(), "As people at the bench know it."),
        Column(
            "kind",
            "Kind",
            Choice(MaterialKind),
            "Pick from the list. Sheets are counted in sheets, rolls in whole rolls.",
        ),
        Column(
            "width",
            "Width (in or mm)",
            Length(),
            "Of a sheet or a flat thing, or outside of a carton, like 12 in. Empty for what is small or has no size.",
        ),
        Column("height", "Height (in or mm)", Length(), "The other side, like 12 in or 297 mm."),
        Column("grain", "Grain along", Choice(Grain), "Along which side the fibres run, if you know."),
        Column(
            "print",
            "Print",
            Choice(Print),
            "One way if its print has a top, as lettering and flowers have; that is the top of the sheet.",
        ),
        Column(
            "grammage",
            "Paper weight (g/m² or lb)",
            PaperWeight(),
            "Of a sheet, as its maker states it and with its unit, like 300 g/m² or 80 lb cover.",
        ),
        Column(
            "thickness",
            "Thickness (mil, mm or in)",
            Thickness(),
            "Of one of it in the stack, like 12 mil or 0.3 mm. Of a carton, its outside depth, like 47 mm.",
        ),
        Column(
            "weight",
            "Weight each (g or oz)",
            Weight(),
            "Like 85 g; 0 g if it weighs next to nothing. Of a roll, for each metre. A sheet with a paper weight needs "
            "none. Empty: counted as 0 g, and the plan says so.",
        ),
        Column("roll_length", "Roll length (m or yd)", RollLength(), "Usable length of one roll, like 25 m."),
        Column(
            "inside_width",
            "Inside width (in or mm)",
            Length(),
            "Of a carton, the room inside. What is no carton has none.",
        ),
        Column("inside_height", "Inside height (in or mm)", Length(), "Of a carton, the other side."),
        Column(
            "inside_depth",
            "Inside depth (in or mm)",
            Length(),
            "Of a carton, how high the stack in it may be.",
        ),
        Column("overs_percent", "Overs (% of good count)", Percent(), "Extra for spoilage, like 2."),
        Column("overs_fixed", "Make-ready (count)", Count(), "Extra on top of that, whatever the count."),
        Column(
            "leftover",
            "Left over",
            Choice(Leftover),
            "Whether what the month does not use is kept or written off.",
        ),
        Column(
            "used_a_year",
            "Used a year (units)",
            Count(),
            "Only if you buy it for the year and not for the month.",
        ),
        Column(
            "split",
            "May be split",
            YesNo(),
            "Yes if it may come from several suppliers at once. Empty: no, so that all of it is alike.",
        ),
        Column(
            "cut_from",
            "May be cut from",
            Codes(),
            "Larger sheets this size may be cut from instead, with commas; the plan takes what costs less.",
        ),
        Column(
            "storage",
            "Storage a month ({money})",
            Money(),
            "What keeping one unit for a month costs, besides the money tied up in it, like 0.002.",
        ),
        Column(
            "edge_trim",
            "Edge trim (in or mm)",
            Length(zero=True),
            "Of a sheet that pieces are cut from: what is first cut off each edge, like 5 mm. Empty: nothing.",
        ),
        Column(
            "shelf", "Shelf place", Text(), "Where it stands in the store, like B3-2. Pick lists go by it."
        ),
        Column(
            "carries",
            "Carries (g or kg)",
            Weight(),
            "Of a carton, the most that may lie in it, like 5 kg. Empty: no limit.",
        ),
        Column(
            "soft",
            "Soft",
            YesNo(),
            "Yes for an envelope that is as thick as what is in it. Empty: no, as for a carton.",
        ),
    ),
    needed=True,
)

SUPPLIERS = Sheet(
    "suppliers",
    Supplier,
    (
        Column("code", "Code", Code(), "Your own short code for the supplier."),
        Column("name", "Name", Text(), "As it stands on the order."),
        Column("email", "Email", Text(), "Where orders go."),
        Column("address", "Address", Text(), "As it stands on the order; lines may be broken."),
        Column("freight", "Freight an order ({money})", Money(), "Paid once for each order, like 12.50."),
        Column(
            "free_freight_from",
            "Freight free from ({money})",
            Money(),
            "Goods from this amount come free of freight. Empty: never.",
        ),
    ),
)

OFFERS = Sheet(
    "offers",
    Offer,
    (
        Column("code", "Code", Code(), "Your own short code for the offer."),
        Column("supplier", "Supplier", Code(), "Its code on the Suppliers sheet."),
        Column("material", "Material", Code(), "Its code on the Materials sheet."),
        Column("pack", "Pack (units)", Count(), "Units in one pack; only whole packs are sold, like 250."),
        Column("minimum", "Minimum order (units)", Count(), "The least the supplier sells at once."),
        Column("multiple", "Order multiple (units)", Count(), "Orders are a multiple of this many units."),
        Column(
            "lead_days",
            "Lead time (working days)",
            Count(),
            "From the order to the goods in the house, like 10.",
        ),
        Column(
            "setup_charge", "Set-up charge ({money})", Money(), "Paid once for each order of it, like 25."
        ),
        Column(
            "maximum", "At most (units)", Count(), "The most the supplier has. Empty: as many as you like."
        ),
        Column(
            "breaks",
            "Breaks reprice",
            Choice(Breaks),
            "All units of an order that reaches a price break, or, incremental, only the units from there on.",
        ),
        Column(
            "even_late",
            "Even if late",
            YesNo(),
            "Yes to weigh it though it cannot come in time. Empty: no, while anything else can.",
        ),
        Column(
            "order_until",
            "Order until",
            Date(),
            "The last day the supplier takes the order at these prices, like 12 Mar 2027. Empty: any day.",
        ),
    ),
)

PRICE_BREAKS = Sheet(
    "price_breaks",
    PriceBreak,
    (
        Column(
            "offer",
            "Offer",
            Code(),
            "Its code on the Offers sheet. One row a price, from the smallest quantity up.",
        ),
        Column(
            "from_quantity",
            "From quantity (units)",
            Count(),
            "An order of this many or more has the price, all of it; with incremental breaks, the units from here on.",
        ),
        Column("price", "Price each ({money})", Money(), "Of one unit, like 0.42; at most 6 decimals."),
    ),
)

STOCK = Sheet(
    "stock",
    StockLine,
    (
        Column(
            "item",
            "Item",
            Code(),
            "Code of a material or a pre-cut, or recipe/piece of a piece the club cuts.",
        ),
        Column("on_hand", "On hand (units)", Count(), "Counted on the shelf."),
        Column("value_each", "Value each ({money})", Money(), "What one of them cost."),
    ),
)

OPEN_ORDERS = Sheet(
    "open_orders",
    OpenOrder,
    (
        Column("reference", "Order", Code(), "Number of the order placed."),
        Column("supplier", "Supplier", Code(), "Its code on the Suppliers sheet."),
        Column("material", "Material", Code(), "Its code on the Materials sheet."),
        Column("quantity", "Quantity (units)", Count(), "Ordered and not yet received."),
        Column("price", "Price each ({money})", Money(), "As agreed."),
        Column("due", "Due", Date(), "The day the goods are expected, like 29 Mar 2027."),
    ),
)
