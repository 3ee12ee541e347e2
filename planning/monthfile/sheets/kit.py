"""The sheets of recipes, of what the month's kit is made of, and of who gets which tier."""

from kits.kit import Direction, ItemKind, KitLine, KitPaper, PreCut, Tier, When
from kits.recipe import CutBy, PaperRole, Recipe, RecipePiece
from planning.contents.rows import Does, Rule
from planning.contents.rows import When as Occasion
from planning.monthfile.codecs import (
    Capitals,
    Choice,
    Code,
    Codes,
    Count,
    Date,
    Length,
    Lines,
    Money,
    Months,
    Percent,
    Signal,
    Signals,
    Text,
    YesNo,
)
from planning.monthfile.sheets.sheet import Column, Sheet
from planning.roster.rows import Besides, OneOffOrder, Subscriber

RECIPES = Sheet(
    "recipes",
    Recipe,
    (
        Column("code", "Code", Code(), "Your own short code, like SPREAD-1."),
        Column("title", "Title", Text(), "As it stands in the booklet."),
        Column("note", "Note", Text(), "For yourself."),
        Column(
            "text",
            "Design",
            Lines(),
            "All of it, line by line: its papers and pieces, how each sheet is trimmed, where each piece lies. The app "
            "shows how it is written, and the demo's month file has five. The recipe then has no rows on the sheets Paper "
            "roles and Pieces.",
        ),
    ),
)

ROLES = Sheet(
    "roles",
    PaperRole,
    (
        Column("recipe", "Recipe", Code(), "Its code on the Recipes sheet."),
        Column("role", "Paper role", Code(), "A place for a paper in the recipe, like base or print."),
        Column("width", "Width (in or mm)", Length(), "Of the sheet, like 12 in."),
        Column("height", "Height (in or mm)", Length(), "Of the sheet, like 12 in."),
        Column(
            "sheets",
            "Sheets posted",
            Count(),
            "How many uncut sheets of this paper go into the box for each use of the recipe; the subscriber cuts them. 0 if "
            "the club cuts all of its pieces.",
        ),
    ),
)

PIECES = Sheet(
    "pieces",
    RecipePiece,
    (
        Column("recipe", "Recipe", Code(), "Its code on the Recipes sheet."),
        Column("role", "Paper role", Code(), "The role of this recipe it is cut from."),
        Column("piece", "Piece", Code(), "What it is called, like photo mat."),
        Column("width", "Width (in or mm)", Length(), "Like 4 1/4 in."),
        Column("height", "Height (in or mm)", Length(), "Like 6 1/4 in."),
        Column("count", "Count", Count(), "Equal pieces each time the recipe is made."),
        Column("page", "Page", Text(), "The page they go on, like left."),
        Column(
            "cut_by",
            "Cut by",
            Choice(CutBy),
            "The subscriber from a posted sheet, or the club before packing.",
        ),
        Column("turn", "May turn", YesNo(), "Whether it may lie either way on the sheet."),
    ),
)

KIT_PAPERS = Sheet(
    "kit_papers",
    KitPaper,
    (
        Column("recipe", "Recipe", Code(), "Its code on the Recipes sheet."),
        Column("role", "Paper role", Code(), "The role of this recipe."),
        Column("material", "Material", Code(), "The sheet that plays the role this month, of the same size."),
    ),
)

PRE_CUTS = Sheet(
    "pre_cuts",
    PreCut,
    (
        Column("code", "Code", Code(), "Your own short code."),
        Column("name", "Name", Text(), "As people at the bench know it."),
        Column("width", "Width (in or mm)", Length(), "Like 2 1/2 in."),
        Column("height", "Height (in or mm)", Length(), "Like 3 1/2 in."),
        Column(
            "cut_from", "Cut from", Codes(), "Materials it may be cut from, with commas; the plan picks one."
        ),
        Column("direction", "Direction", Choice(Direction), "How it must lie on the sheet."),
        Column("overs_percent", "Overs (% of good count)", Percent(), "Extra for spoilage, like 2."),
        Column("overs_fixed", "Make-ready (count)", Count(), "Extra on top of that, whatever the count."),
    ),
)

KIT_LINES = Sheet(
    "kit_lines",
    KitLine,
    (
        Column("kind", "Kind", Choice(ItemKind), "Pick from the list."),
        Column("item", "Item", Code(), "Code of the recipe, the pre-cut, or the material."),
        Column("count", "Count", Count(), "For each box. Of a roll, how many lengths."),
        Column("length", "Length each (in or mm)", Length(), "Only of a roll: how long each is, like 18 in."),
        Column("tiers", "Tiers", Codes(), "Codes of the tiers that get it, with commas. Empty: every tier."),
        Column("when", "When", Choice(When), "In every box, or as a welcome in a subscriber's first."),
    ),
    needed=True,
)

TIERS = Sheet(
    "tiers",
    Tier,
    (
        Column("code", "Code", Code(), "Your own short code, like FULL."),
        Column("name", "Name", Text(), "As subscribers know it."),
        Column("price", "Price a box ({money})", Money(), "What a subscriber pays."),
    ),
    needed=True,
)

RULES = Sheet(
    "rules",
    Rule,
    (
        Column("code", "Code", Code(), "Your own short code; rules at odds are told by it."),
        Column(
            "when",
            "For",
            Choice(Occasion),
            "Which boxes. What is for a subscriber once (first box, nth box, anniversary, promotion) goes into the first of "
            "their boxes. Replacement: what goes out for a damaged item. Country: what a country may not get.",
        ),
        Column("does", "Does", Choice(Does), "Add the item, leave it out, or put a substitute in for it."),
        Column(
            "item",
            "Item",
            Code(),
            "Code of a material, a pre-cut or a recipe; of a roll a length of the kit, like RIBBON@1 m.",
        ),
        Column("count", "Count", Count(), "How many to add; of a substitute, how many for each one."),
        Column("instead", "Substitute", Code(), "What goes in instead. Only of a substitute."),
        Column("tiers", "Tiers", Codes(), "Codes of the tiers it is for, with commas. Empty: every tier."),
        Column(
            "countries",
            "Countries",
            Signals(),
            "Two letters each, with commas, like CH, NO. Empty: everywhere.",
        ),
        Column(
            "priority",
            "Priority",
            Count(),
            "Of rules that want different things done with an item, the higher one counts. Give no two of them the same.",
        ),
        Column(
            "slot", "One of", Code(), "A word that rules share of which a box follows only one, like gift."
        ),
        Column(
            "number",
            "Number",
            Count(),
            "Of an nth box which one; of an anniversary the year, empty for each.",
        ),
        Column("first", "From", Date(), "First day of a promotion. It holds if packing starts in its days."),
        Column("last", "Until", Date(), "Last day of a promotion."),
        Column("promotion", "Promotion", Signal(), "Its code; empty for everybody."),
    ),
)

SUBSCRIBERS = Sheet(
    "subscribers",
    Subscriber,
    (
        Column("reference", "Reference", Code(), "Your number for the subscriber."),
        Column("name", "Name", Text(), "As on the label."),
        Column("address_1", "Address line 1", Text(), "House and street."),
        Column("address_2", "Address line 2", Text(), ""),
        Column("address_3", "Address line 3", Text(), ""),
        Column("city", "City", Text(), ""),
        Column("region", "Region", Text(), "State, county or province."),
        Column("postcode", "Postcode", Text(), "As text, so that a leading 0 stays."),
        Column("country", "Country", Capitals(), "Two letters of ISO 3166: GB, FR, US."),
        Column("tier", "Tier", Code(), "Its code on the Tiers sheet."),
        Column("quantity", "Boxes", Count(), "Boxes each month."),
        Column("active", "Active", YesNo(), "No if the subscription rests."),
        Column("joined", "Joined", Date(), "The first month's box gets the welcome extra. Empty: long ago."),
        Column("skips", "Skips", Months(), "Months without a box, with commas, like 2027-07, 2027-08."),
        Column(
            "sent",
            "Boxes so far (months)",
            Count(),
            "Months they have had a box in before this one, if the day of joining and the skips do not tell.",
        ),
        Column(
            "promotions",
            "Promotions",
            Signals(),
            "Codes they joined or ordered with, with commas, as on the Box rules sheet.",
        ),
        Column("note", "Note", Text(), "For yourself; never printed on a label."),
    ),
    needed=True,
)

ORDERS = Sheet(
    "orders",
    OneOffOrder,
    (
        Column("reference", "Order", Code(), "Your number for the order."),
        Column("subscriber", "Subscriber", Code(), "The reference on the Roster sheet."),
        Column("item", "Item", Code(), "Code of a material, a pre-cut, or a tier for a whole kit."),
        Column("count", "Count", Count(), "How many, once."),
        Column("why", "Why", Choice(Besides), "Add-on order, or replacement for one that came damaged."),
    ),
)
