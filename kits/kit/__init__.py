"""The kit: the recipes, pre-cuts, extras and packaging that make one box, and what each tier gets of them."""

from kits.kit.kit import Direction, ItemKind, KitLine, KitPaper, PreCut, Tier, When

__all__ = ["Direction", "ItemKind", "KitLine", "KitPaper", "PreCut", "Tier", "When"]
