"""Orders to suppliers: draft, sent, part received, closed. What may be done is in `state.py`, the checker in `check.py`."""

from planning.orders.amend import Difference, amendment_faults, differences
from planning.orders.chase import Chase, Expected, Placed, expected_receipts, to_chase
from planning.orders.check import money_faults, order_faults
from planning.orders.draft import draft, keyed_like, with_quantity, with_taxes
from planning.orders.landed import charges_left, landed, value_of
from planning.orders.model import NOTHING, LineKind, Order, OrderLine, Received, State
from planning.orders.state import Act, OrderStateError, allow, due, state_of
from planning.orders.tax import TaxLine, cost, gross, line_taxes, tax_table, total_tax
from planning.orders.wish import as_planned

__all__ = [
    "NOTHING",
    "Act",
    "Chase",
    "Difference",
    "Expected",
    "LineKind",
    "Order",
    "OrderLine",
    "OrderStateError",
    "Placed",
    "Received",
    "State",
    "TaxLine",
    "allow",
    "amendment_faults",
    "as_planned",
    "charges_left",
    "cost",
    "differences",
    "draft",
    "due",
    "expected_receipts",
    "gross",
    "keyed_like",
    "landed",
    "line_taxes",
    "money_faults",
    "order_faults",
    "state_of",
    "tax_table",
    "to_chase",
    "total_tax",
    "value_of",
    "with_quantity",
    "with_taxes",
]
