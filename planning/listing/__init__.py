"""The boxes of a month as rows: counted, listed and read where they lie, whole sets at a time, on PostgreSQL and SQLite.

Who is in which class follows from the roster step's own rule, which is asked once for each kind of subscriber (`count.py`);
the database then does the rest for everybody alike (`store.py`), chunk by chunk. `check.py` counts what it did in another
way.
"""

from planning.listing.check import listing_faults
from planning.listing.count import CountedRoster, count_roster
from planning.listing.read import RosterRead, boxes_of_waves
from planning.listing.store import list_chunk, start_listing

__all__ = [
    "CountedRoster",
    "RosterRead",
    "boxes_of_waves",
    "count_roster",
    "list_chunk",
    "listing_faults",
    "start_listing",
]
