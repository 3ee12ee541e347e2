"""The balance step's question: the answers that must agree."""

from planning.balance import BalanceProblem
from planning.buying import BuyingResult
from planning.cutting import CuttingResult
from planning.month import Month
from planning.packing import PackingResult
from planning.problems.requirements import pieces_on_shelf
from planning.requirements import RequirementsResult


def balance_problem(
    month: Month,
    needs: RequirementsResult,
    cutting: CuttingResult,
    buying: BuyingResult,
    packing: PackingResult,
) -> BalanceProblem:
    """Ask whether every sheet and piece is accounted for."""
    return BalanceProblem(
        requirements=needs,
        cutting=cutting,
        buying=buying,
        packing=packing,
        on_shelf=tuple((line.item, line.count) for line in pieces_on_shelf(month)),
    )
