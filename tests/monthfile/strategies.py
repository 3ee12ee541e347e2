"""Whole months for hypothesis: small, without faults, and as awkward as a month may be."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from math import lcm
from typing import Any, TypeVar

from hypothesis import strategies as st

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
from kits.guillotine import Offcut
from kits.kit import Direction, ItemKind, KitLine, KitPaper, PreCut, Tier, When
from kits.measures import INCH, METRE, MM, RULERS, BasicSize, Currency, Grammage, ruler
from kits.recipe import (
    CutBy,
    CutSheet,
    Design,
    Lift,
    Paper,
    PaperRole,
    Recipe,
    RecipePiece,
    WantedPiece,
    write,
)
from planning.allocation import Rule
from planning.allocation.rows import SubstituteRow
from planning.calendar import IsoWeek, Weekday, YearMonth
from planning.chances.rows import Uncertain, Unsure
from planning.contents.rows import Does
from planning.contents.rows import Rule as BoxRule
from planning.contents.rows import When as Occasion
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
from planning.countries import COUNTRIES
from planning.customs.rows import CustomsFact
from planning.cutting.machine import Guillotine
from planning.faults.rules import in_capitals
from planning.forecast.model import month_of, serial
from planning.forecast.rows import Announcement, CountByHand, PastTier, PromotedMonth, Stayed
from planning.lots.rows import Forecast
from planning.month import Club, Month, SlipFormat, WaveFills
from planning.overs import Base
from planning.overs.rows import BuyFor, CountQuantile, Outlook, Spoilage
from planning.roster.rows import Besides, OneOffOrder, Subscriber
from planning.shipping.rows import (
    CrewDay,
    DayOff,
    OffFor,
    Rate,
    Rounding,
    Service,
    SurchargeRow,
    Transit,
    Volume,
    WeekdayCrew,
    Zone,
)

T = TypeVar("T")
Draw = Callable[[st.SearchStrategy[T]], T]

AWKWARD = (
    "=1+1",
    "+44",
    "-5",
    "@SUM(A1)",
    "#REF!",
    "_x0041_",
    "'quoted'",
    '"',
    " x ",
    "a\nb",
    "TRUE",
    "0123",
    "1e5",
    "é🎀",
)
LETTERS = st.characters(exclude_categories=("Cs", "Cc", "Cn", "Co"), include_characters="\n")
CODE_LETTERS = st.characters(
    exclude_categories=("Cs", "Cc", "Cn", "Co", "Zs", "Zl", "Zp"), exclude_characters=",;"
)

texts = st.one_of(st.sampled_from(AWKWARD), st.text(LETTERS, max_size=12), st.just("x" * 120))
names = texts.filter(lambda text: bool(text.strip()))
spaceless = st.one_of(st.sampled_from(AWKWARD).map(str.strip), st.text(CODE_LETTERS, min_size=1, max_size=6))
codes = spaceless.filter(lambda code: "\n" not in code and code.strip() == code and code != "")
MOST = 10**9
lengths = st.one_of(st.integers(1, 40).map(lambda n: n * INCH // 8), st.integers(1, 2000 * MM))
calipers = st.one_of(
    st.fractions(min_value=Fraction(1, 10), max_value=40 * MM, max_denominator=900),
    st.integers(1, 900 * MM).map(Fraction),
)
weights = st.fractions(min_value=0, max_value=50_000, max_denominator=500)
paper_weights = st.builds(
    Grammage,
    st.fractions(min_value=20, max_value=400, max_denominator=20),
    st.sampled_from([None, *BasicSize]),
)
prices = st.one_of(
    st.decimals(0, 1000, places=6), st.decimals(0, 20, places=2), st.just(Decimal("999999999999.123456"))
)
percents = st.decimals(0, 100, places=3)
counts = st.integers(0, MOST)
quantities = st.decimals(0, MOST, places=6)
make_ready = st.integers(0, 10_000)
some = st.integers(1, 5_000)
promotions = codes.map(in_capitals).filter(
    lambda code: code and in_capitals(code) == code and len(code) <= 40
)
minutes = st.decimals(0, 90, places=2)
year_months = st.builds(YearMonth, st.integers(2000, 2199), st.integers(1, 12))


def cents(currency: str) -> st.SearchStrategy[Decimal]:
    """Return amounts that are paid as they stand."""
    return st.decimals(0, 5_000, places=Currency(currency).exponent)


def maybe(strategy: st.SearchStrategy[T]) -> st.SearchStrategy[T | None]:
    """Return a value, or nothing."""
    return st.one_of(st.none(), strategy)


def some_of(things: Sequence[T], least: int = 0) -> st.SearchStrategy[list[T]]:
    """Return a few different ones of some things, in any order."""
    if not things:
        return st.just([])
    return st.lists(st.sampled_from(list(things)), min_size=min(least, len(things)), max_size=3, unique=True)


@st.composite
def clubs(draw: Draw[Any]) -> Club:
    """Return a club whose days follow each other."""
    planned_on = draw(st.dates(date(2001, 1, 1), date(2190, 1, 1)))
    starts = planned_on + timedelta(days=draw(st.integers(0, 90)))
    return Club(
        name=draw(names),
        code=draw(st.from_regex(r"[A-Za-z0-9][A-Za-z0-9-]{0,11}", fullmatch=True)),
        month=draw(year_months),
        kit_name=draw(names),
        currency=draw(st.sampled_from(["GBP", "EUR", "JPY", "KWD"])),
        country=draw(st.sampled_from(sorted(COUNTRIES))),
        ruler=draw(st.sampled_from([one.name for one in RULERS])),
        planned_on=planned_on,
        promised=IsoWeek.of(starts + timedelta(days=draw(st.integers(0, 300)))),
        packing_starts=starts,
        goods_in_days=draw(st.integers(0, 366)),
        cutting_days=draw(st.integers(0, 366)),
        crew_cost_per_hour=draw(prices),
        minutes_per_box=draw(minutes),
        minutes_per_line=draw(minutes),
        cart_boxes=draw(st.integers(2, 5_000)),
        shelf_boxes=draw(st.integers(2, 5_000)),
        wave_fills=draw(st.sampled_from(WaveFills)),
        piece_overs_percent=draw(percents),
        piece_overs_fixed=draw(make_ready),
        flat_clearance=draw(st.one_of(st.just(0), lengths)),
        weight_tolerance=draw(percents),
        order_cost=draw(prices),
        holding_percent=draw(percents),
        leftover_percent=draw(percents),
        leftover_months=draw(minutes),
        short_goods=draw(st.sampled_from(Rule)),
        pallet_length=draw(lengths),
        pallet_width=draw(lengths),
        pallet_height=draw(lengths),
        pallet_weight=draw(weights.filter(bool)),
        paper=draw(st.sampled_from(["A4", "Letter"])),
        slips=draw(st.sampled_from(SlipFormat)),
        address=draw(texts),
        note=draw(texts),
    )


@st.composite
def materials_of(draw: Draw[Any], code: str, kind: MaterialKind) -> Material:
    """Return a material of a kind; sheets are large enough for every piece here."""
    is_sheet, is_roll = kind is MaterialKind.SHEET, kind is MaterialKind.ROLL
    more = 12 * INCH if is_sheet else 0
    has_size = is_sheet or draw(st.booleans())
    return Material(
        code=code,
        name=draw(names),
        kind=kind,
        width=draw(lengths) + more if has_size else None,
        height=draw(lengths) + more if has_size else None,
        grain=draw(st.sampled_from(Grain)),
        print=draw(st.sampled_from(Print)),
        grammage=draw(maybe(paper_weights)) if has_size and not is_roll else None,
        thickness=draw(maybe(calipers)),
        weight=draw(maybe(weights)),
        roll_length=draw(st.integers(2 * METRE, 500 * METRE)) if is_roll else None,
        overs_percent=draw(percents),
        overs_fixed=draw(make_ready),
        leftover=draw(st.sampled_from(Leftover)),
        used_a_year=draw(maybe(some)),
        split=draw(st.booleans()),
        storage=draw(prices),
        edge_trim=draw(st.sampled_from([0, 0, INCH // 4])) if kind is MaterialKind.SHEET else 0,
        shelf=draw(texts),
    )


@st.composite
def cartons(draw: Draw[Any], code: str) -> Material:
    """Return a carton, its outside known or not."""
    inside = draw(st.tuples(lengths, lengths, lengths))
    known = draw(st.booleans())
    return Material(
        code=code,
        name=draw(names),
        kind=MaterialKind.PACKAGING,
        width=inside[0] + MM if known else None,
        height=inside[1] + MM if known else None,
        thickness=Fraction(inside[2]) + Fraction(1, 3) if known else None,
        inside_width=inside[0],
        inside_height=inside[1],
        inside_depth=inside[2],
    )


@st.composite
def months(draw: Draw[Any]) -> Month:
    """Return a month without faults."""
    club = draw(clubs())
    kinds = [*MaterialKind, *draw(st.lists(st.sampled_from(MaterialKind), max_size=2))]
    shared = draw(st.lists(codes, min_size=len(kinds) + 5, max_size=len(kinds) + 5, unique=True))
    carton = draw(cartons(shared.pop()))
    tiers = tuple(
        Tier(code=shared.pop(), name=draw(names), price=draw(cents(club.currency)))
        for _ in range(draw(st.integers(1, 2)))
    )
    pre_cut_codes = [shared.pop() for _ in range(draw(st.integers(0, 2)))]
    materials = tuple(draw(materials_of(shared.pop(), kind)) for kind in kinds)
    sheets = [one for one in materials if one.kind is MaterialKind.SHEET]
    recipes, roles, pieces, papers = draw(recipe_tables(sheets))
    if draw(st.booleans()):
        recipes, roles, pieces = draw(designed(club, recipes, roles))
    pre_cuts = tuple(draw(pre_cuts_of(code, [one.code for one in sheets])) for code in pre_cut_codes)
    kit = draw(kit_tables(materials, carton, tiers, pre_cuts, recipes))
    supplies = draw(supply_tables(club, (*materials, carton), [*pre_cut_codes]))
    sending = draw(sending_tables(club, tiers, [one.code for one in (*materials, *pre_cuts, *tiers)]))
    return Month(
        club=club,
        materials=(*materials, carton),
        recipes=recipes,
        roles=roles,
        pieces=pieces,
        kit_papers=papers,
        pre_cuts=pre_cuts,
        kit_lines=kit,
        tiers=tiers,
        rules=draw(rule_rows(materials, pre_cuts, recipes, tiers)),
        guillotines=(draw(guillotines()),),
        **supplies,
        **sending,
        **draw(ahead_tables(club, materials, tiers)),
        **draw(money_tables(club, materials, tiers)),
    )


@st.composite
def rule_rows(
    draw: Draw[Any],
    materials: Sequence[Material],
    pre_cuts: Sequence[PreCut],
    recipes: Sequence[Recipe],
    tiers: Sequence[Tier],
) -> tuple[BoxRule, ...]:
    """Return a few rules of what goes into boxes."""
    kinds = (MaterialKind.PACKAGING, MaterialKind.ROLL)
    items = [one.code for one in materials if one.kind not in kinds] + [one.code for one in pre_cuts]
    own = [code for code in items if code not in {one.code for one in recipes}]
    named = draw(st.lists(codes, max_size=2 if own else 0, unique=True))
    return tuple(draw(rules_of(code, own, [tier.code for tier in tiers])) for code in named)


@st.composite
def ahead_tables(
    draw: Draw[Any], club: Club, materials: Sequence[Material], tiers: Sequence[Tier]
) -> dict[str, tuple[Any, ...]]:
    """Return what is not known yet: later months, spoilage, the count, and substitutes."""
    bought = [one.code for one in materials]
    money = cents(club.currency)
    first, *others = [tier.code for tier in tiers]
    months = [month_of(serial(club.month) - back) for back in (2, 1)]
    before, now = draw(some), draw(some)
    later = YearMonth(club.month.year + 1, draw(st.integers(1, club.month.month)))
    instead = [code for code in bought if code != bought[0]]
    return {
        "forecasts": tuple(
            Forecast(material=code, needed_in=later, units=draw(counts)) for code in draw(some_of(bought))
        ),
        "spoilages": tuple(
            Spoilage(
                item=bought[0],
                operation=operation,
                make_ready=draw(make_ready),
                percent=draw(st.decimals(0, 99, places=3)),
                base=draw(st.sampled_from(Base)),
            )
            for operation in draw(st.lists(codes, max_size=2, unique=True))
        ),
        "outlooks": (
            Outlook(
                tier=first, low=draw(some), likely=5_000, high=draw(some) + 5_000, short_cost=draw(money)
            ),
            *(Outlook(tier=tier, short_cost=draw(money)) for tier in others),
        ),
        "quantiles": tuple(
            CountQuantile(tier=tier, percent=percent, boxes=draw(st.just(int(percent))))
            for tier in others
            for percent in sorted(draw(st.sets(percents, min_size=2, max_size=4)))
        ),
        "choices": tuple(
            BuyFor(item=item, quantity=draw(counts)) for item in draw(some_of([first, *bought]))
        ),
        "substitutes": tuple(
            SubstituteRow(material=bought[0], instead=code, per=draw(some), note=draw(texts))
            for code in draw(some_of(instead))
        ),
        "customs": tuple(
            CustomsFact(
                item=code,
                words=draw(names),
                hs_code=draw(st.sampled_from(["4802.57", "480257 90", "4911.99"])),
                origin=draw(st.sampled_from(sorted(COUNTRIES))),
                value=draw(prices),
            )
            for code in draw(some_of(bought))
        ),
        "past": (
            PastTier(in_month=months[0], tier=first, joined=before + now, boxes=before, paused=now),
            PastTier(in_month=months[1], tier=first, joined=now, left=before, skipped=now, boxes=now),
        ),
        "stayed": (
            Stayed(joined=months[0], in_month=months[0], members=before + now),
            Stayed(joined=months[0], in_month=months[1], members=now),
            Stayed(joined=months[1], in_month=months[1], members=now),
        ),
        "promoted": tuple(PromotedMonth(in_month=one, note=draw(texts)) for one in draw(some_of(months))),
        "announced": tuple(
            Announcement(
                first=later, last=draw(maybe(st.just(later))), boxes=draw(st.integers(-9, 9)), why=why
            )
            for why in draw(st.lists(names, max_size=2, unique=True))
        ),
        "by_hand": tuple(
            CountByHand(in_month=later, low=1, likely=2, high=draw(some) + 1, why=draw(names))
            for _ in range(draw(st.integers(0, 1)))
        ),
        "uncertain": tuple(
            Uncertain(
                what=what,
                item=bought[0] if what is Unsure.PRICE else "",
                low=draw(st.decimals(0, 9, places=4)),
                likely=Decimal(9),
                high=draw(st.decimals(9, 100, places=2)),
                note=draw(texts),
            )
            for what in draw(some_of(list(Unsure)))
        ),
    }


@st.composite
def money_tables(
    draw: Draw[Any], club: Club, materials: Sequence[Material], tiers: Sequence[Tier]
) -> dict[str, tuple[Any, ...]]:
    """Return other costs, aims, budget, price points, promotions, what happened, and a variant."""
    money = cents(club.currency)
    tier_codes, bought = [tier.code for tier in tiers], [one.code for one in materials]
    coin = Decimal(10) ** -Currency(club.currency).exponent
    return {
        "charges": tuple(
            Charge(
                kind=kind,
                name=draw(names),
                tiers=tuple(draw(some_of(tier_codes))),
                percent=draw(percents) if kind in (ChargeKind.PAYMENT, ChargeKind.DAMAGE) else Decimal(0),
                each=draw(prices),
                once=draw(money),
            )
            for kind in draw(some_of(list(ChargeKind)))
        ),
        "aims": tuple(
            TierAim(
                tier=tier,
                boxes=draw(counts) % 10_000,
                margin=draw(maybe(st.decimals(0, 99, places=2))),
                single_margin=draw(maybe(st.decimals(0, 99, places=2))),
            )
            for tier in draw(some_of(tier_codes))
        ),
        "budget": tuple(
            BudgetLine(tier=draw(st.sampled_from(["", *tier_codes])), heading=heading, amount=draw(money))
            for heading in draw(some_of(list(Heading)))
        ),
        "price_points": tuple(
            PricePoint(start=start * coin, step=draw(st.integers(1, 500)) * coin)
            for start in sorted(draw(st.sets(st.integers(0, 9_000), max_size=3)))
        ),
        "promotions": tuple(
            Promotion(
                name=name,
                tier=draw(st.sampled_from(["", *tier_codes])),
                percent=draw(percents),
                off=draw(money),
                boxes=draw(maybe(some)),
                extra=draw(some),
            )
            for name in draw(st.lists(names, max_size=2, unique=True))
        ),
        "actuals": tuple(
            Actual(kind=ActualKind.BOUGHT, item=code, quantity=draw(quantities), amount=draw(maybe(money)))
            for code in draw(some_of(bought))
        ),
        "variants": tuple(
            VariantLine(variant=name, change=ChangeKind.BOXES, value=str(draw(some)))
            for name in draw(st.lists(codes, max_size=2, unique=True))
        ),
    }


@st.composite
def recipe_tables(draw: Draw[Any], sheets: Sequence[Material]) -> tuple[Any, ...]:
    """Return up to one recipe with a role for each of some sheets, whose size the role takes."""
    recipes: list[Recipe] = []
    roles: list[PaperRole] = []
    pieces: list[RecipePiece] = []
    papers: list[KitPaper] = []
    for code in draw(st.lists(codes, max_size=1)):
        recipes.append(Recipe(code=code, title=draw(names), note=draw(texts)))
        for role, sheet in zip(
            draw(st.lists(codes, min_size=1, max_size=2, unique=True)), sheets, strict=False
        ):
            width, height = sheet.width or 0, sheet.height or 0
            roles.append(PaperRole(recipe=code, role=role, width=width, height=height, sheets=draw(some)))
            papers.append(KitPaper(recipe=code, role=role, material=sheet.code))
            for piece in draw(st.lists(codes, max_size=2, unique=True)):
                if piece not in [one.piece for one in pieces]:
                    pieces.append(draw(pieces_of(code, role, piece)))
    return tuple(recipes), tuple(roles), tuple(pieces), tuple(papers)


@st.composite
def designed(
    draw: Draw[Any], club: Club, recipes: Sequence[Recipe], roles: Sequence[PaperRole]
) -> tuple[tuple[Recipe, ...], tuple[()], tuple[()]]:
    """Return the recipes with a design each: sheets used whole, and pieces on the ruler that the club cuts."""
    own = ruler(club.ruler)
    texts = []
    for recipe in recipes:
        papers = tuple(
            Paper(role=role.role, width=role.width, height=role.height, sheets=draw(st.integers(1, 2)))
            for role in roles
        )
        pieces = tuple(
            WantedPiece(
                piece=piece,
                width=draw(st.integers(1, 20)) * own.step,
                height=draw(st.integers(1, 20)) * own.step,
                role=draw(st.sampled_from(papers)).role,
                turn=False,
                cut_by=CutBy.CLUB,
            )
            for piece in draw(st.lists(codes, max_size=2, unique=True))
        )
        lifts = tuple(
            Lift((CutSheet(paper.role, number, Offcut(paper.width, paper.height)),))
            for paper in papers
            for number in range(1, paper.sheets + 1)
        )
        design = Design(
            code=recipe.code,
            title=recipe.title,
            note=draw(texts_in_designs),
            ruler=own,
            papers=papers,
            pieces=pieces,
            lifts=lifts,
        )
        texts.append(write(design))
    return tuple(replace(one, text=text) for one, text in zip(recipes, texts, strict=True)), (), ()


texts_in_designs = st.sampled_from(["", 'Zażółć gęślą jaźń, twice: # and "', "=1+1", "two\nlines", "’tis ½"])


@st.composite
def pieces_of(draw: Draw[Any], recipe: str, role: str, piece: str) -> RecipePiece:
    """Return a piece of which a sheet holds a few."""
    return RecipePiece(
        recipe=recipe,
        role=role,
        piece=piece,
        width=draw(st.integers(1, 3 * INCH)),
        height=draw(st.integers(1, 3 * INCH)),
        count=draw(st.integers(1, 3)),
        page=draw(texts.filter(lambda text: len(text) <= 40)),
        cut_by=draw(st.sampled_from(CutBy)),
        turn=draw(st.booleans()),
    )


@st.composite
def pre_cuts_of(draw: Draw[Any], code: str, sheets: Sequence[str]) -> PreCut:
    """Return a pre-cut small enough for any sheet."""
    return PreCut(
        code=code,
        name=draw(names),
        width=draw(st.integers(1, 3 * INCH)),
        height=draw(st.integers(1, 3 * INCH)),
        cut_from=tuple(draw(some_of(sheets, 1))),
        direction=draw(st.sampled_from([Direction.ANY, Direction.NOT_TURNED])),
        overs_percent=draw(percents),
        overs_fixed=draw(make_ready),
    )


@st.composite
def kit_tables(
    draw: Draw[Any],
    materials: Sequence[Material],
    carton: Material,
    tiers: Sequence[Tier],
    pre_cuts: Sequence[PreCut],
    recipes: Sequence[Recipe],
) -> tuple[KitLine, ...]:
    """Return a kit with a carton and an extra for every tier, and everything else for some."""
    extras = [one for one in materials if one.kind is not MaterialKind.PACKAGING]
    lines = [
        KitLine(kind=ItemKind.PACKAGING, item=carton.code),
        KitLine(
            kind=ItemKind.EXTRA, item=next(one.code for one in extras if one.kind is MaterialKind.COUNTED)
        ),
    ]
    lines += [KitLine(kind=ItemKind.PRE_CUT, item=one.code, count=draw(some)) for one in pre_cuts]
    lines += [KitLine(kind=ItemKind.RECIPE, item=one.code, count=draw(some)) for one in recipes]
    for one in extras:
        if one.code not in [line.item for line in lines]:
            lines.append(
                KitLine(
                    kind=ItemKind.EXTRA,
                    item=one.code,
                    count=draw(some),
                    length=draw(st.integers(1, 2 * METRE)) if one.kind is MaterialKind.ROLL else None,
                    tiers=tuple(draw(some_of([tier.code for tier in tiers]))),
                    when=draw(st.sampled_from(When)),
                )
            )
    return tuple(lines)


def monday(day: date, weeks: int) -> date:
    """Return a Monday so many weeks later; the few days off here lie in nine thousand years."""
    return day + timedelta(days=7 * weeks - day.weekday())


def asks_too_much(offer: Offer, breaks: Sequence[PriceBreak]) -> bool:
    """Tell whether the smallest order of an offer is more than its supplier has."""
    starts = [one.from_quantity for one in breaks if one.offer == offer.code]
    lot = lcm(offer.pack, offer.multiple)
    return -(-max(offer.minimum, *starts, 1) // lot) * lot > MOST


@st.composite
def supply_tables(
    draw: Draw[Any], club: Club, materials: Sequence[Material], pre_cuts: Sequence[str]
) -> dict[str, tuple[Any, ...]]:
    """Return suppliers, offers with rising price breaks, stock and open orders."""
    money = cents(club.currency)
    suppliers = [
        Supplier(
            code=code,
            name=draw(names),
            email=draw(texts),
            address=draw(texts),
            freight=draw(money),
            free_freight_from=draw(maybe(money)),
        )
        for code in draw(st.lists(codes, max_size=2, unique=True))
    ]
    bought = [one.code for one in materials]
    offers = [
        Offer(
            code=code,
            supplier=draw(st.sampled_from(suppliers)).code,
            material=draw(st.sampled_from(bought)),
            pack=draw(some),
            minimum=draw(counts),
            multiple=draw(some),
            lead_days=draw(st.integers(0, 366)),
            setup_charge=draw(money),
            maximum=draw(maybe(st.just(MOST))),
            breaks=draw(st.sampled_from(Breaks)),
            even_late=draw(st.booleans()),
            order_until=draw(maybe(st.integers(60, 90).map(lambda weeks: monday(club.planned_on, weeks)))),
        )
        for code in (draw(st.lists(codes, max_size=3, unique=True)) if suppliers else ())
    ]
    breaks = tuple(
        PriceBreak(offer=offer.code, from_quantity=quantity, price=draw(prices))
        for offer in offers
        for quantity in sorted(draw(st.sets(some, min_size=1, max_size=3)))
    )
    return {
        "suppliers": tuple(suppliers),
        "offers": tuple(replace(one, maximum=None) if asks_too_much(one, breaks) else one for one in offers),
        "price_breaks": breaks,
        "stock": tuple(
            StockLine(item=item, on_hand=draw(counts), value_each=draw(prices))
            for item in draw(some_of([*bought, *pre_cuts]))
        ),
        "open_orders": tuple(
            OpenOrder(
                reference=reference,
                supplier=draw(st.sampled_from(suppliers)).code,
                material=draw(st.sampled_from(bought)),
                quantity=draw(some),
                price=draw(prices),
                due=club.planned_on + timedelta(days=draw(st.integers(0, 60))),
            )
            for reference in (draw(st.lists(codes, max_size=2, unique=True)) if suppliers else ())
        ),
    }


@st.composite
def sending_tables(
    draw: Draw[Any], club: Club, tiers: Sequence[Tier], items: Sequence[str]
) -> dict[str, tuple[Any, ...]]:
    """Return a roster, the crew's days, and carriers that reach everybody."""
    subscribers = [
        draw(subscribers_of(reference, [tier.code for tier in tiers]))
        for reference in draw(st.lists(codes, min_size=1, max_size=4, unique=True))
    ]
    carrier, zone = draw(codes), draw(codes)
    services = [
        draw(services_of(code, carrier))
        for code in draw(st.lists(codes, min_size=1, max_size=2, unique=True))
    ]
    days = st.lists(st.dates(date(1000, 1, 1), date(9999, 12, 31)), max_size=2, unique=True)
    return {
        "subscribers": tuple(subscribers),
        "orders": tuple(
            OneOffOrder(
                reference=reference,
                subscriber=draw(st.sampled_from(subscribers)).reference,
                item=draw(st.sampled_from(list(items))),
                count=draw(some),
                why=draw(st.sampled_from(Besides)),
            )
            for reference in draw(st.lists(codes, max_size=2, unique=True))
        ),
        "week": tuple(
            WeekdayCrew(weekday=day, minutes=draw(some)) for day in draw(some_of(list(Weekday), 1))
        ),
        "days_off": tuple(
            DayOff(day=day, name=draw(names), who=draw(st.sampled_from(OffFor))) for day in draw(days)
        ),
        "crew_days": tuple(CrewDay(day=day, minutes=draw(counts), reason=draw(texts)) for day in draw(days)),
        "services": tuple(services),
        "zones": (
            *(
                Zone(carrier=carrier, country=country, zone=zone)
                for country in dict.fromkeys(one.country for one in subscribers)
            ),
            *draw(
                st.lists(zones_by_postcode(carrier, zone), max_size=2, unique_by=lambda row: row.prefix[:1])
            ),
        ),
        "transits": tuple(
            Transit(service=one.code, zone=zone, days=draw(st.integers(0, 366))) for one in services
        ),
        "rates": tuple(
            Rate(
                service=one.code,
                zone=zone,
                up_to=up_to,
                price=draw(cents(club.currency)),
                valid_from=first,
            )
            for one in services
            for first in (None, *draw(st.lists(st.dates(), max_size=1)))
            for up_to in sorted(draw(st.sets(weight_limits, min_size=1, max_size=3)))
        ),
        "surcharges": tuple(draw(surcharges(one.code, zone, club)) for one in services[:1]),
    }


@st.composite
def zones_by_postcode(draw: Draw[Any], carrier: str, zone: str) -> Zone:
    """Return a zone of some of a country's postcodes."""
    first = draw(st.sampled_from(["1", "27", "AB", "9"]))
    last = draw(st.sampled_from(["", first]))
    return Zone(carrier=carrier, country="US", zone=zone, prefix=first, last=last)


@st.composite
def surcharges(draw: Draw[Any], service: str, zone: str, club: Club) -> SurchargeRow:
    """Return what a service adds."""
    return SurchargeRow(
        service=service,
        name=draw(names),
        amount=draw(cents(club.currency)),
        percent=Decimal("4.5"),
        on_all=draw(st.booleans()),
        zones=draw(st.sampled_from([(), (zone,)])),
        over_weight=draw(maybe(weight_limits)),
        over_longest=draw(maybe(lengths)),
        over_second=draw(maybe(lengths)),
        over_girth=draw(maybe(lengths)),
        valid_to=draw(maybe(st.dates())),
    )


weight_limits = st.one_of(
    st.integers(1, 50_000), st.fractions(min_value=Fraction(1, 9), max_value=9_000, max_denominator=99)
)


@st.composite
def subscribers_of(draw: Draw[Any], reference: str, tiers: Sequence[str]) -> Subscriber:
    """Return somebody."""
    return Subscriber(
        reference=reference,
        name=draw(names),
        address_1=draw(names),
        address_2=draw(texts),
        address_3=draw(texts),
        city=draw(names),
        region=draw(texts),
        postcode=draw(texts),
        country=draw(st.sampled_from(["GB", "FR", "US", "NO"])),
        tier=draw(st.sampled_from(list(tiers))),
        quantity=draw(st.integers(0, 5_000)),
        active=draw(st.booleans()),
        joined=draw(maybe(st.dates())),
        skips=tuple(
            draw(st.lists(st.builds(YearMonth, st.integers(1900, 9999), st.integers(1, 12)), max_size=2))
        ),
        sent=draw(maybe(st.integers(0, 10_000))),
        promotions=tuple(draw(st.lists(promotions, max_size=2, unique=True))),
        note=draw(texts),
    )


@st.composite
def rules_of(draw: Draw[Any], code: str, items: Sequence[str], tiers: Sequence[str]) -> BoxRule:
    """Return a rule of what goes into boxes; a month of fewer than two things has none to swap."""
    when = draw(st.sampled_from(Occasion))
    special = when in (Occasion.COUNTRY, Occasion.REPLACEMENT)
    item, *others = draw(st.permutations(items))
    can = [Does.LEAVE_OUT, *([] if special else [Does.ADD]), *([Does.SUBSTITUTE] if others else [])]
    does = draw(st.sampled_from(can))
    first, last = sorted(draw(st.lists(st.dates(date(2000, 1, 1), date(2199, 1, 1)), min_size=2, max_size=2)))
    on = when is Occasion.PROMOTION
    is_numbered = when is Occasion.NTH or (when is Occasion.ANNIVERSARY and draw(st.booleans()))
    return BoxRule(
        code=code,
        when=when,
        does=does,
        item=item,
        count=draw(some),
        instead=others[0] if does is Does.SUBSTITUTE else "",
        tiers=tuple(draw(some_of(tiers))),
        countries=tuple(draw(some_of(["GB", "FR", "NO"], when is Occasion.COUNTRY))),
        priority=draw(make_ready),
        slot="" if special else draw(st.sampled_from(["", code])),
        number=draw(some) if is_numbered else None,
        first=draw(maybe(st.just(first))) if on else None,
        last=draw(maybe(st.just(last))) if on else None,
        promotion=draw(st.sampled_from(["", "MAY"])) if on else "",
    )


@st.composite
def services_of(draw: Draw[Any], code: str, carrier: str) -> Service:
    """Return a service that collects on one working day at least."""
    return Service(
        code=code,
        carrier=carrier,
        name=draw(names),
        collects=(Weekday.WED, *draw(st.lists(st.sampled_from(Weekday), max_size=2))),
        max_weight=draw(maybe(weight_limits)),
        divisor=draw(maybe(st.decimals(Decimal("0.5"), 9_000, places=1))),
        volume=draw(st.sampled_from(Volume)),
        round_sides=draw(st.sampled_from(Rounding)),
        volume_above=draw(st.decimals(0, 9_000, places=2)),
        round_weight=draw(st.sampled_from(Rounding)),
        sides_to=draw(st.sampled_from([Decimal(1), Decimal("0.25")])),
        weight_to=draw(st.sampled_from([Decimal(1), Decimal("0.5")])),
        charged_to=draw(maybe(weight_limits)),
        max_longest=draw(maybe(lengths)),
        max_thickness=draw(maybe(lengths)),
        max_girth=draw(maybe(lengths)),
        min_second=draw(maybe(lengths)),
    )


@st.composite
def guillotines(draw: Draw[Any]) -> Guillotine:
    """Return a guillotine that takes any sheet here."""
    return Guillotine(
        code=draw(codes),
        name=draw(names),
        opening=draw(lengths) + 4 * METRE,
        lift_height=draw(lengths),
        smallest_strip=draw(st.one_of(st.just(0), lengths)),
        minutes_per_lift=draw(minutes),
        minutes_per_cut=draw(minutes),
        minutes_per_turn=draw(minutes),
        cost_per_hour=draw(prices),
    )
