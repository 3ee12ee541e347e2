"""What can be bought: materials, suppliers, their offers and price breaks, and what is on the shelf."""

from kits.catalogue.materials import Grain, Leftover, Material, MaterialKind, Overs, Print
from kits.catalogue.offers import Breaks, Offer, OpenOrder, PriceBreak, StockLine, Supplier, Terms

__all__ = [
    "Breaks",
    "Grain",
    "Leftover",
    "Material",
    "MaterialKind",
    "Offer",
    "OpenOrder",
    "Overs",
    "PriceBreak",
    "Print",
    "StockLine",
    "Supplier",
    "Terms",
]
