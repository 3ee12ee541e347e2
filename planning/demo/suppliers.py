"""Three suppliers, what they offer at which price, what is on the shelf and what is on its way."""

from datetime import date
from decimal import Decimal

from kits.catalogue import Offer, OpenOrder, PriceBreak, StockLine, Supplier

LARKMILL, THISTLEWICK, BODKIN = "LARKMILL", "THISTLEWICK", "BODKIN"

SUPPLIERS = (
    Supplier(
        code=LARKMILL,
        name="Larkmill Paper Merchants",
        email="orders@larkmill.example.org",
        address="Unit 7, Mill Race Park, Ballymorrin, Co. Carrigmore",
        freight=Decimal("48.00"),
        free_freight_from=Decimal("1500.00"),
    ),
    Supplier(
        code=THISTLEWICK,
        name="Thistlewick Print Works",
        email="trade@thistlewick.example.org",
        address="22 Foundry Brow, Pennywhistle Cross, XQ4 7KD",
        freight=Decimal("65.00"),
        free_freight_from=Decimal("2500.00"),
    ),
    Supplier(
        code=BODKIN,
        name="Bodkin Vale Sundries",
        email="hello@bodkin-vale.example.org",
        address="Löhrgasse 3, 09983 Oberquellnitz",
        freight=Decimal("29.50"),
        free_freight_from=Decimal("2000.00"),
    ),
)

PRICE_LIST = (
    # offer, supplier, material, pack, minimum, multiple, lead days, set-up, price each from a quantity
    (
        "T-BLOSSOM",
        THISTLEWICK,
        "BLOSSOM",
        50,
        500,
        50,
        14,
        "45",
        "500 .262, 1000 .205, 2500 .158, 10000 .124",
    ),
    (
        "T-GINGHAM",
        THISTLEWICK,
        "GINGHAM",
        50,
        500,
        50,
        14,
        "45",
        "500 .262, 1000 .205, 2500 .158, 10000 .124",
    ),
    ("T-SCRIPT", THISTLEWICK, "SCRIPT", 50, 500, 50, 14, "45", "500 .262, 1000 .205, 2500 .158, 10000 .124"),
    (
        "T-TRELLIS",
        THISTLEWICK,
        "TRELLIS",
        50,
        500,
        50,
        14,
        "45",
        "500 .262, 1000 .205, 2500 .158, 10000 .124",
    ),
    ("L-CREAM", LARKMILL, "CREAM", 125, 125, 125, 6, "0", "125 .178, 1000 .149, 5000 .126, 25000 .112"),
    ("B-CREAM", BODKIN, "CREAM", 25, 100, 25, 9, "0", "100 .192, 500 .164, 4000 .131, 20000 .117"),
    ("L-BARK", LARKMILL, "BARK", 125, 125, 125, 6, "0", "125 .186, 1000 .156, 5000 .132, 25000 .117"),
    ("L-ROSE", LARKMILL, "ROSE", 125, 125, 125, 6, "0", "125 .186, 1000 .156, 5000 .132, 25000 .117"),
    ("L-SKY", LARKMILL, "SKY-A4", 250, 250, 250, 4, "0", "250 .064, 1000 .047, 5000 .038"),
    ("L-VELLUM", LARKMILL, "VELLUM-A4", 100, 100, 100, 8, "0", "100 .138, 500 .109, 2000 .088"),
    ("B-VELLUM", BODKIN, "VELLUM-A4", 50, 200, 50, 11, "0", "200 .121, 1000 .096, 5000 .079"),
    ("L-VELLUM-SRA2", LARKMILL, "VELLUM-SRA2", 50, 50, 50, 8, "0", "50 .380, 250 .330, 1000 .290"),
    ("L-IVORY-2026", LARKMILL, "IVORY-2026", 100, 100, 100, 7, "0", "100 .440, 500 .372, 2000 .318"),
    ("L-IVORY-SRA2", LARKMILL, "IVORY-SRA2", 100, 100, 100, 7, "0", "100 .385, 500 .318, 2000 .271"),
    ("L-KRAFT", LARKMILL, "KRAFT-B1", 50, 50, 50, 5, "0", "50 .890, 200 .760, 1000 .640"),
    (
        "T-BOOKLET",
        THISTLEWICK,
        "BOOKLET",
        25,
        250,
        25,
        12,
        "120",
        "250 1.15, 1000 .780, 1500 .590, 5000 .410",
    ),
    (
        "T-STICKERS",
        THISTLEWICK,
        "STICKERS",
        50,
        250,
        50,
        12,
        "60",
        "250 .480, 1000 .310, 2500 .215, 10000 .150",
    ),
    ("T-WELCOME", THISTLEWICK, "WELCOME", 50, 250, 50, 8, "35", "250 .360, 1000 .190, 5000 .120"),
    ("B-STENCIL", BODKIN, "STENCIL", 10, 100, 10, 10, "0", "100 .720, 500 .540, 1000 .430, 5000 .340"),
    ("B-STAMPS", BODKIN, "STAMPS", 10, 200, 10, 25, "80", "200 2.30, 500 1.85, 1000 1.55, 5000 1.20"),
    ("B-GLASSINE", BODKIN, "GLASSINE", 100, 500, 100, 6, "0", "500 .058, 2500 .041, 10000 .033"),
    ("B-BRADS", BODKIN, "BRADS", 500, 500, 500, 8, "0", "500 .032, 5000 .024, 20000 .019"),
    ("B-RIBBON", BODKIN, "RIBBON", 1, 5, 1, 8, "0", "5 6.40, 50 5.30, 100 4.70, 500 4.10"),
    ("B-TWINE", BODKIN, "TWINE", 1, 2, 1, 8, "0", "2 7.20, 12 6.10, 48 5.30"),
    (
        "L-CARTON-40",
        LARKMILL,
        "CARTON-40",
        50,
        300,
        50,
        10,
        "0",
        "300 .790, 1000 .640, 3000 .560, 20000 .530",
    ),
    ("B-CARTON-40", BODKIN, "CARTON-40", 20, 200, 20, 7, "0", "200 .860, 1000 .690, 3000 .590"),
    ("L-CARTON-20", LARKMILL, "CARTON-20", 50, 300, 50, 10, "0", "300 .620, 1000 .510, 10000 .480"),
    ("L-TISSUE", LARKMILL, "TISSUE", 480, 480, 480, 5, "0", "480 .062, 4800 .045, 9600 .041"),
    ("B-LABEL", BODKIN, "LABEL", 250, 1000, 250, 6, "0", "1000 .034, 5000 .024, 20000 .017"),
)
"""No line for BUTTONS: the maker has given them up, and nobody else offers them."""

OFFERS = tuple(
    Offer(
        code=code,
        supplier=supplier,
        material=material,
        pack=pack,
        minimum=minimum,
        multiple=multiple,
        lead_days=lead_days,
        setup_charge=Decimal(setup),
    )
    for code, supplier, material, pack, minimum, multiple, lead_days, setup, _ in PRICE_LIST
)

PRICE_BREAKS = tuple(
    PriceBreak(offer=code, from_quantity=int(quantity), price=Decimal(price))
    for code, *_, prices in PRICE_LIST
    for quantity, price in (step.split() for step in prices.split(", "))
)

SHELF = (
    # item, units at 1,200 boxes a month, value each
    ("CREAM", 700, "0.151"),
    ("BARK", 340, "0.158"),
    ("SKY-A4", 900, "0.049"),
    ("VELLUM-A4", 120, "0.102"),
    ("IVORY-SRA2", 40, "0.324"),
    ("KRAFT-B1", 12, "0.775"),
    ("WELCOME", 160, "0.205"),
    ("GLASSINE", 1_450, "0.042"),
    ("BRADS", 2_800, "0.025"),
    ("BUTTONS", 880, "0.085"),
    ("RIBBON", 9, "4.90"),
    ("TWINE", 31, "5.60"),
    ("CARTON-40", 410, "0.630"),
    ("CARTON-20", 95, "0.520"),
    ("TISSUE", 730, "0.046"),
    ("LABEL", 1_900, "0.025"),
    ("CARD-34", 260, "0.031"),  # pieces cut last month
    ("TAG", 150, "0.012"),
)

ON_ORDER = (
    # reference, supplier, material, units at 1,200 boxes a month, price, due
    ("PO-0412", LARKMILL, "CARTON-40", 500, "0.640", date(2027, 4, 21)),
    ("PO-0415", LARKMILL, "IVORY-2026", 300, "0.440", date(2027, 4, 9)),
    (
        "PO-0398",
        BODKIN,
        "BUTTONS",
        600,
        "0.085",
        date(2027, 5, 5),
    ),  # the maker's last batch, some days late and not enough
)


def stock(boxes: int) -> tuple[StockLine, ...]:
    """Return the shelf of a club that sends so many boxes a month."""
    return tuple(
        StockLine(item=item, on_hand=units * boxes // 1_200, value_each=Decimal(value))
        for item, units, value in SHELF
    )


def open_orders(boxes: int) -> tuple[OpenOrder, ...]:
    """Return the open orders of a club that sends so many boxes a month."""
    return tuple(
        OpenOrder(
            reference=reference,
            supplier=supplier,
            material=material,
            quantity=max(1, units * boxes // 1_200),
            price=Decimal(price),
            due=due,
        )
        for reference, supplier, material, units, price, due in ON_ORDER
    )
