"""A small month for the tests of rows, jobs, pages and commands: five people, one recipe, one pre-cut, one ribbon."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

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
from kits.measures import INCH, METRE, MM, BasicSize, Grammage
from kits.recipe import CutBy, PaperRole, Recipe, RecipePiece
from planning.allocation.rows import SubstituteRow
from planning.calendar import IsoWeek, Weekday, YearMonth
from planning.chances.rows import Uncertain, Unsure
from planning.cutting import Guillotine
from planning.forecast.rows import Announcement, CountByHand, PastTier, PromotedMonth, Stayed
from planning.lots.rows import Forecast
from planning.month import Club, Month
from planning.overs.rows import BuyFor, CountQuantile, Outlook, Spoilage
from planning.roster import OneOffOrder, Subscriber
from planning.shipping import (
    CrewDay,
    DayOff,
    OffFor,
    Rate,
    Rounding,
    Service,
    Transit,
    Volume,
    WeekdayCrew,
    Zone,
)

CLUB = Club(
    name="Heron Lane Paper Club",
    code="HERON",
    month=YearMonth(2027, 4),
    kit_name="Reedbed",
    currency="GBP",
    country="GB",
    planned_on=date(2027, 3, 1),
    promised=IsoWeek(2027, 14),
    packing_starts=date(2027, 3, 29),
    crew_cost_per_hour=Decimal("14.40"),
    minutes_per_box=Decimal("3.5"),
    minutes_per_line=Decimal("0.25"),
    cart_boxes=4,
    piece_overs_percent=Decimal(5),
    note="Water’s edge: blues & greens",
)


def subscriber(number: int, name: str, country: str = "GB", **other: object) -> Subscriber:
    """Return one of the five."""
    plain = {"tier": "FULL", "city": "Wells", "postcode": "BA5 2XX"}
    values = {"reference": f"S{number}", "name": name, "address_1": f"{number} Mill Lane", "country": country}
    return Subscriber(**values | plain | other)  # type: ignore[arg-type]


SMALL_MONTH = Month(
    club=CLUB,
    materials=(
        Material(
            code="SHORE",
            name="Shore White",
            kind=MaterialKind.SHEET,
            width=12 * INCH,
            height=12 * INCH,
            grain=Grain.HEIGHT,
            grammage=Grammage(Fraction(80), BasicSize.COVER),
            thickness=Fraction(11 * INCH, 1000),
            overs_percent=Decimal("2.5"),
            overs_fixed=1,
        ),
        Material(
            code="RIBBON",
            name="Reed Ribbon",
            kind=MaterialKind.ROLL,
            roll_length=25 * METRE,
            weight=Fraction(7, 3),
            thickness=Fraction(2 * MM),
        ),
        Material(
            code="FOLD",
            name="Welcome Fold",
            kind=MaterialKind.PRINT,
            width=148 * MM,
            height=210 * MM,
            weight=Fraction(9),
            thickness=Fraction(MM, 2),
            leftover=Leftover.WRITTEN_OFF,
        ),
        Material(
            code="CARTON",
            name="Flat Carton",
            kind=MaterialKind.PACKAGING,
            width=340 * MM,
            height=340 * MM,
            thickness=Fraction(30 * MM),
            weight=Fraction(120),
            inside_width=330 * MM,
            inside_height=330 * MM,
            inside_depth=24 * MM,
            used_a_year=600,
        ),
    ),
    suppliers=(
        Supplier(code="MILL", name="Mill & Daughters", email="orders@mill.example", freight=Decimal("6.00")),
        Supplier(
            code="TRIM",
            name="Trimmings",
            freight=Decimal("3.50"),
            free_freight_from=Decimal(50),
            address="1 Row",
        ),
    ),
    offers=(
        Offer(
            code="MILL-SHORE",
            supplier="MILL",
            material="SHORE",
            pack=25,
            minimum=25,
            multiple=25,
            lead_days=5,
        ),
        Offer(code="TRIM-RIBBON", supplier="TRIM", material="RIBBON", lead_days=18),
        Offer(code="TRIM-FOLD", supplier="TRIM", material="FOLD", pack=10, setup_charge=Decimal("2.00")),
        Offer(code="MILL-CARTON", supplier="MILL", material="CARTON", pack=20, lead_days=3),
    ),
    price_breaks=(
        PriceBreak(offer="MILL-SHORE", from_quantity=1, price=Decimal("0.3125")),
        PriceBreak(offer="MILL-SHORE", from_quantity=100, price=Decimal("0.28")),
        PriceBreak(offer="TRIM-RIBBON", from_quantity=1, price=Decimal("4.10")),
        PriceBreak(offer="TRIM-FOLD", from_quantity=10, price=Decimal("0.2")),
        PriceBreak(offer="MILL-CARTON", from_quantity=20, price=Decimal("0.55")),
    ),
    stock=(
        StockLine(item="SHORE", on_hand=3, value_each=Decimal("0.30")),
        StockLine(item="TAG", on_hand=2, value_each=Decimal("0.05")),
    ),
    open_orders=(
        OpenOrder(
            reference="PO-7",
            supplier="MILL",
            material="CARTON",
            quantity=2,
            price=Decimal("0.60"),
            due=date(2027, 3, 10),
        ),
    ),
    recipes=(Recipe(code="R1", title="Two Herons", note="left page first"),),
    roles=(PaperRole(recipe="R1", role="base", width=12 * INCH, height=12 * INCH, sheets=2),),
    pieces=(
        RecipePiece(
            recipe="R1", role="base", piece="mat", width=4 * INCH, height=6 * INCH, count=2, page="left"
        ),
        RecipePiece(
            recipe="R1",
            role="base",
            piece="strip",
            width=INCH,
            height=12 * INCH,
            cut_by=CutBy.CLUB,
            turn=False,
        ),
    ),
    kit_papers=(KitPaper(recipe="R1", role="base", material="SHORE"),),
    pre_cuts=(
        PreCut(
            code="TAG",
            name="Tag 2 1/2 × 3 1/2",
            width=5 * INCH // 2,
            height=7 * INCH // 2,
            cut_from=("SHORE",),
            overs_fixed=2,
        ),
    ),
    kit_lines=(
        KitLine(kind=ItemKind.RECIPE, item="R1"),
        KitLine(kind=ItemKind.PRE_CUT, item="TAG", count=4, tiers=("FULL",)),
        KitLine(kind=ItemKind.EXTRA, item="RIBBON", length=METRE, tiers=("FULL", "HALF")),
        KitLine(kind=ItemKind.EXTRA, item="FOLD", when=When.FIRST_BOX),
        KitLine(kind=ItemKind.PACKAGING, item="CARTON"),
    ),
    tiers=(
        Tier(code="FULL", name="Full", price=Decimal("24.00")),
        Tier(code="HALF", name="Half", price=Decimal(14)),
    ),
    subscribers=(
        subscriber(1, "Łucja Dvořáková", quantity=2),
        subscriber(2, "Bram O’Hare", "IE", tier="HALF", joined=date(2027, 4, 2), city="Ennis"),
        subscriber(3, "Chidi Anand", skips=(YearMonth(2027, 4), YearMonth(2027, 6)), joined=date(2026, 9, 1)),
        subscriber(4, "Dana Eriksen", "NO", city="Tromsø", region="Troms", note="bell does not ring"),
        subscriber(5, "Edda Falk", active=False, address_2="Flat 2", address_3="Rear"),
    ),
    orders=(OneOffOrder(reference="O1", subscriber="S4", item="TAG", count=6),),
    week=tuple(WeekdayCrew(weekday=day, minutes=240) for day in tuple(Weekday)[:5]),
    days_off=(
        DayOff(day=date(2027, 4, 2), name="Spring holiday"),
        DayOff(day=date(2027, 4, 5), name="Carriers rest", who=OffFor.CARRIERS),
    ),
    crew_days=(CrewDay(day=date(2027, 4, 1), minutes=60, reason="stocktaking"),),
    services=(
        Service(
            code="POST",
            carrier="LARK",
            name="Letter post",
            collects=(Weekday.TUE, Weekday.THU),
            max_weight=2000,
            divisor=Decimal(5000),
            volume=Volume.CM3_PER_KG,
            round_sides=Rounding.UP,
            round_weight=Rounding.UP,
        ),
    ),
    zones=(
        Zone(carrier="LARK", country="GB", zone="home"),
        Zone(carrier="LARK", country="IE", zone="near"),
        Zone(carrier="LARK", country="NO", zone="far"),
    ),
    transits=(
        Transit(service="POST", zone="home", days=2),
        Transit(service="POST", zone="near", days=3),
        Transit(service="POST", zone="far", days=8),
    ),
    rates=(
        Rate(service="POST", zone="home", up_to=2000, price=Decimal("3.20")),
        Rate(service="POST", zone="near", up_to=2000, price=Decimal("7.50")),
        Rate(service="POST", zone="far", up_to=2000, price=Decimal("9.10")),
    ),
    guillotines=(
        Guillotine(
            code="G1",
            name="Bench guillotine",
            opening=18 * INCH,
            lift_height=40 * MM,
            smallest_strip=20 * MM,
            minutes_per_lift=Decimal(2),
            minutes_per_cut=Decimal("0.5"),
            cost_per_hour=Decimal(18),
        ),
    ),
    forecasts=(Forecast(material="SHORE", needed_in=YearMonth(2027, 5), units=40),),
    spoilages=(Spoilage(item="CARTON", operation="fold", make_ready=0, percent=Decimal(0)),),
    outlooks=(
        Outlook(tier="FULL", low=2, likely=3, high=5, short_cost=Decimal(30)),
        Outlook(tier="HALF", short_cost=Decimal("17.50")),
    ),
    quantiles=(
        CountQuantile(tier="HALF", percent=Decimal(10), boxes=1),
        CountQuantile(tier="HALF", percent=Decimal("97.5"), boxes=4),
    ),
    choices=(BuyFor(item="HALF", quantity=1),),
    substitutes=(SubstituteRow(material="FOLD", instead="SHORE", per=2, note="Plain & unprinted"),),
    past=(
        PastTier(in_month=YearMonth(2027, 1), tier="FULL", joined=1, boxes=3, skipped=1),
        PastTier(in_month=YearMonth(2027, 2), tier="FULL", joined=2, left=1, boxes=4, paused=1),
        PastTier(in_month=YearMonth(2027, 3), tier="FULL", joined=1, left=1, boxes=5),
        PastTier(in_month=YearMonth(2027, 3), tier="HALF", joined=2, boxes=2),
    ),
    stayed=(
        Stayed(joined=YearMonth(2026, 11), in_month=YearMonth(2027, 1), members=4),
        Stayed(joined=YearMonth(2026, 11), in_month=YearMonth(2027, 2), members=3),
        Stayed(joined=YearMonth(2026, 11), in_month=YearMonth(2027, 3), members=3),
        Stayed(joined=YearMonth(2027, 2), in_month=YearMonth(2027, 2), members=2),
        Stayed(joined=YearMonth(2027, 2), in_month=YearMonth(2027, 3), members=1),
        Stayed(joined=YearMonth(2027, 3), in_month=YearMonth(2027, 3), members=3),
    ),
    promoted=(PromotedMonth(in_month=YearMonth(2027, 5), note="a fair"),),
    announced=(
        Announcement(first=YearMonth(2027, 6), last=YearMonth(2027, 8), boxes=-1, why="Edda travels"),
    ),
    by_hand=(CountByHand(in_month=YearMonth(2027, 7), low=2, likely=4, high=9, why="a workshop"),),
    uncertain=(
        Uncertain(
            what=Unsure.PRICE, item="SHORE", low=Decimal("0.25"), likely=Decimal("0.3"), high=Decimal("0.4")
        ),
        Uncertain(what=Unsure.DAMAGED, low=Decimal(0), likely=Decimal(1), high=Decimal("2.5"), note="wet"),
    ),
)
