"""What a kit is, in rows: catalogue, recipes and kit, each row belonging to one month."""

from kits.models.catalogue import Material, Offer, OpenOrder, PriceBreak, StockLine, Supplier
from kits.models.kit import KitLine, KitPaper, PreCut, Tier
from kits.models.month import Month
from kits.models.recipe import PaperRole, Recipe, RecipePiece

__all__ = [
    "KitLine",
    "KitPaper",
    "Material",
    "Month",
    "Offer",
    "OpenOrder",
    "PaperRole",
    "PreCut",
    "PriceBreak",
    "Recipe",
    "RecipePiece",
    "StockLine",
    "Supplier",
    "Tier",
]
