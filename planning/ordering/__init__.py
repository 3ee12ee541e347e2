"""Orders in the database: read by `rows.py`, held to the plan by `follow.py`; what people do with them is in `acts.py`."""

from planning.ordering.acts import (
    OrderError,
    StaleOrderError,
    amend,
    close,
    confirm,
    drop,
    edit,
    receive_order,
    send,
    sending_faults,
    take_back,
)
from planning.ordering.follow import Wish, follow_plan, make_drafts, stock_tables, taken_at, wishes
from planning.ordering.rows import Kept, all_orders, kept, last_entry, order_of
from planning.ordering.take import names_of_items, take, what_to_take

__all__ = [
    "Kept",
    "OrderError",
    "StaleOrderError",
    "Wish",
    "all_orders",
    "amend",
    "close",
    "confirm",
    "drop",
    "edit",
    "follow_plan",
    "kept",
    "last_entry",
    "make_drafts",
    "names_of_items",
    "order_of",
    "receive_order",
    "send",
    "sending_faults",
    "stock_tables",
    "take",
    "take_back",
    "taken_at",
    "what_to_take",
    "wishes",
]
