"""The month's roster, crew, carriers and machines in rows, and the jobs and plans made of them."""

from planning.models.ahead import BuyFor, CountQuantile, Forecast, Outlook, Spoilage, SubstituteRow
from planning.models.api import ApiAnswer, ApiClient
from planning.models.bench import CrewDay, DayOff, Guillotine, WeekdayCrew
from planning.models.carriers import DeliveryWeek, Rate, Service, SurchargeRow, Transit, Zone
from planning.models.customs import CustomsFact
from planning.models.edits import Edit, EditState
from planning.models.intake import Intake, IntakeRow, Step
from planning.models.job import Job, JobPart
from planning.models.money import Actual, BudgetLine, Charge, PricePoint, Promotion, TierAim, VariantLine
from planning.models.orders import OrderLine, OrderVersion, PurchaseOrder
from planning.models.packed import (
    AddressChange,
    Bench,
    BoxAct,
    BoxWork,
    Packer,
    Release,
    TrackingList,
    TrackingNumber,
)
from planning.models.past import Announcement, CountByHand, PastTier, PromotedMonth, Stayed, Uncertain
from planning.models.person import Change, Person
from planning.models.plan import Artefact, Box, BoxClass, Listing, ListingLine, Plan
from planning.models.roster import BoxRule, OneOffOrder, Subscriber
from planning.models.stock import MonthStock, StockBook, StockEntry, StockMove
from planning.states import LIVE, PartState, State

__all__ = [
    "LIVE",
    "Actual",
    "AddressChange",
    "Announcement",
    "ApiAnswer",
    "ApiClient",
    "Artefact",
    "Bench",
    "Box",
    "BoxAct",
    "BoxClass",
    "BoxRule",
    "BoxWork",
    "BudgetLine",
    "BuyFor",
    "Change",
    "Charge",
    "CountByHand",
    "CountQuantile",
    "CrewDay",
    "CustomsFact",
    "DayOff",
    "DeliveryWeek",
    "Edit",
    "EditState",
    "Forecast",
    "Guillotine",
    "Intake",
    "IntakeRow",
    "Job",
    "JobPart",
    "Listing",
    "ListingLine",
    "MonthStock",
    "OneOffOrder",
    "OrderLine",
    "OrderVersion",
    "Outlook",
    "Packer",
    "PartState",
    "PastTier",
    "Person",
    "Plan",
    "PricePoint",
    "PromotedMonth",
    "Promotion",
    "PurchaseOrder",
    "Rate",
    "Release",
    "Service",
    "Spoilage",
    "State",
    "Stayed",
    "Step",
    "StockBook",
    "StockEntry",
    "StockMove",
    "Subscriber",
    "SubstituteRow",
    "SurchargeRow",
    "TierAim",
    "TrackingList",
    "TrackingNumber",
    "Transit",
    "Uncertain",
    "VariantLine",
    "WeekdayCrew",
    "Zone",
]
