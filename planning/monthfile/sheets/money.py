"""The sheets of the club's money: other costs, aims and budget, price points, promotions, what happened, variants."""

from planning.cost.headings import Heading
from planning.cost.rows import (
    Actual,
    ActualKind,
    BudgetLine,
    ChangeKind,
    Charge,
    ChargeKind,
    PricePoint,
    Promotion,
    TierAim,
    VariantLine,
)
from planning.monthfile.codecs import Choice, Code, Codes, Count, Money, Number, Percent, Text
from planning.monthfile.sheets.sheet import Column, Sheet

CHARGES = Sheet(
    "charges",
    Charge,
    (
        Column("kind", "Kind", Choice(ChargeKind), "What it is for; it decides the heading it stands under."),
        Column("name", "Name", Text(), "Like card payments, or the designer's fee."),
        Column("tiers", "Tiers", Codes(), "Codes of the tiers that bear it; empty for all."),
        Column(
            "percent",
            "Rate (%)",
            Percent(),
            "Of the price, for a payment fee; of the boxes, for damage: so many are made and sent again.",
        ),
        Column(
            "each",
            "Each ({money})",
            Money(),
            "For every kit sent, besides the rate; for damage, for every box that is sent again.",
        ),
        Column("once", "Once ({money})", Money(), "A month, shared by the kits of the tiers that bear it."),
    ),
)

AIMS = Sheet(
    "aims",
    TierAim,
    (
        Column("tier", "Tier", Code(), "Its code on the Tiers sheet."),
        Column("boxes", "Budget (boxes)", Count(), "How many kits of it the budget reckons with."),
        Column(
            "margin",
            "Margin (%)",
            Percent(),
            "What should be left of a member's price after all cost, in percent of the price.",
        ),
        Column(
            "single_margin",
            "Margin, single (%)",
            Percent(),
            "The same for somebody who orders one box and is no member.",
        ),
    ),
)

BUDGET = Sheet(
    "budget",
    BudgetLine,
    (
        Column("tier", "Tier", Code(), "Its code on the Tiers sheet; empty for what no tier bears."),
        Column("heading", "Heading", Choice(Heading), "A heading of the cost table."),
        Column("amount", "Amount ({money})", Money(), "What all its budgeted boxes may cost under it."),
    ),
)

PRICE_POINTS = Sheet(
    "price_points",
    PricePoint,
    (
        Column("start", "From ({money})", Money(), "The price from which this row counts, 0 in the first."),
        Column("step", "Steps of ({money})", Money(), "Prices are whole multiples of this, like 0.50."),
        Column("less", "Less ({money})", Money(), "What is taken off a multiple, like 0.05 for 9.95."),
    ),
)

PROMOTIONS = Sheet(
    "promotions",
    Promotion,
    (
        Column("name", "Name", Text(), "What you call it."),
        Column("tier", "Tier", Code(), "Its code on the Tiers sheet; empty for all."),
        Column("percent", "Percent off (%)", Percent(), "Taken off the price of each kit that gets it."),
        Column(
            "off", "Amount off ({money})", Money(), "An amount taken off the price of each kit that gets it."
        ),
        Column("boxes", "Kits that get it", Count(), "Of those sent anyway; empty for all of them."),
        Column("extra", "Kits besides", Count(), "How many more you hope to sell by it."),
    ),
)

ACTUALS = Sheet(
    "actuals",
    Actual,
    (
        Column("kind", "What", Choice(ActualKind), "Fill this in after the month."),
        Column(
            "item",
            "Item",
            Code(),
            "Code of the material or piece bought or spoiled, or of the service; empty for minutes.",
        ),
        Column("quantity", "Quantity", Number("a quantity", "120"), "Units, minutes, or boxes sent."),
        Column("amount", "Paid ({money})", Money(), "What was paid for it in all, if anything."),
    ),
)

VARIANTS = Sheet(
    "variants",
    VariantLine,
    (
        Column("variant", "Variant", Code(), "Its name; rows of one name belong together."),
        Column("change", "Change", Choice(ChangeKind), "What is changed."),
        Column("item", "Of", Code(), "Code of the tier, offer or material it is about; empty for the rest."),
        Column("value", "To", Code(), "The new number, or the code of the supplier or material instead."),
    ),
)

MONEY_SHEETS = (CHARGES, AIMS, BUDGET, PRICE_POINTS, PROMOTIONS, ACTUALS, VARIANTS)
