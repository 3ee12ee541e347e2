"""Orders in the database: read by `rows.py`, held to the plan by `follow.py`; what people do with them is in `acts.py`."""

from planning.ordering.acts import (
    OrderError,
    StaleOrderError,
    amend,
    close,
    drop,
    edit,
    receive_order,
    send,
    sending_faults,
    set_expected,
    take_back,
)
from planning.ordering.follow import Wish, follow_plan, make_drafts, stock_tables, taken_at, wishes
from planning.ordering.rows import Kept, all_orders, kept, order_of

__all__ = [
    "Kept",
    "OrderError",
    "StaleOrderError",
    "Wish",
    "all_orders",
    "amend",
    "close",
    "drop",
    "edit",
    "follow_plan",
    "kept",
    "make_drafts",
    "order_of",
    "receive_order",
    "send",
    "sending_faults",
    "set_expected",
    "stock_tables",
    "take_back",
    "taken_at",
    "wishes",
]
