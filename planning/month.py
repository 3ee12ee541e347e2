"""A month as one book of plain rows: everything the flow needs, and nothing else."""

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from kits.catalogue import Material, Offer, OpenOrder, PriceBreak, StockLine, Supplier
from kits.kit import KitLine, KitPaper, PreCut, Tier
from kits.measures import MM
from kits.recipe import PaperRole, Recipe, RecipePiece
from planning.allocation.model import Rule
from planning.allocation.rows import SubstituteRow
from planning.calendar import IsoWeek, YearMonth
from planning.chances.rows import Uncertain
from planning.contents.rows import Rule as BoxRule
from planning.cost.rows import Actual, BudgetLine, Charge, PricePoint, Promotion, TierAim, VariantLine
from planning.customs.rows import CustomsFact
from planning.cutting.machine import Guillotine
from planning.forecast.rows import Announcement, CountByHand, PastTier, PromotedMonth, Stayed
from planning.lots.rows import Forecast
from planning.overs.rows import BuyFor, CountQuantile, Outlook, Spoilage
from planning.roster.rows import OneOffOrder, Subscriber
from planning.shipping.rows import (
    CrewDay,
    DayOff,
    DeliveryWeek,
    Rate,
    Service,
    SurchargeRow,
    Transit,
    WeekdayCrew,
    Zone,
)


class WaveFills(StrEnum):
    """What boxes are laid out on at the bench, and so how many make a wave."""

    CART = "cart"
    SHELF = "shelf"


class SlipFormat(StrEnum):
    """How packing slips are printed: one on a small page, or several on a sheet that is cut apart along lines."""

    A6 = "A6"
    HALF_LETTER = "half letter"
    A4_TWO = "A4 two-up"
    A4_FOUR = "A4 four-up"
    LETTER_TWO = "Letter two-up"
    LETTER_FOUR = "Letter four-up"


@dataclass(frozen=True, slots=True, kw_only=True)
class Club:
    """The club's settings for the month.

    address: where suppliers deliver, in lines.
    promised: every box arrives by the last carrier working day of this week.
    planned_on: the day the plan is made, from which orders are late or in time.
    packing_starts: first day the crew may pack. goods_in_days: working days from receipt of a material to its first use.
    cutting_days: working days before packing that cutting takes.
    minutes_per_box, minutes_per_line, minutes_per_parcel: packing time of a box, of each line in it, of each parcel more
    than one.
    cart_boxes, shelf_boxes: how many boxes one takes; a wave fills the one that wave_fills names.
    overtime_cost_per_hour: of an hour of the crew's overtime, all in all.
    arrive_together: boxes are in time only if all arrive on one day.
    flat_clearance: how much larger than its flattest item a carton must be inside, in each direction.
    weight_tolerance: percent by which paper may weigh more than nominal (mills allow about five).
    just_over: percent beyond a carrier's limit that is told, with what would bring a parcel under it.
    order_cost: of placing an order of goods bought for the year. holding_percent: what money tied up in stock costs a year.
    leftover_percent: worth of a unit left over, of the lowest price it is offered at; leftover_months: how long it lies.
    short_goods: by which rule boxes get what there is too little of; the Tiers sheet has the tiers' order.
    pallet_length, pallet_width: its deck. pallet_height: of what stands on it, at most; pallet_weight: grams of that.
    """

    name: str
    code: str
    month: YearMonth
    kit_name: str
    currency: str
    country: str
    ruler: str = "1/8 in"
    planned_on: date
    promised: IsoWeek
    packing_starts: date
    goods_in_days: int = 1
    cutting_days: int = 2
    crew_cost_per_hour: Decimal = Decimal(0)
    minutes_per_box: Decimal = Decimal(1)
    minutes_per_line: Decimal = Decimal(0)
    minutes_per_parcel: Decimal = Decimal(0)
    cart_boxes: int = 40
    shelf_boxes: int = 8
    wave_fills: WaveFills = WaveFills.CART
    overtime_cost_per_hour: Decimal = Decimal(0)
    arrive_together: bool = False
    piece_overs_percent: Decimal = Decimal(0)
    piece_overs_fixed: int = 0
    flat_clearance: int = 6 * MM
    weight_tolerance: Decimal = Decimal(5)
    just_over: Decimal = Decimal(10)
    order_cost: Decimal = Decimal(0)
    holding_percent: Decimal = Decimal(0)
    leftover_percent: Decimal = Decimal(0)
    leftover_months: Decimal = Decimal(1)
    short_goods: Rule = Rule.TIER
    pallet_length: int = 1_200 * MM
    pallet_width: int = 800 * MM
    pallet_height: int = 1_200 * MM
    pallet_weight: Fraction = Fraction(400_000)
    paper: str = "A4"
    slips: SlipFormat = SlipFormat.A6
    address: str = ""
    note: str = ""

    @property
    def wave_setting(self) -> str:
        """The field that says how many boxes a wave has at most."""
        return "cart_boxes" if self.wave_fills is WaveFills.CART else "shelf_boxes"

    @property
    def wave_size(self) -> int:
        """The boxes a wave has at most."""
        return int(getattr(self, self.wave_setting))


@dataclass(frozen=True, slots=True, kw_only=True)
class Month:
    """The month's book. Rows refer to each other by code; `planning.faults` says where they do not fit."""

    club: Club
    materials: tuple[Material, ...] = ()
    suppliers: tuple[Supplier, ...] = ()
    offers: tuple[Offer, ...] = ()
    price_breaks: tuple[PriceBreak, ...] = ()
    stock: tuple[StockLine, ...] = ()
    open_orders: tuple[OpenOrder, ...] = ()
    recipes: tuple[Recipe, ...] = ()
    roles: tuple[PaperRole, ...] = ()
    pieces: tuple[RecipePiece, ...] = ()
    kit_papers: tuple[KitPaper, ...] = ()
    pre_cuts: tuple[PreCut, ...] = ()
    kit_lines: tuple[KitLine, ...] = ()
    tiers: tuple[Tier, ...] = ()
    rules: tuple[BoxRule, ...] = ()
    subscribers: tuple[Subscriber, ...] = field(default=(), repr=False)
    orders: tuple[OneOffOrder, ...] = ()
    week: tuple[WeekdayCrew, ...] = ()
    days_off: tuple[DayOff, ...] = ()
    crew_days: tuple[CrewDay, ...] = ()
    services: tuple[Service, ...] = ()
    zones: tuple[Zone, ...] = ()
    transits: tuple[Transit, ...] = ()
    rates: tuple[Rate, ...] = ()
    surcharges: tuple[SurchargeRow, ...] = ()
    delivery_weeks: tuple[DeliveryWeek, ...] = ()
    guillotines: tuple[Guillotine, ...] = ()
    forecasts: tuple[Forecast, ...] = ()
    spoilages: tuple[Spoilage, ...] = ()
    outlooks: tuple[Outlook, ...] = ()
    quantiles: tuple[CountQuantile, ...] = ()
    choices: tuple[BuyFor, ...] = ()
    substitutes: tuple[SubstituteRow, ...] = ()
    customs: tuple[CustomsFact, ...] = ()
    charges: tuple[Charge, ...] = ()
    aims: tuple[TierAim, ...] = ()
    budget: tuple[BudgetLine, ...] = ()
    price_points: tuple[PricePoint, ...] = ()
    promotions: tuple[Promotion, ...] = ()
    actuals: tuple[Actual, ...] = ()
    variants: tuple[VariantLine, ...] = ()
    past: tuple[PastTier, ...] = field(default=(), repr=False)
    stayed: tuple[Stayed, ...] = field(default=(), repr=False)
    promoted: tuple[PromotedMonth, ...] = ()
    announced: tuple[Announcement, ...] = ()
    by_hand: tuple[CountByHand, ...] = ()
    uncertain: tuple[Uncertain, ...] = ()
