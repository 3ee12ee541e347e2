"""A month small enough to plan by hand, for the tests of every step.

Five people, one recipe, two tiers, three sheets. What it comes to:

    boxes    FULL 1 to GB (S1), 2 to FR (S2, two boxes); HALF 1 to GB (S3, with 5 brads he ordered besides),
             1 to GB (S5, joined this month, so with a welcome gift); S4 skips the month. 5 boxes in all.
    sheets   CARD 2 x 5 = 10 posted. PRINT 1 x 5 = 5 posted, and tags: 2 x 5 = 10 at 12 a sheet (3 x 4 in from
             12 x 12 in) from 1 sheet more, 2 spare. BIG: mats 3 x 5 = 15 at 9 a sheet (4 x 6 in from 12 x 18 in) from
             2 sheets, 3 spare.
    goods    RIBBON 3 lengths of 1.5 m at 6 a roll of 10 m, so 1 roll. BRADS 10 x 5 + 5 = 55. GIFT 1. CARTON 5.
    buying   CARD 10: 10 at 0.40 cost 4.00, but 20 at 0.15 cost 3.00. PRINT 6 at 0.30 = 1.80. BIG 2, sold in tens,
             10 at 0.50 = 5.00. RIBBON 1 at 4.00. BRADS 55, in hundreds, 100 at 0.02 = 2.00. GIFT: the 1 on order comes
             in time. CARTON 5, of which 2 are on the shelf: 3 at 0.60 = 1.80.
    weight   a FULL box: carton 100, card 2 x 20, print 10, tags 2 x 5/6, mats 3 x 6, ribbon 1.5 x 2, brads 10 x 1,
             together 182 2/3 g; a HALF box has no ribbon, 179 2/3 g.
"""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

from kits.catalogue import Grain, Material, MaterialKind, Offer, OpenOrder, PriceBreak, StockLine, Supplier
from kits.kit import ItemKind, KitLine, KitPaper, PreCut, Tier, When
from kits.measures import INCH, METRE, MM
from kits.recipe import CutBy, PaperRole, Recipe, RecipePiece
from planning.calendar import IsoWeek, Weekday, YearMonth
from planning.cutting.machine import Guillotine
from planning.month import Club, Month
from planning.roster.rows import OneOffOrder, Subscriber
from planning.shipping.rows import DayOff, Rate, Service, Transit, WeekdayCrew, Zone

APRIL = YearMonth(2027, 4)
FOOT = 12 * INCH
OFFICE_DAYS = tuple(Weekday)[:5]


def tiny_month() -> Month:
    """Return the month described above; it has no faults. Vary it with `dataclasses.replace`."""
    return Month(
        club=tiny_club(),
        materials=tiny_materials(),
        suppliers=(
            Supplier(code="MILL", name="Millbrook Paper", freight=Decimal(6), free_freight_from=Decimal(50)),
            Supplier(code="BITS", name="Bits & Bobs", email="orders@bits.example", freight=Decimal(3)),
        ),
        offers=tiny_offers(),
        price_breaks=tiny_price_breaks(),
        stock=(StockLine(item="CARTON", on_hand=2, value_each=Decimal("0.60")),),
        open_orders=(
            OpenOrder(
                reference="PO-1",
                supplier="BITS",
                material="GIFT",
                quantity=1,
                price=Decimal("0.75"),
                due=date(2027, 3, 18),
            ),
        ),
        recipes=(Recipe(code="DAISY", title="Daisies on a fence"),),
        roles=(
            PaperRole(recipe="DAISY", role="base", width=FOOT, height=FOOT, sheets=2),
            PaperRole(recipe="DAISY", role="print", width=FOOT, height=FOOT, sheets=1),
        ),
        pieces=tiny_pieces(),
        kit_papers=(
            KitPaper(recipe="DAISY", role="base", material="CARD"),
            KitPaper(recipe="DAISY", role="print", material="PRINT"),
        ),
        pre_cuts=(PreCut(code="MAT", name="Photo mat", width=4 * INCH, height=6 * INCH, cut_from=("BIG",)),),
        kit_lines=tiny_kit(),
        tiers=(
            Tier(code="FULL", name="The full kit", price=Decimal(20)),
            Tier(code="HALF", name="The half kit", price=Decimal(12)),
        ),
        subscribers=tiny_roster(),
        orders=(OneOffOrder(reference="ORDER-1", subscriber="S3", item="BRADS", count=5),),
        week=tuple(WeekdayCrew(weekday=day, minutes=60) for day in OFFICE_DAYS),
        days_off=(
            DayOff(day=date(2027, 3, 26), name="Good Friday"),
            DayOff(day=date(2027, 3, 29), name="Easter Monday"),
        ),
        services=(
            Service(code="ECO", carrier="Post", name="Small packet", collects=OFFICE_DAYS, max_weight=2000),
        ),
        zones=(
            Zone(carrier="Post", country="GB", zone="home"),
            Zone(carrier="Post", country="FR", zone="near"),
        ),
        transits=(Transit(service="ECO", zone="home", days=2), Transit(service="ECO", zone="near", days=4)),
        rates=(
            Rate(service="ECO", zone="home", up_to=500, price=Decimal(3)),
            Rate(service="ECO", zone="home", up_to=2000, price=Decimal(4)),
            Rate(service="ECO", zone="near", up_to=2000, price=Decimal(8)),
        ),
        guillotines=(
            Guillotine(
                code="KNIFE",
                name="The guillotine",
                opening=18 * INCH,
                lift_height=2 * INCH,
                smallest_strip=INCH,
                minutes_per_lift=Decimal(2),
                minutes_per_cut=Decimal("0.5"),
                cost_per_hour=Decimal(30),
            ),
        ),
    )


DAISY = """\
recipe DAISY: Daisies on a fence
note: The rail runs over both pages.
ruler 1/8 in
trimmer 12, takes 2 sheets

paper base: 2 sheets 12 x 12
paper print: 1 sheet 12 x 12, print one way

piece quarter: 8 of 6 x 6 from base -> left
piece strip: 1 of 12 x 3 from print -> right
piece tag: 2 of 3 x 4 from print -> right, either way, cut by the club

together: sheet 1 of base, sheet 2 of base
    cut at 6
        turn
        cut at 6: quarter -> left
        rest: quarter -> left
    turn
    cut at 6: quarter -> left
    rest: quarter -> left

sheet 1 of print
    turn
    cut at 3: offcut
    rest: strip -> right

page left: 24 x 12
    quarter at 0, 0
        photo 4 x 5, border 1/2
    quarter at 6, 0
    quarter at 12, 0
    quarter at 18, 0
    quarter at 0, 6
    quarter at 6, 6
    quarter at 12, 6
    quarter at 18, 6

page right: 12 x 12
    strip at 0, 0
    tag at 1, 5
    tag at 6, 5
"""
"""The tiny month's recipe as a text; its rows are those of `tiny_month`."""


def designed_month(text: str = DAISY) -> Month:
    """Return the tiny month with its recipe kept as a text, so without rows for its papers and pieces."""
    recipe = Recipe(code="DAISY", title="Daisies on a fence", text=text)
    return replace(tiny_month(), recipes=(recipe,), roles=(), pieces=())


def with_rows(month: Month, table: str, rows: Iterable[object]) -> Month:
    """Return a month with other rows in one of its tables."""
    changes: dict[str, Any] = {table: tuple(rows)}
    return replace(month, **changes)


def tiny_club() -> Club:
    """Planned on Monday 1 March 2027, packed from Monday 5 April, promised for 12 to 18 April; 0.20 a minute."""
    return Club(
        name="Tiny Paper Club",
        code="TINY",
        month=APRIL,
        kit_name="Daisies",
        currency="GBP",
        country="GB",
        planned_on=date(2027, 3, 1),
        promised=IsoWeek(2027, 15),
        packing_starts=date(2027, 4, 5),
        crew_cost_per_hour=Decimal(12),
        minutes_per_box=Decimal(2),
        minutes_per_line=Decimal("0.5"),
        cart_boxes=2,
    )


def tiny_materials() -> tuple[Material, ...]:
    """Three sheets, a roll, two counted goods and a carton."""
    return (
        sheet("CARD", "White card", FOOT, FOOT, grams=20),
        sheet("PRINT", "Daisy print", FOOT, FOOT, grams=10),
        sheet("BIG", "Large card", FOOT, 18 * INCH, grams=54),
        Material(
            code="RIBBON",
            name="Green ribbon",
            kind=MaterialKind.ROLL,
            thickness=Fraction(MM),
            weight=Fraction(2),
            roll_length=10 * METRE,
        ),
        Material(code="BRADS", name="Brass brads", kind=MaterialKind.COUNTED, weight=Fraction(1)),
        Material(code="GIFT", name="Welcome gift", kind=MaterialKind.COUNTED, weight=Fraction(5)),
        Material(
            code="CARTON",
            name="Flat carton",
            kind=MaterialKind.PACKAGING,
            width=13 * INCH,
            height=13 * INCH,
            thickness=Fraction(3 * INCH, 2),
            weight=Fraction(100),
            inside_width=25 * INCH // 2,
            inside_height=25 * INCH // 2,
            inside_depth=INCH,
        ),
    )


def sheet(code: str, name: str, width: int, height: int, grams: int) -> Material:
    """Return a sheet of half a millimetre, its grain along the height."""
    return Material(
        code=code,
        name=name,
        kind=MaterialKind.SHEET,
        width=width,
        height=height,
        grain=Grain.HEIGHT,
        thickness=Fraction(MM, 2),
        weight=Fraction(grams),
    )


def tiny_offers() -> tuple[Offer, ...]:
    """One offer a material."""
    return (
        Offer(code="M-CARD", supplier="MILL", material="CARD", lead_days=10),
        Offer(code="M-PRINT", supplier="MILL", material="PRINT", lead_days=5),
        Offer(code="M-BIG", supplier="MILL", material="BIG", pack=10, lead_days=5),
        Offer(code="B-RIBBON", supplier="BITS", material="RIBBON", lead_days=3),
        Offer(code="B-BRADS", supplier="BITS", material="BRADS", pack=100, lead_days=3),
        Offer(code="B-GIFT", supplier="BITS", material="GIFT", lead_days=3),
        Offer(code="B-CARTON", supplier="BITS", material="CARTON", lead_days=3),
    )


def tiny_price_breaks() -> tuple[PriceBreak, ...]:
    """One price an offer, and a second for card."""
    return (
        PriceBreak(offer="M-CARD", from_quantity=1, price=Decimal("0.40")),
        PriceBreak(offer="M-CARD", from_quantity=20, price=Decimal("0.15")),
        PriceBreak(offer="M-PRINT", from_quantity=1, price=Decimal("0.30")),
        PriceBreak(offer="M-BIG", from_quantity=10, price=Decimal("0.50")),
        PriceBreak(offer="B-RIBBON", from_quantity=1, price=Decimal(4)),
        PriceBreak(offer="B-BRADS", from_quantity=100, price=Decimal("0.02")),
        PriceBreak(offer="B-GIFT", from_quantity=1, price=Decimal("0.75")),
        PriceBreak(offer="B-CARTON", from_quantity=1, price=Decimal("0.60")),
    )


def tiny_pieces() -> tuple[RecipePiece, ...]:
    """Base: 8 quarters of two sheets. Print: a strip from the posted sheet, and two tags the club cuts."""
    return (
        RecipePiece(
            recipe="DAISY",
            role="base",
            piece="quarter",
            width=6 * INCH,
            height=6 * INCH,
            count=8,
            page="left",
        ),
        RecipePiece(
            recipe="DAISY", role="print", piece="strip", width=FOOT, height=3 * INCH, page="right", turn=False
        ),
        RecipePiece(
            recipe="DAISY",
            role="print",
            piece="tag",
            width=3 * INCH,
            height=4 * INCH,
            count=2,
            page="right",
            cut_by=CutBy.CLUB,
        ),
    )


def tiny_kit() -> tuple[KitLine, ...]:
    """What goes into a box; only the full kit has ribbon, only a first box the gift."""
    return (
        KitLine(kind=ItemKind.RECIPE, item="DAISY"),
        KitLine(kind=ItemKind.PRE_CUT, item="MAT", count=3),
        KitLine(kind=ItemKind.EXTRA, item="RIBBON", length=3 * METRE // 2, tiers=("FULL",)),
        KitLine(kind=ItemKind.EXTRA, item="BRADS", count=10),
        KitLine(kind=ItemKind.EXTRA, item="GIFT", when=When.FIRST_BOX),
        KitLine(kind=ItemKind.PACKAGING, item="CARTON"),
    )


def tiny_roster() -> tuple[Subscriber, ...]:
    """Five people."""
    return (
        person("S1", "Ada Ames", "FULL"),
        person("S2", "Zoë D'Arcy", "FULL", city="Lyon", country="FR", quantity=2),
        person("S3", "Bo Lindqvist", "HALF"),
        person("S4", "Cem Öztürk", "FULL", skips=(APRIL,)),
        person("S5", "Łucja Nowak", "HALF", joined=date(2027, 4, 2)),
    )


def person(
    reference: str,
    name: str,
    tier: str,
    *,
    city: str = "Leeds",
    country: str = "GB",
    quantity: int = 1,
    joined: date | None = None,
    skips: tuple[YearMonth, ...] = (),
) -> Subscriber:
    """Return someone who lives at number 1."""
    return Subscriber(
        reference=reference,
        name=name,
        address_1="1 Mill Lane",
        city=city,
        postcode="LS1 1AA" if country == "GB" else "69001",
        country=country,
        tier=tier,
        quantity=quantity,
        joined=joined,
        skips=skips,
    )
