"""The month's roster, crew, carriers and machines in rows, and the jobs and plans made of them."""

from planning.models.ahead import BuyFor, CountQuantile, Forecast, Outlook, Spoilage, SubstituteRow
from planning.models.bench import CrewDay, DayOff, Guillotine, WeekdayCrew
from planning.models.carriers import Rate, Service, Transit, Zone
from planning.models.intake import Intake, IntakeRow, Step
from planning.models.job import LIVE, Job, State
from planning.models.orders import OrderLine, OrderVersion, PurchaseOrder
from planning.models.plan import Artefact, Plan
from planning.models.roster import OneOffOrder, Subscriber
from planning.models.stock import MonthStock, StockBook, StockEntry, StockMove

__all__ = [
    "LIVE",
    "Artefact",
    "BuyFor",
    "CountQuantile",
    "CrewDay",
    "DayOff",
    "Forecast",
    "Guillotine",
    "Intake",
    "IntakeRow",
    "Job",
    "MonthStock",
    "OneOffOrder",
    "OrderLine",
    "OrderVersion",
    "Outlook",
    "Plan",
    "PurchaseOrder",
    "Rate",
    "Service",
    "Spoilage",
    "State",
    "Step",
    "StockBook",
    "StockEntry",
    "StockMove",
    "Subscriber",
    "SubstituteRow",
    "Transit",
    "WeekdayCrew",
    "Zone",
]
