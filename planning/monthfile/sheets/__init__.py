"""The month file, sheet by sheet and column by column: what it says is declared here and nowhere else."""

from planning.monthfile.sheets.ahead import BUY_FOR, FORECASTS, OUTLOOKS, QUANTILES, SPOILAGES, SUBSTITUTES
from planning.monthfile.sheets.buying import MATERIALS, OFFERS, OPEN_ORDERS, PRICE_BREAKS, STOCK, SUPPLIERS
from planning.monthfile.sheets.club import CLUB
from planning.monthfile.sheets.customs import CUSTOMS
from planning.monthfile.sheets.kit import (
    KIT_LINES,
    KIT_PAPERS,
    ORDERS,
    PIECES,
    PRE_CUTS,
    RECIPES,
    ROLES,
    RULES,
    SUBSCRIBERS,
    TIERS,
)
from planning.monthfile.sheets.money import MONEY_SHEETS
from planning.monthfile.sheets.past import ANNOUNCED, BY_HAND, PAST, PROMOTED, STAYED, UNCERTAIN
from planning.monthfile.sheets.sending import (
    CREW_DAYS,
    DAYS_OFF,
    DELIVERY_WEEKS,
    GUILLOTINES,
    RATES,
    SERVICES,
    SURCHARGES,
    TRANSITS,
    WEEK,
    ZONES,
)
from planning.monthfile.sheets.sheet import Column, Sheet

__all__ = ["BY_TABLE", "CLUB", "COUNTRIES_TITLE", "README_TITLE", "SHEETS", "TABLES", "Column", "Sheet"]

TABLES = (
    MATERIALS,
    SUPPLIERS,
    OFFERS,
    PRICE_BREAKS,
    STOCK,
    OPEN_ORDERS,
    RECIPES,
    ROLES,
    PIECES,
    KIT_PAPERS,
    PRE_CUTS,
    KIT_LINES,
    TIERS,
    RULES,
    SUBSCRIBERS,
    ORDERS,
    WEEK,
    DAYS_OFF,
    CREW_DAYS,
    SERVICES,
    ZONES,
    TRANSITS,
    RATES,
    SURCHARGES,
    DELIVERY_WEEKS,
    GUILLOTINES,
    FORECASTS,
    SPOILAGES,
    OUTLOOKS,
    QUANTILES,
    BUY_FOR,
    SUBSTITUTES,
    CUSTOMS,
    *MONEY_SHEETS,
    PAST,
    STAYED,
    PROMOTED,
    ANNOUNCED,
    BY_HAND,
    UNCERTAIN,
)
SHEETS = (CLUB, *TABLES)
BY_TABLE = {sheet.table: sheet for sheet in SHEETS}
README_TITLE = "Read me"
COUNTRIES_TITLE = "Countries"
