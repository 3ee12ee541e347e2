"""Every rule of a month, broken once: the one fault it makes, word for word."""

from collections.abc import Callable
from dataclasses import fields, replace
from datetime import date, time
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from kits.catalogue import Grain, Material, MaterialKind, Print, StockLine
from kits.kit import Direction, ItemKind, KitLine, KitPaper
from kits.measures import INCH, METRE, Grammage
from kits.recipe import Recipe
from planning.allocation.rows import SubstituteRow
from planning.calendar import IsoWeek, YearMonth
from planning.cost.rows import Actual, ActualKind, ChangeKind, Charge, ChargeKind, PricePoint, VariantLine
from planning.customs.rows import CustomsFact
from planning.cutting import CuttingError
from planning.faults import RULES, TITLES, faults
from planning.faults.book import Book
from planning.flow import plan_month
from planning.lots.rows import Forecast
from planning.month import Month
from planning.overs import Base
from planning.overs.rows import BuyFor, CountQuantile, Outlook, Spoilage
from planning.shipping.rows import DeliveryWeek, Rate, Transit, Zone
from tests.faults.broken_designs import BROKEN_DESIGNS
from tests.faults.broken_past import BROKEN_PAST
from tests.faults.broken_rates import BROKEN_RATES
from tests.faults.broken_rules import BROKEN_RULES
from tests.support.months import FOOT, designed_month, person, sheet, tiny_month, with_rows

TINY = tiny_month()


def told(month: Month) -> list[str]:
    return [f"{fault.table} {fault.row} {fault.field}: {fault}" for fault in faults(month)]


def row(table: str, index: int, **changes: Any) -> Month:
    """Return the tiny month with one row changed."""
    rows = list(getattr(TINY, table))
    rows[index] = replace(rows[index], **changes)
    return with_rows(TINY, table, rows)


def more(table: str, *rows: object) -> Month:
    """Return the tiny month with rows added."""
    return with_rows(TINY, table, [*getattr(TINY, table), *rows])


def without(table: str, *indexes: int) -> Month:
    """Return the tiny month with rows left out, or all of them."""
    kept = [one for index, one in enumerate(getattr(TINY, table)) if indexes and index not in indexes]
    return with_rows(TINY, table, kept)


def club(**changes: Any) -> Month:
    """Return the tiny month with settings changed."""
    return replace(TINY, club=replace(TINY.club, **changes))


def wide_pre_cut(**changes: Any) -> Month:
    """Return the tiny month with the mat 7 x 13 in, which lies on the 12 x 18 in sheet as it stands only."""
    return row("pre_cuts", 0, width=7 * INCH, height=13 * INCH, **changes)


BROKEN: dict[str, tuple[Month, list[str]]] = {
    # texts
    "a bell in an address": (
        row("subscribers", 0, address_1="1 Mill\aLane"),
        [
            "subscribers 0 address_1: 1 Mill\N{REPLACEMENT CHARACTER}Lane holds a character that cannot be printed (U+0007, "
            "number 7). Type the text again without it."
        ],
    ),
    "texts longer than what they are printed on": (
        replace(
            row("subscribers", 0, name="x" * 121, address_2="y" * 32_000, note="z" * 2_000),
            club=replace(TINY.club, note="n" * 2_001, address="a" * 600),
            recipes=(replace(TINY.recipes[0], title="t" * 120),),
        ),
        [
            f"club None note: {'n' * 60}… is 2,001 characters long. Write at most 2,000.",
            f"subscribers 0 name: {'x' * 60}… is 121 characters long. Write at most 120.",
            f"subscribers 0 address_2: {'y' * 60}… is 32,000 characters long. Write at most 120.",
        ],
    ),
    "a code longer than a label": (
        more("suppliers", replace(TINY.suppliers[0], code="M" * 41)),
        [f"suppliers 2 code: {'M' * 41} is 41 characters long. Write at most 40."],
    ),
    "a person without a name": (
        row("subscribers", 1, name="  "),
        ["subscribers 1 name: it is empty. Fill it in."],
    ),
    "a code with a comma": (
        row("recipes", 0, code="DAISY, LARGE"),
        [
            "recipes 0 code: DAISY, LARGE cannot be told from a list of codes. Write it without commas, semicolons, line "
            "breaks and spaces around it.",
            "roles 0 recipe: DAISY is not on the Recipes sheet. Did you mean DAISY, LARGE?",
            "roles 1 recipe: DAISY is not on the Recipes sheet. Did you mean DAISY, LARGE?",
            "pieces 0 recipe: DAISY is not on the Recipes sheet. Did you mean DAISY, LARGE?",
            "pieces 1 recipe: DAISY is not on the Recipes sheet. Did you mean DAISY, LARGE?",
            "pieces 2 recipe: DAISY is not on the Recipes sheet. Did you mean DAISY, LARGE?",
            "kit_papers 0 recipe: DAISY is not on the Recipes sheet. Did you mean DAISY, LARGE?",
            "kit_papers 1 recipe: DAISY is not on the Recipes sheet. Did you mean DAISY, LARGE?",
            "kit_lines 0 item: DAISY is not on the Recipes sheet. Did you mean DAISY, LARGE?",
        ],
    ),
    "a name that ends with a space": (
        row("services", 0, carrier="Post "),
        [
            "subscribers 0 country: GB (United Kingdom, 4 active subscribers) lies in home of Post, where no service has "
            "transit days and rates. Add its zone, with transit days and rates, to the sheets of these names.",
            "subscribers 1 country: FR (France, 1 active subscriber) lies in near of Post, where no service has transit "
            "days and rates. Add its zone, with transit days and rates, to the sheets of these names.",
            "services 0 carrier: Post  begins or ends with a space. Take the space out.",
            "zones 0 carrier: Post is not on the Services sheet. Did you mean Post ?",
            "zones 1 carrier: Post is not on the Services sheet. Did you mean Post ?",
            "transits 0 zone: home is not a zone of Post . Add it to the Zones sheet, or write one that is there.",
            "transits 1 zone: near is not a zone of Post . Add it to the Zones sheet, or write one that is there.",
            "rates 0 zone: home is not a zone of Post . Add it to the Zones sheet, or write one that is there.",
            "rates 1 zone: home is not a zone of Post . Add it to the Zones sheet, or write one that is there.",
            "rates 2 zone: near is not a zone of Post . Add it to the Zones sheet, or write one that is there.",
        ],
    ),
    "a club code no bar code holds": (
        club(code="Müller & Co"),
        [
            "club None code: Müller & Co cannot be printed as part of a bar code. Use 1 to 12 letters A to Z, digits and "
            "hyphens."
        ],
    ),
    # numbers
    "a negative count": (
        row("stock", 0, on_hand=-2),
        ["stock 0 on_hand: -2 is negative. Write 0 to 1,000,000,000."],
    ),
    "a pack of nothing": (
        row("offers", 0, pack=0),
        ["offers 0 pack: 0 is less than 1. Write 1 to 1,000,000,000."],
    ),
    "overs above a hundred percent": (
        row("materials", 0, overs_percent=Decimal(250)),
        ["materials 0 overs_percent: 250 is more than 100. Write 0 to 100."],
    ),
    "a price finer than a millionth": (
        row("price_breaks", 0, price=Decimal("0.1234567")),
        ["price_breaks 0 price: 0.1234567 has more than 6 decimals. Write 0 to 1,000,000,000,000."],
    ),
    "postage finer than a penny": (
        row("rates", 0, price=Decimal("3.005")),
        [
            "rates 0 price: 3.005 has more decimals than GBP, which has 2. Write 0 to 1,000,000,000,000, with at most 2 "
            "decimals."
        ],
    ),
    "sen of a yen": (
        replace(row("tiers", 0, price=Decimal("2000.50")), club=replace(TINY.club, currency="JPY")),
        [
            "tiers 0 price: 2,000.50 has more decimals than JPY, which has none. Write 0 to 1,000,000,000,000, without "
            "decimals."
        ],
    ),
    "a tenth of a fils": (
        replace(row("tiers", 0, price=Decimal("2.0005")), club=replace(TINY.club, currency="KWD")),
        [
            "tiers 0 price: 2.0005 has more decimals than KWD, which has 3. Write 0 to 1,000,000,000,000, with at most 3 "
            "decimals."
        ],
    ),
    "a thousand million boxes for one person": (
        row("subscribers", 0, quantity=1_000_000_000),
        [
            "subscribers 0 quantity: 1,000,000,000 is more than 10,000. Write 0 to 10,000.",
        ],
    ),
    "more boxes than anyone prints": (
        more(
            "subscribers",
            *(replace(TINY.subscribers[0], reference=f"R{n}", quantity=10_000) for n in range(100)),
        ),
        [
            "subscribers None quantity: 1,000,006 boxes in all is more than a month may have, 1,000,000. Correct the counts."
        ],
    ),
    "more waves than anyone prints": (
        replace(
            more(
                "orders",
                *(replace(TINY.orders[0], reference=f"K{n}", item="FULL", count=9_999) for n in range(3)),
            ),
            club=replace(TINY.club, cart_boxes=1),
        ),
        [
            "club None cart_boxes: 1 makes 30,003 waves of 30,003 boxes, more than 25,000. Write 2 or more.",
        ],
    ),
    "a sheet of no width": (
        row("materials", 0, width=0, height=-1),
        [
            "materials 0 width: 0 is nothing. Write more than 0 and at most 100000000 mm.",
            "materials 0 height: -1 is negative. Write more than 0 and at most 100000000 mm.",
            "kit_papers 0 material: CARD is 0 in x -0.000125 mm, but base of DAISY wants 12 in x 12 in. Name a paper of the "
            "role's size, or change the role.",
        ],
    ),
    "a lead time of ten years": (
        row("offers", 1, lead_days=3650),
        ["offers 1 lead_days: 3,650 is more than 366. Write 0 to 366."],
    ),
    "a price that is no number": (
        row("price_breaks", 2, price=Decimal("NaN")),
        ["price_breaks 2 price: NaN is not a number. Write 0 to 1,000,000,000,000."],
    ),
    # what must be told apart
    "a code twice": (
        more("materials", sheet("CARD", "Another card", FOOT, FOOT, grams=20)),
        ["materials 7 code: CARD stands here already. Give each a code of its own."],
    ),
    "a price break twice": (
        more("price_breaks", TINY.price_breaks[7]),
        ["price_breaks 8 offer: B-CARTON, 1 stands here already. Keep one of the two rows."],
    ),
    "a day off twice": (
        more("days_off", TINY.days_off[0]),
        ["days_off 2 day: 26 Mar 2027, everyone stands here already. Keep one of the two rows."],
    ),
    "two pieces of one name that the club cuts": (
        more("pieces", replace(TINY.pieces[2], page="left")),
        [
            "pieces 3 piece: tag is also the name of another piece of DAISY that the club cuts. Give each its own name."
        ],
    ),
    "a pre-cut with the code of a tier": (
        more("pre_cuts", replace(TINY.pre_cuts[0], code="FULL")),
        [
            "tiers 0 code: FULL is also a code on the Pre-cuts sheet. One-off orders could not tell the two apart: give "
            "each its own code."
        ],
    ),
    # references
    "an unknown material": (
        row("offers", 0, material="CRAD"),
        ["offers 0 material: CRAD is not on the Materials sheet. Did you mean CARD?"],
    ),
    "an unknown supplier": (
        row("offers", 0, supplier="OAK"),
        ["offers 0 supplier: OAK is not on the Suppliers sheet. Add it there, or write one that is."],
    ),
    "an unknown tier in a list": (
        row("kit_lines", 2, tiers=("FULL", "Halb")),
        ["kit_lines 2 tiers: Halb is not on the Tiers sheet. Did you mean HALF?"],
    ),
    "a tier named twice": (
        row("kit_lines", 2, tiers=("FULL", "FULL")),
        ["kit_lines 2 tiers: FULL is named twice. Name it once."],
    ),
    "an order of something unknown": (
        row("orders", 0, item="BRAD"),
        ["orders 0 item: BRAD is not on the Materials, Pre-cuts or Tiers sheet. Did you mean BRADS?"],
    ),
    "an order by somebody unknown": (
        row("orders", 0, subscriber="S9"),
        ["orders 0 subscriber: S9 is not on the Roster sheet. Add it there, or write one that is."],
    ),
    "a piece of a role that is not there": (
        row("pieces", 1, role="prints"),
        ["pieces 1 role: prints is not a paper role of DAISY. Did you mean print?"],
    ),
    "a kit line of a recipe that is not there": (
        more("kit_lines", KitLine(kind=ItemKind.RECIPE, item="DAYSI")),
        ["kit_lines 6 item: DAYSI is not on the Recipes sheet. Did you mean DAISY?"],
    ),
    "a kit line of another kind": (
        row("kit_lines", 1, kind=ItemKind.EXTRA),
        [
            "kit_lines 1 item: MAT is not on the Materials sheet. It is on the Pre-cuts sheet: write pre-cut as its kind."
        ],
    ),
    # the club
    "choices that are none": (
        club(ruler="3 ft", paper="A3", currency="€", country="UK"),
        [
            "club None ruler: 3 ft is not a ruler. The rulers are 1/8 in, 1/16 in, 1/32 in, 0.5 mm, 1 mm.",
            "club None paper: A3 is not a paper size. Write A4 or Letter.",
            "club None currency: € is not the code of a currency. Did you mean EUR?",
            "club None country: UK is not a country code. Did you mean GB?",
        ],
    ),
    "a currency nobody pays with": (
        club(currency="QQQ"),
        [
            "club None currency: QQQ is not the code of a currency. Write its three letters of ISO 4217, such as GBP or EUR."
        ],
    ),
    "packing before planning": (
        club(packing_starts=date(2027, 2, 26)),
        [
            "club None packing_starts: 26 Feb 2027 is before the day the plan is made, 1 Mar 2027. Write the first day on "
            "which the crew can still pack."
        ],
    ),
    "a promise before packing": (
        club(promised=IsoWeek(2027, 13)),
        ["club None promised: 2027-W13 is over before packing starts, 5 Apr 2027. Correct one of them."],
    ),
    "a promise for another year": (
        club(promised=IsoWeek(2028, 20)),
        [
            "club None promised: 2028-W20 is more than a year after packing starts, 5 Apr 2027. Correct one of them."
        ],
    ),
    "a day of another age": (
        club(planned_on=date(1927, 3, 1)),
        ["club None planned_on: 1 Mar 1927 does not lie in our time. Write one from the years 2000 to 2199."],
    ),
    # materials
    "a sheet without size": (
        more("materials", Material(code="VELLUM", name="Vellum", kind=MaterialKind.SHEET)),
        [
            "materials 7 width: VELLUM is a sheet, so it needs its width. Fill it in.",
            "materials 7 height: VELLUM is a sheet, so it needs its height. Fill it in.",
        ],
    ),
    "half a size": (
        row("materials", 5, width=INCH),
        ["materials 5 height: GIFT has a width but no height. Fill it in."],
    ),
    "a paper weight of a roll": (
        row("materials", 3, grammage=Grammage(Fraction(80))),
        [
            "materials 3 grammage: 80 g/m² says nothing of RIBBON, a roll. Empty this cell and write grams per metre as its "
            "weight."
        ],
    ),
    "a paper weight of no size": (
        row("materials", 5, grammage=Grammage(Fraction(80))),
        [
            "materials 5 grammage: 80 g/m² says nothing of GIFT without its width and height. Fill them in, or write its "
            "weight each."
        ],
    ),
    "a roll without length": (
        row("materials", 3, roll_length=None),
        ["materials 3 roll_length: RIBBON is a roll, so it needs its length. Fill it in."],
    ),
    "a length of no roll": (
        row("materials", 4, roll_length=METRE),
        [
            "materials 4 roll_length: 1000 mm is the length of a roll, but BRADS is of the kind counted. Empty the cell, or "
            "write roll as its kind."
        ],
    ),
    "a carton of two sizes": (
        row("materials", 6, inside_depth=None),
        [
            "materials 6 inside_depth: CARTON needs all three inside sizes to be a carton. Fill it in.",
            "tiers 0 code: FULL has no carton. Add packaging for it to the Materials sheet with inside sizes, width, height "
            "and depth; the Kit sheet may say which cartons a tier's boxes go into.",
            "tiers 1 code: HALF has no carton. Add packaging for it to the Materials sheet with inside sizes, width, height "
            "and depth; the Kit sheet may say which cartons a tier's boxes go into.",
        ],
    ),
    "a sheet with an inside": (
        row("materials", 0, inside_width=INCH, inside_height=INCH, inside_depth=INCH),
        [
            "materials 0 inside_width: 1 in is a room inside, but CARD is of the kind sheet. Empty the inside sizes, or "
            "write packaging as its kind."
        ],
    ),
    "a carton larger inside than outside": (
        row("materials", 6, inside_width=14 * INCH, inside_depth=2 * INCH),
        [
            "materials 6 inside_width: 12 1/2 in x 14 in inside is more than the outside, 13 in x 13 in. Correct "
            "one of them.",
            "materials 6 inside_depth: 2 in inside is more than the outside thickness, 1 1/2 in. Correct one of them.",
        ],
    ),
    # offers
    "an offer of less than its smallest order": (
        row("offers", 2, minimum=15, maximum=19),  # packs of 10
        [
            "offers 2 maximum: 19 is less than the smallest order of M-BIG, 20. Correct it, or the pack, the multiple, the "
            "minimum or the first price break."
        ],
    ),
    "an offer that has ended": (
        row("offers", 0, order_until=date(2027, 2, 26)),
        [
            "offers 0 order_until: 26 Feb 2027 is before the day the plan is made, 1 Mar 2027. Ask for the offer anew and "
            "write its last day, or take the offer out."
        ],
    ),
    "an offer that ends on a holiday": (
        row("offers", 0, order_until=date(2027, 3, 29)),  # Easter Monday; Good Friday is off too
        [
            "offers 0 order_until: 29 Mar 2027 is a day on which suppliers take no orders. Write 25 Mar 2027, the working "
            "day before it."
        ],
    ),
    "an offer that ends in another age": (
        row("offers", 0, order_until=date(2270, 3, 24)),
        [
            "offers 0 order_until: 24 Mar 2270 does not lie in our time. Write one from the years 2000 to 2199."
        ],
    ),
    # edge trims
    "an edge trim that leaves nothing": (
        row("materials", 0, edge_trim=6 * INCH),
        [
            "materials 0 edge_trim: 6 in off each edge leaves nothing of 12 in x 12 in. Correct one of them.",
        ],
    ),
    "an edge trim of brads": (
        row("materials", 4, edge_trim=INCH),
        [
            "materials 4 edge_trim: 1 in is cut off the edges of sheets, but BRADS is of the kind counted. Empty the cell, "
            "or write sheet as its kind.",
        ],
    ),
    "a piece that does not come out once the edges are trimmed": (
        with_rows(
            row("pre_cuts", 0, width=11 * INCH, height=11 * INCH, cut_from=("CARD",)),
            "materials",
            [replace(one, edge_trim=INCH) if one.code == "CARD" else one for one in TINY.materials],
        ),
        [
            "pre_cuts 0 width: 11 in x 11 in is larger than every sheet it may be cut from: CARD 10 in x 10 in inside its "
            "edge trims. Correct it, or name a larger sheet.",
        ],
    ),
    # sheets cut from larger ones
    "a sheet cut from itself, twice": (
        row("materials", 0, cut_from=("CARD", "CARD", "BIGG")),
        [
            "materials 0 cut_from: BIGG is not on the Materials sheet. Did you mean BIG?",
            "materials 0 cut_from: CARD is named twice. Name it once.",
            "materials 0 cut_from: CARD is the material itself. Name the sheet that is bought, or empty this cell.",
            "materials 0 cut_from: CARD is the material itself. Name the sheet that is bought, or empty this cell.",
        ],
    ),
    "a sheet cut from no sheet, and brads cut from one": (
        with_rows(
            TINY,
            "materials",
            [
                replace(one, cut_from={"CARD": ("BRADS",), "BRADS": ("BIG",)}.get(one.code, ()))
                for one in TINY.materials
            ],
        ),
        [
            "materials 0 cut_from: BRADS is of the kind counted, so it is no sheet. Name a material of the kind sheet.",
            "materials 4 cut_from: BIG says what BRADS is cut from, but it is of the kind counted. Empty the cell, or write "
            "sheet as its kind.",
        ],
    ),
    "a sheet cut from one that is cut itself": (
        with_rows(
            TINY,
            "materials",
            [
                replace(one, cut_from={"CARD": ("PRINT",), "PRINT": ("BIG",)}.get(one.code, ()))
                for one in TINY.materials
            ],
        ),
        [
            "materials 0 cut_from: PRINT is itself cut from BIG. Name the sheet that is bought, or empty this cell.",
        ],
    ),
    "a sheet cut from one across whose grain it would lie": (
        row("materials", 2, grain=Grain.WIDTH, cut_from=("CARD",)),
        [
            "materials 2 cut_from: CARD yields no 12 in x 18 in with the grain along its width: it is 12 in x 12 in, grain "
            "along the height. Name a larger sheet, or correct size or grain.",
        ],
    ),
    "an offer without a price": (
        without("price_breaks", 2),
        [
            "offers 1 code: M-PRINT has no price. Add a row for it to the Price breaks sheet, from quantity 1 if there is "
            "only one price."
        ],
    ),
    "a price break out of order": (
        row("price_breaks", 1, from_quantity=20, offer="M-CARD", price=Decimal("0.15")),
        [],
    ),
    "price breaks from the largest down": (
        replace(TINY, price_breaks=(TINY.price_breaks[1], TINY.price_breaks[0], *TINY.price_breaks[2:])),
        [
            "price_breaks 1 from_quantity: 1 stands below 20, so the price breaks of M-CARD fall out of order. Write the "
            "breaks of an offer from the smallest quantity up."
        ],
    ),
    "an order overdue": (
        row("open_orders", 0, due=date(2027, 2, 26)),
        [
            "open_orders 0 due: 26 Feb 2027 is before the day the plan is made, 1 Mar 2027. Write the day the goods are "
            "expected now, or count them as stock if they are in."
        ],
    ),
    # recipes
    "a piece larger than its sheet": (
        row("pieces", 0, width=13 * INCH, count=1),
        [
            "pieces 0 width: 13 in x 6 in is larger than its sheet, 12 in x 12 in (base of DAISY). Correct the piece or the "
            "sheet."
        ],
    ),
    "a piece larger than its sheet unless it turns": (
        replace(
            row("pieces", 1, width=3 * INCH, height=14 * INCH),
            roles=(TINY.roles[0], replace(TINY.roles[1], width=16 * INCH)),
            kit_papers=(TINY.kit_papers[0], KitPaper(recipe="DAISY", role="print", material="WIDE")),
            materials=(*TINY.materials, sheet("WIDE", "Wide print", 16 * INCH, FOOT, grams=20)),
        ),
        [
            "pieces 1 height: 3 in x 14 in is larger than its sheet, 16 in x 12 in (print of DAISY). It would fit turned: "
            "let it turn if it may."
        ],
    ),
    "pieces of more area than the sheets": (
        row("pieces", 0, count=9),
        [
            "roles 0 sheets: 2 is too few: the pieces of base in DAISY have 324.0 in², the sheets 288.0 in². Post more "
            "sheets, or take pieces out."
        ],
    ),
    "a recipe without paper": (
        replace(
            more("recipes", Recipe(code="BLANK", title="Nothing")),
            kit_lines=(*TINY.kit_lines, KitLine(kind=ItemKind.RECIPE, item="BLANK")),
        ),
        [
            "recipes 1 code: BLANK is in the kit but has no paper role. Add its papers to the Paper roles sheet."
        ],
    ),
    "a role without paper": (
        without("kit_papers", 0),
        ["roles 0 role: base of DAISY has no paper this month. Name its material on the Kit papers sheet."],
    ),
    "a paper of another size": (
        row("kit_papers", 0, material="BIG"),
        [
            "kit_papers 0 material: BIG is 12 in x 18 in, but base of DAISY wants 12 in x 12 in. Name a paper of the role's "
            "size, or change the role."
        ],
    ),
    "a paper that is no sheet": (
        row("kit_papers", 0, material="BRADS"),
        [
            "kit_papers 0 material: BRADS is of the kind counted, so it is no sheet. Name a material of the kind sheet."
        ],
    ),
    # the kit
    "packaging as an extra, an extra as packaging": (
        replace(
            TINY,
            kit_lines=(
                *TINY.kit_lines,
                KitLine(kind=ItemKind.EXTRA, item="CARTON"),
                KitLine(kind=ItemKind.PACKAGING, item="GIFT"),
            ),
        ),
        [
            "kit_lines 6 kind: CARTON is packaging. Write packaging here, or correct the material's kind.",
            "kit_lines 7 kind: GIFT is no packaging but of the kind counted. Write extra here, or correct the material's "
            "kind.",
        ],
    ),
    "a line of a roll without length": (
        row("kit_lines", 2, length=None),
        [
            "kit_lines 2 length: RIBBON is a roll, so the line needs the length of each piece. Fill it in, with its unit."
        ],
    ),
    "a length longer than the roll": (
        row("kit_lines", 2, length=11 * METRE),
        ["kit_lines 2 length: 11000 mm is longer than a roll of RIBBON, 10000 mm. Correct one of them."],
    ),
    "a length of a recipe": (
        row("kit_lines", 0, length=INCH),
        [
            "kit_lines 0 length: 1 in is the length of a piece off a roll, but DAISY is no roll. Empty the cell."
        ],
    ),
    "a recipe for every tier and for one of them again": (
        more("kit_lines", KitLine(kind=ItemKind.RECIPE, item="DAISY", count=2, tiers=("HALF",))),
        [
            "kit_lines 6 item: DAISY goes to HALF by this line (2 a box) and by another (1 a box). Write one line for each "
            "tier, with the whole count in its box."
        ],
    ),
    "an empty kit": (
        without("kit_lines"),
        ["kit_lines None None: the kit is empty. Add a row for everything that goes into a box."],
    ),
    "no tier": (
        replace(
            without("tiers"),
            subscribers=(),
            orders=(),
            kit_lines=tuple(replace(line, tiers=()) for line in TINY.kit_lines),
        ),
        [
            "tiers None None: there is no tier. Add a row for each subscription level, one at least.",
            "subscribers None None: there is nobody on it. Add a row for each subscriber.",
        ],
    ),
    "a tier with nothing in its box": (
        replace(
            TINY,
            kit_lines=tuple(replace(line, tiers=("FULL",)) for line in TINY.kit_lines[:5])
            + TINY.kit_lines[5:],
        ),
        ["tiers 1 code: HALF gets nothing but packaging. Add what goes into its box to the Kit sheet."],
    ),
    "two cartons": (
        row("kit_lines", 5, count=2),
        [
            "kit_lines 5 count: 2 CARTON is more than one carton of a parcel. Write 1: the plan says how many parcels a box "
            "makes."
        ],
    ),
    # cutting
    "a pre-cut of nothing": (
        row("pre_cuts", 0, cut_from=()),
        [
            "pre_cuts 0 cut_from: MAT names nothing to cut it from. Write the code of a sheet material, or of several."
        ],
    ),
    "a pre-cut of a roll": (
        row("pre_cuts", 0, cut_from=("RIBBON",)),
        [
            "pre_cuts 0 cut_from: RIBBON is of the kind roll, so it is no sheet. Name a material of the kind sheet."
        ],
    ),
    "a pre-cut larger than its sheets": (
        row("pre_cuts", 0, width=13 * INCH, height=13 * INCH, cut_from=("BIG", "CARD")),
        [
            "pre_cuts 0 width: 13 in x 13 in is larger than every sheet it may be cut from: BIG 12 in x 18 in, CARD 12 in x "
            "12 in. Correct it, or name a larger sheet."
        ],
    ),
    "a pre-cut too large only because of its grain": (
        wide_pre_cut(direction=Direction.GRAIN_ALONG_WIDTH),
        [
            "pre_cuts 0 direction: grain along width does not let 7 in x 13 in lie on any of its sheets: BIG 12 in x 18 in. "
            "It would fit the other way: write any if it may turn."
        ],
    ),
    "a grain nobody knows": (
        replace(
            wide_pre_cut(direction=Direction.GRAIN_ALONG_HEIGHT),
            materials=tuple(replace(one, grain=Grain.NONE) for one in TINY.materials),
        ),
        [
            "pre_cuts 0 direction: grain along height asks for a grain, but none is stated of BIG. State the sheet's grain, "
            "or write any."
        ],
    ),
    "a sheet too wide for the guillotine": (
        row("guillotines", 0, opening=10 * INCH),
        [
            "kit_papers 1 material: PRINT passes under no guillotine, but the club cuts pieces of DAISY from it. The widest "
            "takes 10 in.",
            "pre_cuts 0 cut_from: BIG passes under no guillotine, the widest of which takes 10 in. Name a narrower sheet as "
            "well.",
        ],
    ),
    "nothing to cut with": (
        without("guillotines"),
        [
            "guillotines None None: there is no guillotine, but the club cuts DAISY/tag and 1 more. Add the machine it is "
            "cut on (a hand trimmer will do), or count as stock what is cut already."
        ],
    ),
    # the roster
    "nobody": (
        replace(without("subscribers"), orders=()),
        ["subscribers None None: there is nobody on it. Add a row for each subscriber."],
    ),
    "a country nobody knows": (
        row("subscribers", 0, country="XQ"),
        [
            "subscribers 0 country: XQ is not a country code. Write its two letters of ISO 3166, such as GB or FR."
        ],
    ),
    "a country without a zone, told once": (
        more(
            "subscribers",
            person("S6", "Kim", "FULL", country="JP"),
            person("S7", "Ren", "FULL", country="JP"),
        ),
        [
            "subscribers 5 country: JP (Japan, 2 active subscribers) has no zone at any carrier. Add its zone, with transit "
            "days and rates, to the sheets of these names."
        ],
    ),
    "a zone where no service goes": (
        replace(
            more("zones", Zone(carrier="Post", country="JP", zone="far")),
            subscribers=(*TINY.subscribers, person("S6", "Kim", "FULL", country="JP")),
        ),
        [
            "subscribers 5 country: JP (Japan, 1 active subscriber) lies in far of Post, where no service has transit days "
            "and rates. Add its zone, with transit days and rates, to the sheets of these names."
        ],
    ),
    # crew and carriers
    "a crew without minutes": (
        replace(TINY, week=tuple(replace(day, minutes=0) for day in TINY.week)),
        [
            "week None None: the crew has no minutes on any day. Write the minutes the crew packs on each weekday, such as "
            "480 for one person's eight hours."
        ],
    ),
    "no service": (
        replace(TINY, services=(), zones=(), transits=(), rates=()),
        [
            "subscribers 0 country: GB (United Kingdom, 4 active subscribers) has no zone at any carrier. Add "
            "its zone, with "
            "transit days and rates, to the sheets of these names.",
            "subscribers 1 country: FR (France, 1 active subscriber) has no zone at any carrier. Add its zone, with transit "
            "days and rates, to the sheets of these names.",
            "services None None: there is no service. Add a row for each way a box may be posted.",
        ],
    ),
    "a service that never collects": (
        row("services", 0, collects=()),
        ["services 0 collects: ECO collects on no day. Name the weekdays it collects on."],
    ),
    "a country in which nothing arrives": (
        more("delivery_weeks", DeliveryWeek(country="FR", weekdays=())),
        [
            "delivery_weeks 0 weekdays: nothing arrives in FR on any day. Name the weekdays, or take the row out."
        ],
    ),
    "hours without an end": (
        row("week", 0, starts=time(8)),
        [
            "week 0 ends: is empty though there is a time under From. Write both, or empty From too if no cut-off matters."
        ],
    ),
    "hours that end before they begin": (
        row("week", 0, starts=time(16), ends=time(8)),
        ["week 0 ends: 08:00 is not after 16:00, when they begin. Write a later time of the same day."],
    ),
    "overtime at no price": (
        row("week", 0, overtime=60),
        [
            "week 0 overtime: 60 has no price. Write its cost per hour on the Club sheet, or take the overtime out."
        ],
    ),
    "a cut-off before anyone packs": (
        replace(
            TINY,
            week=tuple(replace(day, starts=time(8), ends=time(16)) for day in TINY.week),
            services=tuple(replace(one, cut_off=time(7, 30)) for one in TINY.services),
        ),
        [
            "services 0 cut_off: 07:30 is not after 08:00, when the first begin to pack, so nothing goes on the day it is "
            "packed. Write a later time, or empty the cell if all that is packed that day goes."
        ],
    ),
    "a zone the carrier does not have": (
        replace(
            more("rates", Rate(service="ECO", zone="Near", up_to=500, price=Decimal(7))),
            transits=(*TINY.transits, Transit(service="ECO", zone="Near", days=3)),
        ),
        [
            "transits 2 zone: Near is not a zone of Post. Did you mean near?",
            "rates 3 zone: Near is not a zone of Post. Did you mean near?",
        ],
    ),
    "transit days without rates": (
        without("rates", 2),
        [
            "transits 1 zone: near has no rates by ECO. Add them to the Rates sheet, or take it out here if ECO does not go "
            "there."
        ],
    ),
    "rates without transit days": (
        without("transits", 0),
        [
            "rates 0 zone: home has no transit days by ECO. Add them to the Transit sheet, or take it out here if ECO does "
            "not go there."
        ],
    ),
    "rates out of order": (
        replace(TINY, rates=(TINY.rates[1], TINY.rates[0], TINY.rates[2])),
        [
            "rates 1 up_to: 500 g stands below 2 kg, so the rates of ECO to home fall out of order. Write the rates to a "
            "zone from the lightest parcel up."
        ],
    ),
}


BROKEN |= BROKEN_DESIGNS | BROKEN_PAST | BROKEN_RATES | BROKEN_RULES


def test_a_pre_cut_may_lie_either_way_unless_it_says_so() -> None:
    assert told(wide_pre_cut()) == []
    assert told(wide_pre_cut(direction=Direction.NOT_TURNED)) == []
    assert told(row("pre_cuts", 0, width=13 * INCH, height=7 * INCH)) == []
    assert told(row("pre_cuts", 0, width=13 * INCH, height=7 * INCH, direction=Direction.NOT_TURNED)) == [
        "pre_cuts 0 direction: not turned does not let 13 in x 7 in lie on any of its sheets: BIG 12 in x 18 in. It would "
        "fit the other way: write any if it may turn."
    ]


def test_a_paper_may_lie_the_other_way_only_if_every_piece_of_its_role_may_turn() -> None:
    tall = tuple(replace(role, height=18 * INCH) for role in TINY.roles)
    wide = sheet("WIDE", "Wide card", 18 * INCH, FOOT, grams=30)
    month = replace(
        TINY,
        materials=(*TINY.materials, wide),
        roles=tall,
        kit_papers=tuple(replace(paper, material="WIDE") for paper in TINY.kit_papers),
    )
    assert told(month) == [
        "kit_papers 1 material: WIDE is 18 in x 12 in, but print of DAISY wants 12 in x 18 in, and not every piece of it "
        "may turn. Name a paper of the role's size, or change the role."
    ]


def test_a_print_with_a_top_does_not_lie_on_its_side() -> None:
    wide = replace(sheet("WIDE", "Wide print", 18 * INCH, FOOT, grams=30), print=Print.ONE_WAY)
    month = replace(
        TINY,
        materials=(*TINY.materials, wide),
        roles=(replace(TINY.roles[0], height=18 * INCH), TINY.roles[1]),
        kit_papers=(replace(TINY.kit_papers[0], material="WIDE"), TINY.kit_papers[1]),
    )
    assert told(month) == [
        "kit_papers 0 material: WIDE is 18 in x 12 in, but base of DAISY wants 12 in x 18 in, and its print has a top. "
        "Name a paper of the role's size, or change the role."
    ]


def test_a_larger_break_may_cost_more_for_that_is_only_useless() -> None:
    assert told(row("price_breaks", 1, price=Decimal("0.55"))) == []


def test_no_guillotine_is_needed_for_what_lies_on_the_shelf() -> None:
    """15 mats and 10 tags are all the tiny month wants, so nothing is cut."""
    shelf = (StockLine(item="MAT", on_hand=15), StockLine(item="DAISY/tag", on_hand=10))
    month = replace(TINY, guillotines=(), stock=shelf)
    assert told(month) == []
    assert plan_month(month).cutting.tickets == ()
    short = replace(month, stock=(replace(shelf[0], on_hand=14), shelf[1]))
    assert told(short) == []
    with pytest.raises(CuttingError, match="there is no guillotine"):
        plan_month(short)


APRIL_COUNT: dict[str, Any] = {"tier": "FULL", "short_cost": Decimal(20)}
BROKEN |= {
    # what is not known yet
    "forecasts of this month, an earlier one and one far ahead": (
        more(
            "forecasts",
            Forecast(material="CARD", needed_in=YearMonth(2027, 4), units=10),
            Forecast(material="CARD", needed_in=YearMonth(2026, 12), units=10),
            Forecast(material="CARD", needed_in=YearMonth(2029, 5), units=10),
            Forecast(material="CARDS", needed_in=YearMonth(2027, 5), units=-1),
        ),
        [
            "forecasts 0 needed_in: 2027-04 is not a later month. Write one after April 2027. "
            "What this month needs is worked out from its kit.",
            "forecasts 1 needed_in: 2026-12 is not a later month. Write one after April 2027. "
            "What this month needs is worked out from its kit.",
            "forecasts 2 needed_in: 2029-05 is more than 24 months ahead. Write one after April 2027. "
            "What this month needs is worked out from its kit.",
            "forecasts 3 units: -1 is negative. Write 0 to 1,000,000,000.",
            "forecasts 3 material: CARDS is not on the Materials sheet. Did you mean CARD?",
        ],
    ),
    "spoilage of all that starts": (
        more(
            "spoilages",
            Spoilage(item="CARD", operation="cut", percent=Decimal(100), base=Base.START),
            Spoilage(item="CARD", operation="cut"),
            Spoilage(item="CARD", operation="fold", make_ready=10_001),
        ),
        [
            "spoilages 0 percent: 100 % of the start leaves nothing good. Write less than 100, or a percentage of the good.",
            "spoilages 1 item: CARD, cut stands here already. Keep one of the two rows.",
            "spoilages 2 make_ready: 10,001 is more than 10,000. Write 0 to 10,000.",
        ],
    ),
    "an outlook with two of three numbers": (
        more("outlooks", Outlook(**APRIL_COUNT, low=2, high=5)),
        [
            "outlooks 0 likely: low, likely and high of FULL belong together. Fill all three in, or empty them all."
        ],
    ),
    "an outlook that falls": (
        more("outlooks", Outlook(**APRIL_COUNT, low=2, likely=9, high=5)),
        ["outlooks 0 low: 2, 9, 5 do not rise. Write low, likely and high, rising."],
    ),
    "an outlook without numbers": (
        more("outlooks", Outlook(**APRIL_COUNT)),
        [
            "outlooks 0 low: FULL has neither low, likely and high nor rows on Count quantiles. Fill in one of them, or two "
            "months or more of Past months to have it forecast."
        ],
    ),
    "an outlook told twice over, and quantiles that fall": (
        replace(
            more("outlooks", Outlook(**APRIL_COUNT, low=2, likely=4, high=5)),
            quantiles=(
                CountQuantile(tier="FULL", percent=Decimal(50), boxes=9),
                CountQuantile(tier="FULL", percent=Decimal(90), boxes=8),
                CountQuantile(tier="HALF", percent=Decimal(50), boxes=8),
            ),
        ),
        [
            "outlooks 0 low: FULL has rows on Count quantiles too. Keep one of the two.",
            "quantiles 1 percent: 90 %, 8 boxes does not rise from 50 %, 9 boxes. Write the rows of a tier rising.",
            "quantiles 2 tier: HALF is not on the Count outlook sheet. Add it there, or write one that is.",
            "quantiles 2 percent: HALF has one quantile only. Write at least two, such as 10 % and 90 %.",
        ],
    ),
    "a percentage of a fixed cost": (
        more("charges", Charge(kind=ChargeKind.FIXED, name="Room", percent=Decimal(5))),
        [
            "charges 0 percent: 5 % is a percentage, and a fixed cost is one of nothing. "
            "Empty it, and write the cost each kit or once a month."
        ],
    ),
    "a price point below nothing": (
        more("price_points", PricePoint(start=Decimal(0), step=Decimal(1), less=Decimal(1))),
        ["price_points 0 less: 1 is a whole step or more. Write less than 1."],
    ),
    "negative spoilage, and a thing nobody knows": (
        more(
            "actuals",
            Actual(kind=ActualKind.SPOILED, item="BRADS", quantity=Decimal(-3)),
            Actual(kind=ActualKind.POSTAGE, item="SNAIL", quantity=Decimal(1)),
            Actual(kind=ActualKind.PACKING, item="BRADS", quantity=Decimal(1)),
        ),
        [
            "actuals 0 quantity: -3 is negative. Write 0 to 1,000,000,000.",
            "actuals 1 item: SNAIL is not on the Services sheet. Add it there, or write one that is.",
            "actuals 2 item: BRADS stands beside packing minutes, which are not told by item. Empty it.",
        ],
    ),
    "a variant that changes nothing": (
        more(
            "variants",
            VariantLine(variant="A", change=ChangeKind.BOXES, value="many"),
            VariantLine(variant="A", change=ChangeKind.SUPPLIER, item="BRADS", value="NOBODY"),
            VariantLine(variant="A", change=ChangeKind.DAYS, value="1.5"),
        ),
        [
            "variants 0 value: many is not a number. Write a whole number from 0 to 100,000,000.",
            "variants 1 value: NOBODY is not on the Suppliers sheet. Add it there, or write one that is.",
            "variants 2 value: 1.5 is not a whole number. Write a whole number from 0 to 60.",
        ],
    ),
    "a substitute for itself": (
        more("substitutes", SubstituteRow(material="BRADS", instead="BRADS")),
        ["substitutes 0 instead: BRADS is the material itself. Name another one."],
    ),
    "a choice of nothing known": (
        more("choices", BuyFor(item="BOXES", quantity=5)),
        ["choices 0 item: BOXES is not on the Tiers or Materials sheet. Add it there, or write one that is."],
    ),
    "customs facts that no declaration takes": (
        more(
            "customs",
            CustomsFact(item="CARD", words="card", hs_code="4802.5", origin="UK", value=Decimal(-1)),
            CustomsFact(item="CARDS", words="", hs_code="480257123456", origin="GB", value=Decimal("0.30")),
        ),
        [
            "customs 0 value: -1 is negative. Write 0 to 1,000,000,000,000.",
            "customs 0 hs_code: 4802.5 is not an HS code. Write its 6, 8 or 10 digits, such as 4802.57.",
            "customs 0 origin: UK is not a country code. Did you mean GB?",
            "customs 1 words: it is empty. Fill it in.",
            "customs 1 item: CARDS is not on the Materials or Pre-cuts sheet. Did you mean CARD?",
            "customs 1 hs_code: 480257123456 is not an HS code. Write its 6, 8 or 10 digits, such as 4802.57.",
        ],
    ),
}


def test_the_tiny_month_has_no_faults() -> None:
    assert told(TINY) == []
    assert told(designed_month()) == []


@pytest.mark.parametrize("broken", BROKEN)
def test_a_broken_rule_is_told_word_for_word(broken: str) -> None:
    month, expected = BROKEN[broken]
    assert told(month) == expected


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_every_rule_is_broken_by_some_month_here(rule: Callable[[Book], Any]) -> None:
    assert any(list(rule(Book(month, {}))) for month, _ in BROKEN.values())


def test_no_fault_hides_another() -> None:
    month = replace(
        row("stock", 0, on_hand=-2, item="CARTOON"),
        club=replace(TINY.club, country="UK"),
        open_orders=(replace(TINY.open_orders[0], quantity=0, material="GIFTS"),),
    )
    assert told(month) == [
        "club None country: UK is not a country code. Did you mean GB?",
        "stock 0 on_hand: -2 is negative. Write 0 to 1,000,000,000.",
        "stock 0 item: CARTOON is not on the Materials or Pre-cuts sheet. Did you mean CARTON?",
        "open_orders 0 quantity: 0 is less than 1. Write 1 to 1,000,000,000.",
        "open_orders 0 material: GIFTS is not on the Materials sheet. Did you mean GIFT?",
    ]


NASTY: tuple[object, ...] = (
    -1,
    0,
    10**30,
    Decimal("NaN"),
    Decimal("-0.1234567"),
    Fraction(-1, 3),
    "",
    "\ud800",
    "=1+1",
    (),
    ("", "nobody"),
    None,
    date(1, 1, 1),
    date(9999, 12, 31),
)


@pytest.mark.parametrize("table", TITLES)
def test_no_field_can_make_the_rules_stumble(table: str) -> None:
    """Whatever stands in a field of the right type, faults are told and nothing is raised."""
    rows = (TINY.club,) if table == "club" else getattr(TINY, table)
    for old in rows[:1]:
        for field in fields(old):
            for value in NASTY:
                if type(value) is type(getattr(old, field.name)):
                    changed = replace(old, **{field.name: value})
                    told(
                        replace(TINY, club=changed)
                        if table == "club"
                        else with_rows(TINY, table, [changed, *rows[1:]])
                    )
