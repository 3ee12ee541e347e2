"""Which model keeps which table of the month's book."""

from kits.models import (
    KitLine,
    KitPaper,
    Material,
    Offer,
    OpenOrder,
    PaperRole,
    PreCut,
    PriceBreak,
    Recipe,
    RecipePiece,
    StockLine,
    Supplier,
    Tier,
)
from kits.models.rows import Row
from planning.models.ahead import BuyFor, CountQuantile, Forecast, Outlook, Spoilage, SubstituteRow
from planning.models.bench import CrewDay, DayOff, Guillotine, WeekdayCrew
from planning.models.carriers import DeliveryWeek, Rate, Service, SurchargeRow, Transit, Zone
from planning.models.customs import CustomsFact
from planning.models.money import Actual, BudgetLine, Charge, PricePoint, Promotion, TierAim, VariantLine
from planning.models.past import Announcement, CountByHand, PastTier, PromotedMonth, Stayed, Uncertain
from planning.models.roster import BoxRule, OneOffOrder, Subscriber

TABLES: dict[str, type[Row]] = {
    "materials": Material,
    "suppliers": Supplier,
    "offers": Offer,
    "price_breaks": PriceBreak,
    "stock": StockLine,
    "open_orders": OpenOrder,
    "recipes": Recipe,
    "roles": PaperRole,
    "pieces": RecipePiece,
    "kit_papers": KitPaper,
    "pre_cuts": PreCut,
    "kit_lines": KitLine,
    "tiers": Tier,
    "rules": BoxRule,
    "subscribers": Subscriber,
    "orders": OneOffOrder,
    "week": WeekdayCrew,
    "days_off": DayOff,
    "crew_days": CrewDay,
    "services": Service,
    "zones": Zone,
    "transits": Transit,
    "rates": Rate,
    "surcharges": SurchargeRow,
    "delivery_weeks": DeliveryWeek,
    "guillotines": Guillotine,
    "forecasts": Forecast,
    "spoilages": Spoilage,
    "outlooks": Outlook,
    "quantiles": CountQuantile,
    "choices": BuyFor,
    "substitutes": SubstituteRow,
    "customs": CustomsFact,
    "charges": Charge,
    "aims": TierAim,
    "budget": BudgetLine,
    "price_points": PricePoint,
    "promotions": Promotion,
    "actuals": Actual,
    "variants": VariantLine,
    "past": PastTier,
    "stayed": Stayed,
    "promoted": PromotedMonth,
    "announced": Announcement,
    "by_hand": CountByHand,
    "uncertain": Uncertain,
}
"""Field of `planning.month.Month` -> the model of its rows."""
