"""A small invented month in which something is late, something is short, and some names are awkward."""

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from fractions import Fraction
from functools import cache

from kits.catalogue import (
    Grain,
    Leftover,
    Material,
    MaterialKind,
    Offer,
    OpenOrder,
    PriceBreak,
    StockLine,
    Supplier,
)
from kits.kit import ItemKind, KitLine, KitPaper, PreCut, Tier, When
from kits.measures import INCH, METRE, MM, Grammage
from kits.recipe import CutBy, PaperRole, Recipe, RecipePiece
from planning.calendar import IsoWeek, Weekday, YearMonth
from planning.cutting.machine import Guillotine
from planning.documents.stamp import Stamp
from planning.flow import MonthPlan, plan_month
from planning.month import Club, Month
from planning.roster import OneOffOrder, Subscriber
from planning.shipping import DayOff, Rate, Service, Transit, WeekdayCrew, Zone

STAMP = Stamp(plan_id="RIV-2027-04-a1", version=3, made_at=datetime(2027, 3, 1, 9, 30, tzinfo=UTC))
APRIL = YearMonth(2027, 4)
MARCH = YearMonth(2027, 3)

CLUB = Club(
    name="River & Reed Paper Club",
    code="RIV",
    month=APRIL,
    kit_name="Kingfisher",
    currency="EUR",
    country="DE",
    planned_on=date(2027, 3, 1),
    promised=IsoWeek(2027, 14),
    packing_starts=date(2027, 3, 29),
    crew_cost_per_hour=Decimal("18.50"),
    minutes_per_box=Decimal("1.5"),
    minutes_per_line=Decimal("0.25"),
    cart_boxes=4,
    piece_overs_percent=Decimal(3),
    piece_overs_fixed=2,
)

MATERIALS = (
    Material(
        code="GREY",
        name="Grey cardstock",
        kind=MaterialKind.SHEET,
        width=12 * INCH,
        height=12 * INCH,
        grain=Grain.HEIGHT,
        grammage=Grammage(Fraction(216)),
        thickness=Fraction(3 * MM, 10),
        overs_percent=Decimal(2),
    ),
    Material(
        code="BLUE",
        name="Kingfisher blue, one-sided print",
        kind=MaterialKind.SHEET,
        width=12 * INCH,
        height=12 * INCH,
        grammage=Grammage(Fraction(160)),
        thickness=Fraction(MM, 5),
        leftover=Leftover.WRITTEN_OFF,
    ),
    Material(
        code="RIB",
        name="Ribbon, sand",
        kind=MaterialKind.ROLL,
        roll_length=9 * METRE,
        weight=Fraction(4),
        thickness=Fraction(2 * MM),
    ),
    Material(
        code="BRAD", name="Brass brad", kind=MaterialKind.COUNTED, weight=Fraction(3, 10), overs_fixed=5
    ),
    Material(code="HOOP", name="Wooden hoop", kind=MaterialKind.COUNTED, weight=Fraction(12)),
    Material(
        code="BOX",
        name="Flat carton",
        kind=MaterialKind.PACKAGING,
        weight=Fraction(180),
        inside_width=25 * INCH // 2,
        inside_height=25 * INCH // 2,
        inside_depth=20 * MM,
    ),
)

SUPPLIERS = (
    Supplier(code="MILL", name="Mühle & Söhne", freight=Decimal("12.50"), free_freight_from=Decimal(500)),
    Supplier(code="TRIM", name="Trimmings House", freight=Decimal("6.90")),
)
OFFERS = (
    Offer(code="O1", supplier="MILL", material="GREY", pack=25, lead_days=8),
    Offer(code="O2", supplier="MILL", material="BLUE", pack=10, lead_days=18, setup_charge=Decimal(15)),
    Offer(code="O3", supplier="TRIM", material="RIB", lead_days=5),
    Offer(code="O4", supplier="TRIM", material="BRAD", pack=100, minimum=200, lead_days=5),
    Offer(code="O5", supplier="MILL", material="BOX", pack=5, lead_days=6),
)
BREAKS = (
    PriceBreak(offer="O1", from_quantity=1, price=Decimal("0.385")),
    PriceBreak(offer="O1", from_quantity=150, price=Decimal("0.21")),
    PriceBreak(offer="O2", from_quantity=1, price=Decimal("0.4275")),
    PriceBreak(offer="O3", from_quantity=1, price=Decimal("3.95")),
    PriceBreak(offer="O4", from_quantity=1, price=Decimal("0.0125")),
    PriceBreak(offer="O5", from_quantity=1, price=Decimal("0.96")),
)


def person(reference: str, name: str, country: str = "DE", tier: str = "STD", **more: object) -> Subscriber:
    """Return a subscriber whose address is their own."""
    place = {"address_1": f"{reference} Reed Lane", "city": "Quellstadt", "postcode": "10115"}
    return Subscriber(reference=reference, name=name, country=country, tier=tier, **{**place, **more})  # type: ignore[arg-type]


SUBSCRIBERS = (
    person("S01", "Ada Brook"),
    person("S02", "Łukasz Dvořák", "PL", "DLX"),
    person("S03", '=HYPERLINK("http://club.invalid","Win")', "DE", "DLX"),
    person("S04", "Bram Left", active=False),
    person("S05", "Cleo Later", joined=date(2027, 5, 2)),
    person("S06", "Dov Skip", skips=(APRIL,)),
    person("S07", "Eve None", quantity=0),
    person("S08", "Finn Two", quantity=2),
    person("S09", "Gwen First", "PL", joined=date(2027, 4, 1)),
    person("S10", "Hal Waits", joined=date(2027, 3, 1), skips=(MARCH,)),
    person("S11", "水野 美咲", "JP"),
    person("S12", "Iva\u0301n Far", "IS"),
    person(
        "S13", "Jo Long", address_1="The Old Boat House behind the Third Mill on the Upper Weir, Staircase B"
    ),
    person("S14", "Kit Bare", postcode=""),
    person("S15", "Ada  BROOK", address_1="S01 reed lane"),
    *(person(f"T{n:02}", f"Crew Test {n}", "DE", "STD" if n % 3 else "DLX") for n in range(1, 31)),
)

MONTH = Month(
    club=CLUB,
    materials=MATERIALS,
    suppliers=SUPPLIERS,
    offers=OFFERS,
    price_breaks=BREAKS,
    stock=(
        StockLine(item="GREY", on_hand=40, value_each=Decimal("0.35")),
        StockLine(item="TAG", on_hand=30, value_each=Decimal("0.02")),
    ),
    open_orders=(
        OpenOrder(
            reference="P7",
            supplier="MILL",
            material="BOX",
            quantity=10,
            price=Decimal("0.9"),
            due=date(2027, 3, 10),
        ),
    ),
    recipes=(Recipe(code="R1", title="Riverbank"),),
    roles=(
        PaperRole(recipe="R1", role="base", width=12 * INCH, height=12 * INCH, sheets=2),
        PaperRole(recipe="R1", role="print", width=12 * INCH, height=12 * INCH, sheets=1),
    ),
    pieces=(
        RecipePiece(
            recipe="R1",
            role="base",
            piece="photo mat",
            width=17 * INCH // 4,
            height=25 * INCH // 4,
            count=2,
            cut_by=CutBy.CLUB,
        ),
    ),
    kit_papers=(
        KitPaper(recipe="R1", role="base", material="GREY"),
        KitPaper(recipe="R1", role="print", material="BLUE"),
    ),
    pre_cuts=(
        PreCut(
            code="TAG",
            name="Tag",
            width=5 * INCH // 2,
            height=7 * INCH // 2,
            cut_from=("GREY", "BLUE"),
            overs_percent=Decimal(5),
        ),
    ),
    kit_lines=(
        KitLine(kind=ItemKind.RECIPE, item="R1"),
        KitLine(kind=ItemKind.PRE_CUT, item="TAG", count=3),
        KitLine(kind=ItemKind.EXTRA, item="RIB", count=2, length=400 * MM),
        KitLine(kind=ItemKind.EXTRA, item="BRAD", count=6, tiers=("DLX",)),
        KitLine(kind=ItemKind.EXTRA, item="HOOP", when=When.FIRST_BOX),
        KitLine(kind=ItemKind.PACKAGING, item="BOX"),
    ),
    tiers=(
        Tier(code="STD", name="Standard", price=Decimal("14.90")),
        Tier(code="DLX", name="Deluxe", price=Decimal("19.50")),
    ),
    subscribers=SUBSCRIBERS,
    orders=(
        OneOffOrder(reference="X1", subscriber="S01", item="BRAD", count=4),
        OneOffOrder(reference="X2", subscriber="S06", item="BRAD", count=10),
        OneOffOrder(reference="X3", subscriber="S02", item="STD"),
    ),
    week=tuple(WeekdayCrew(weekday=day, minutes=20) for day in tuple(Weekday)[:5]),
    days_off=(
        DayOff(day=date(2027, 3, 26), name="Good Friday"),
        DayOff(day=date(2027, 3, 29), name="Easter Monday"),
    ),
    services=(
        Service(
            code="ECO",
            carrier="POST",
            name="Letter post",
            collects=(Weekday.TUE, Weekday.THU),
            max_weight=1000,
        ),
        Service(code="EXP", carrier="POST", name="Express post", collects=tuple(Weekday)[:5]),
    ),
    zones=(
        Zone(carrier="POST", country="DE", zone="home"),
        Zone(carrier="POST", country="PL", zone="near"),
        Zone(carrier="POST", country="JP", zone="far"),
    ),
    transits=(
        Transit(service="ECO", zone="home", days=2),
        Transit(service="ECO", zone="near", days=4),
        Transit(service="EXP", zone="home", days=1),
        Transit(service="EXP", zone="far", days=12),
    ),
    rates=(
        Rate(service="ECO", zone="home", up_to=500, price=Decimal("2.85")),
        Rate(service="ECO", zone="home", up_to=1000, price=Decimal("3.95")),
        Rate(service="ECO", zone="near", up_to=1000, price=Decimal("7.40")),
        Rate(service="EXP", zone="home", up_to=5000, price=Decimal("8.20")),
        Rate(service="EXP", zone="far", up_to=5000, price=Decimal("21.10")),
    ),
    guillotines=(
        Guillotine(
            code="G1",
            name="Bench guillotine",
            opening=18 * INCH,
            lift_height=30 * MM,
            minutes_per_lift=Decimal(2),
            minutes_per_cut=Decimal("0.5"),
            cost_per_hour=Decimal(24),
        ),
    ),
)

EMPTY_MONTH = replace(MONTH, subscribers=(), orders=())


@cache
def small_plan() -> MonthPlan:
    """Return the month's plan, made once a process."""
    return plan_month(MONTH)
