"""Trims for the pieces a recipe needs: `arrange(problem) -> Arrangement` for one paper, `arrange_design` for all."""

from kits.recipe.arrange.arrange import arrange
from kits.recipe.arrange.design import ArrangedDesign, arrange_design, lifts_of, problem_of
from kits.recipe.arrange.handy import StillYields, still_yields
from kits.recipe.arrange.problem import (
    ArrangeError,
    Arrangement,
    ArrangeProblem,
    CutTooLongError,
    DoesNotFitError,
    OffRulerError,
    PieceToCut,
)

__all__ = [
    "ArrangeError",
    "ArrangeProblem",
    "ArrangedDesign",
    "Arrangement",
    "CutTooLongError",
    "DoesNotFitError",
    "OffRulerError",
    "PieceToCut",
    "StillYields",
    "arrange",
    "arrange_design",
    "lifts_of",
    "problem_of",
    "still_yields",
]
