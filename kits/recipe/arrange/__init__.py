"""Trims for the pieces a recipe needs: `arrange(problem) -> Arrangement`, in `arrange.py`."""

from kits.recipe.arrange.arrange import arrange
from kits.recipe.arrange.problem import (
    ArrangeError,
    Arrangement,
    ArrangeProblem,
    DoesNotFitError,
    OffRulerError,
    PieceToCut,
)

__all__ = [
    "ArrangeError",
    "ArrangeProblem",
    "Arrangement",
    "DoesNotFitError",
    "OffRulerError",
    "PieceToCut",
    "arrange",
]
