"""From the month's rows to each step's question. Looking up, never deciding: the decisions are the steps'."""

from planning.problems.allocation import allocation_problem
from planning.problems.balance import balance_problem
from planning.problems.buying import buying_problem
from planning.problems.chances import chances_problem
from planning.problems.contents import contents_problem, occasions_of
from planning.problems.cost import cost_problem
from planning.problems.customs import customs_facts
from planning.problems.cutting import cutting_problem
from planning.problems.destinations import Destinations
from planning.problems.forecast import forecast_problem
from planning.problems.larger import larger_sheets, size_jobs
from planning.problems.lots import lots_problem
from planning.problems.overs import overs_problem
from planning.problems.packing import packing_problem
from planning.problems.postage import postage_problem
from planning.problems.requirements import requirements_problem
from planning.problems.roster import profile_of, profiles, roster_problem
from planning.problems.shipping import shipping_problem
from planning.problems.working_days import promised_day, regions_of

__all__ = [
    "Destinations",
    "allocation_problem",
    "balance_problem",
    "buying_problem",
    "chances_problem",
    "contents_problem",
    "cost_problem",
    "customs_facts",
    "cutting_problem",
    "forecast_problem",
    "larger_sheets",
    "lots_problem",
    "occasions_of",
    "overs_problem",
    "packing_problem",
    "postage_problem",
    "profile_of",
    "profiles",
    "promised_day",
    "regions_of",
    "requirements_problem",
    "roster_problem",
    "shipping_problem",
    "size_jobs",
]
